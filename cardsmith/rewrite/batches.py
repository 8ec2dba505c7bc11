"""The card in the other sizes a reader may choose, each worked out from the author's amounts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from cardsmith.finding import Severity, Where
from cardsmith.house import House
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Measured, Recipe
from cardsmith.rewrite.card import Card
from cardsmith.rewrite.printable import role_class
from cardsmith.rewrite.rewrite import NO_RISKS, rewrite
from cardsmith.rewrite.scale import LARGE_BATCH, scale


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """The card at ``factor`` times the author's amounts, and what a reader must judge anew at that size."""

    factor: Fraction
    card: Card
    notes: tuple[str, ...]


def batches(
    recipe: Recipe,
    larder: Larder,
    house: House,
    factors: tuple[Fraction, ...],
    cautions: tuple[str, ...] = (),
    risks: Mapping[Where, str] = NO_RISKS,
) -> tuple[Batch, ...]:
    """A batch for each of ``factors`` but one; a size whose amounts can't be printed soundly is left out."""
    made: list[Batch] = []
    for factor in factors:
        if factor == 1:
            continue
        card, found = rewrite(scale(recipe, factor).recipe, larder, house, cautions, risks)
        if all(one.severity is not Severity.ERROR for one in found):
            made.append(Batch(factor=factor, card=card, notes=tuple(_notes(recipe, factor))))
    return tuple(made)


def _notes(recipe: Recipe, factor: Fraction) -> Iterator[str]:
    """What does not follow the factor, in sentences for a cook."""
    yield (
        "Worked out from the amounts of one batch, not cooked at this size. Times, temperatures and pans in "
        "the steps are those of one batch: go by the cues, and see that the pans still fit."
    )
    for number, step in enumerate(recipe.steps, 1):
        loose = [
            span.text.strip()
            for span in step.spans
            if isinstance(span, Measured) and span.quantity.dimension in {Dimension.MASS, Dimension.VOLUME}
        ]
        if loose:
            yield f"Step {number} keeps its {_listed(loose)}."
    if factor >= LARGE_BATCH:
        raised = [line.item for line in recipe.ingredients if role_class(line.food) in {"leavener", "yeast"}]
        salted = any(role_class(line.food) == "salt" for line in recipe.ingredients)
        if raised:
            names = _listed(list(dict.fromkeys(raised)))
            yield f"{names[0].upper()}{names[1:]}: a large batch often needs less in proportion."
        if salted:
            yield "Salt: hold some back, and season to taste."


def _listed(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]
