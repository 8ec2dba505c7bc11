"""The card in the other sizes a reader may choose, each worked out from the author's amounts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from cardsmith.facts.foods.roles import role_class
from cardsmith.finding import Finding, Where
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.language.spans import Measured
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import WEIGHED
from cardsmith.recipe.mentions.mentions import visible
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.mentions.tied import tied
from cardsmith.recipe.model import Recipe, Step
from cardsmith.rewrite.batches.scale import LARGE_BATCH, kept_in_list, scale
from cardsmith.rewrite.batches.vessels import vessels_needed
from cardsmith.rewrite.card.model import Card
from cardsmith.rewrite.card.prose import rewrite_spans
from cardsmith.rewrite.card.rewrite import NO_RISKS, rewrite
from cardsmith.rewrite.card.summary import both_systems
from cardsmith.words import Said, in_a_row, joined

UNLIKE = "its amounts do not come out clearly at that size"  # read again, they say something else
FACTORS = (Fraction(1, 2), Fraction(1), Fraction(3, 2), Fraction(2), Fraction(3))  # what readers ask for


@frozen
class Batch:
    """The card at ``factor`` times the author's amounts, and what a reader must judge anew at that size."""

    factor: Fraction
    card: Card
    notes: tuple[Said, ...]


@frozen
class RefusedSize:
    """A size that is not offered, and why not, in a clause for a cook."""

    factor: Fraction
    why: str


@frozen
class Batches:
    """The other sizes of one recipe."""

    offered: tuple[Batch, ...] = ()
    refused: tuple[RefusedSize, ...] = ()


def batches(
    recipe: Recipe,
    larder: Larder,
    house: House,
    factors: tuple[Fraction, ...] = FACTORS,
    cautions: tuple[str, ...] = (),
    risks: Mapping[Where, str] = NO_RISKS,
) -> Batches:
    """A batch for each of ``factors`` but one. A size at which anything is found amiss is refused."""
    mentions = read_mentions(recipe, larder)
    recipe = tied(recipe, mentions)
    kept = tuple(_kept(recipe, house))
    made: list[Batch] = []
    refused: list[RefusedSize] = []
    for factor in factors:
        if factor == 1:
            continue
        scaled = scale(recipe, factor).recipe
        known = mentions if _words(scaled) == _words(recipe) else None
        card, findings = rewrite(scaled, larder, house, cautions, risks, known)
        if findings:
            refused.append(RefusedSize(factor=factor, why=_why(findings, scaled)))
        else:
            made.append(Batch(factor=factor, card=card, notes=tuple(_notes(recipe, factor, kept, house))))
    return Batches(offered=tuple(made), refused=tuple(refused))


def _words(recipe: Recipe) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What of a recipe decides which step speaks of which line, and may change with its size."""
    return tuple(line.prep for line in recipe.ingredients), tuple(
        visible(step.spans) for step in recipe.steps
    )


def _why(findings: tuple[Finding, ...], recipe: Recipe) -> str:
    """What was found amiss, each ingredient once."""
    items = {line.where: line.item for line in recipe.ingredients}
    clauses = {
        "ratio-drift": "the {item} can't be measured near enough at that size",
        "draws-do-not-add-up": "the {item} can't be divided between the steps in amounts that measure out",
        "no-us-measure": "no US spoon measures so little {item}",
    }
    whys = (
        Said(clauses.get(finding.name, UNLIKE), item=items.get(finding.where, "")) for finding in findings
    )
    return joined("; ", *dict.fromkeys(whys))


def _kept(recipe: Recipe, house: House) -> Iterator[tuple[str, str]]:
    """The remarks of the list that stay, as the list prints them."""
    for item, words in kept_in_list(recipe):
        yield item, both_systems(words, recipe.where, recipe, house)


def _loose(step: Step, house: House) -> Iterator[str]:
    """The weights and volumes of a step that no link ties to the list, in both systems."""
    for span, printed in zip(step.spans, rewrite_spans(step.spans, {}, house), strict=True):
        if isinstance(span, Measured) and span.quantity.dimension in WEIGHED:
            yield f"{printed.text} {span.noun}".strip() if span.adjective else printed.text.strip()


def _notes(
    recipe: Recipe, factor: Fraction, kept: tuple[tuple[str, str], ...], house: House
) -> Iterator[Said]:
    """What does not follow the factor, in sentences for a cook."""
    needed = list(vessels_needed(recipe, factor, house))
    if needed:
        yield Said(
            "Worked out from the amounts of one batch, not cooked at this size. All times, and the "
            "temperatures and pans in the steps, are those of one batch: go by the cues."
        )
        yield Said("Have {vessels}.", vessels=in_a_row(*needed))
    else:
        yield Said(
            "Worked out from the amounts of one batch, not cooked at this size. All times, and the "
            "temperatures and pans in the steps, are those of one batch: go by the cues, and see that the "
            "pans still fit."
        )
    for item, words in kept:
        yield Said("In the list, “{words}” beside the {item} is for one batch.", words=words, item=item)
    for number, step in enumerate(recipe.steps, 1):
        if loose := list(_loose(step, house)):
            yield Said("Step {number} keeps its {amounts}.", number=number, amounts=in_a_row(*loose))
    if factor >= LARGE_BATCH:
        raised = [line.item for line in recipe.ingredients if role_class(line.food) in {"leavener", "yeast"}]
        salted = any(role_class(line.food) == "salt" for line in recipe.ingredients)
        if raised:
            first, *others = dict.fromkeys(raised)
            names = in_a_row(f"{first[0].upper()}{first[1:]}", *others)
            yield Said("{names}: a large batch often needs less in proportion.", names=names)
        if salted:
            yield Said("Salt: hold some back, and season to taste.")
