"""Lists against steps: what is listed and never used, used and never listed, and draws that do not add up."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from cardsmith.check.amounts.taken_by_steps import is_single, taken
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.facts.foods.foods import identities
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.spans import Draw
from cardsmith.measure.larder import Food, words
from cardsmith.measure.patterns import is_of
from cardsmith.measure.units import units
from cardsmith.recipe.mentions.extras import drawn_extras
from cardsmith.recipe.mentions.groups import is_heading
from cardsmith.recipe.mentions.mentions import How
from cardsmith.recipe.mentions.naming import taker
from cardsmith.recipe.model import Ingredient
from cardsmith.recipe.weighed import weigh
from cardsmith.regex import regex

SPLIT = regex(r"\b(half|remaining|rest|a third|a quarter|most|some)(?: of)?(?: the)? $", re.IGNORECASE)
MORE = regex(r"\b(?:rest|remain\w+|reserved|more|extra|half|some|other|little)\b", re.IGNORECASE)
# What is gone once it is mixed in: a later part that speaks of the cream may mean what became of it.
MIXED_IN = ("flour", "starch", "sugar", "salt", "butter", "oil", "soda", "baking-powder", "spice")
FREE = ("water", "ice")
NEAR = Fraction(1, 100)  # what rounding of two spoons may leave over


@check(
    "listed-not-used",
    Severity.ERROR,
    why="A cook who has bought and weighed it finds it still on the bench; the most common erratum in print.",
    source=PRACTICE,
    remedy="say in a step where it goes, or take it out of the list",
)
def listed_not_used(subject: Subject) -> Iterator[Query]:
    """An ingredient no step speaks of; a warning where it is water, optional or to serve."""
    if not subject.recipe.steps:
        return
    for place, line in enumerate(subject.recipe.ingredients):
        unused = line.item and not subject.mentions.steps_of(place) and not line.for_use
        if unused and not is_heading(line) and not _is_taken_in(subject, place):
            water = line.food is not None and line.food.key in ("water", "ice")
            mild = line.optional or line.to_taste or line.food is None or water
            yield query(line, f"no step uses the {line.item}", severity=Severity.WARNING if mild else None)


def _is_taken_in(subject: Subject, place: int) -> bool:
    """Whether a line that is used takes it in: "1 egg, beaten with 1 tbsp milk"."""
    other = taker(subject.recipe.ingredients, place)
    return other is not None and bool(subject.mentions.steps_of(other))


@check(
    "line-twice",
    Severity.WARNING,
    why="A line that is printed twice is weighed twice; usually it is left over from pasting.",
    source="common practice of proofreading, no source",
    remedy="take one out, or say what each is for",
)
def line_twice(subject: Subject) -> Iterator[Query]:
    """Two lines of one part with the very same words, of a food that no more than one step uses."""
    place = 0
    for part in subject.recipe.parts:
        seen: set[tuple[str, ...]] = set()
        for line in part.ingredients:
            line_words, steps = words(line.text), subject.mentions.steps_of(place)
            place += 1
            if is_heading(line):
                seen.clear()  # what follows belongs to another mixture
            if line.amount is not None and line_words in seen and len(steps) < 2:
                yield query(line, f"“{line.text.strip()}” stands twice in one list")
            seen.add(line_words)


@check(
    "used-not-listed",
    Severity.ERROR,
    why="The cook finds out at the stove that something was never on the shopping list.",
    source=PRACTICE,
    remedy="add it to the list with its amount, or name the thing in the list",
)
def used_not_listed(subject: Subject) -> Iterator[Query]:
    """A step names a food no list holds; an error for “the butter”, a warning for “season with salt”."""
    seen: set[str] = set()
    for stranger in subject.mentions.strangers:
        counted = stranger.text.lower().removesuffix("s") in units()  # the rashers, of what is made here
        if (
            stranger.food.key in FREE
            or stranger.food.key in seen
            or counted
            or _is_part(subject, stranger.text)
        ):
            continue
        if _is_of_class(subject, stranger.food):
            continue
        seen.add(stranger.food.key)
        yield query(
            subject.steps[stranger.step].spot(stranger.text),
            f"the step uses “{stranger.text}”, and no list has it",
            severity=None if stranger.certain else Severity.WARNING,
        )
    yield from _of_another_part(subject)


def _is_of_class(subject: Subject, named: Food) -> bool:
    """Whether "the beef" may be a roast that the larder knows by its class alone."""
    sorts = tuple(f"role:{role}" for role in FLESH if named.share(role))
    known = identities(subject.recipe, subject.larder)
    return bool(sorts) and any(
        line.food is None and is_of(identity.food, sorts)
        for line, identity in zip(subject.recipe.ingredients, known, strict=True)
    )


FLESH = ("meat", "poultry", "fish", "shellfish")


def _is_part(subject: Subject, name: str) -> bool:
    """Whether a part makes what a step names: the coffee cream of that name, the curd of a lemon curd."""
    name_words, named = words(name), [words(part.name) for part in subject.recipe.parts]
    whole = len(name_words) > 1 and any(set(name_words) <= set(part_words) for part_words in named)
    return whole or any(len(part_words) > 1 and part_words[-1:] == name_words[-1:] for part_words in named)


def _of_another_part(subject: Subject) -> Iterator[Query]:
    """A step uses what only another part lists, and that part's own steps use up."""
    recipe = subject.recipe
    line_part = [number for number, part in enumerate(recipe.parts) for _ in part.ingredients]
    step_part = [number for number, part in enumerate(recipe.parts) for _ in part.steps]
    named = [mention for mention in subject.mentions.found if mention.how is How.NAME]
    at_home = {mention.line for mention in named if step_part[mention.step] == line_part[mention.line]}
    reported: set[tuple[int, str]] = set()
    for mention in named:
        line, part = recipe.ingredients[mention.line], recipe.parts[step_part[mention.step]]
        text = subject.steps[mention.step].text
        name = text[mention.start : mention.end]
        kept = line.key or line.divided or line.for_use or line.food is None or line.food.key in FREE
        if not (mention.added and mention.line in at_home and part.ingredients) or kept:
            continue
        home = recipe.parts[line_part[mention.line]].name
        later = line_part[mention.line] > step_part[mention.step]
        itself = later or (line.food and any(line.food.share(role) == 1 for role in MIXED_IN))
        made = set(words(name)) & set(words(home))  # the sugar of "Cinnamon sugar"
        more = MORE.search(text[max(0, mention.start - 40) : mention.start])
        if itself and not made and not more and (step_part[mention.step], name.lower()) not in reported:
            reported.add((step_part[mention.step], name.lower()))  # one word may be several lines
            yield query(
                subject.steps[mention.step].spot(name, mention.start),
                f"the step uses {line.item}, which only the list of “{home}” has, and its steps use it up",
                f"list it under “{part.name}” too, or mark it divided",
                Severity.WARNING,
            )


@frozen
class Ledger:
    """All draws on one keyed line, in the order of the steps, in base units of the line or in grams."""

    line: Ingredient
    weighed: bool  # in grams, since the draws are not all in the line's own dimension
    whole: Fraction
    draws: tuple[tuple[Draw, Fraction | None], ...]  # None: the rest, or only tied to the line

    @property
    def sum(self) -> Fraction:
        """What the draws with an amount come to."""
        return sum((amount for _, amount in self.draws if amount is not None), Fraction(0))


def ledger(subject: Subject) -> tuple[Ledger, ...]:
    """What the steps draw from each keyed line; lines whose draws cannot be compared are left out."""
    draws = [span for step in subject.recipe.steps for span in step.spans if isinstance(span, Draw)]
    ledgers: list[Ledger] = []
    for line in subject.recipe.ingredients:
        mine = [draw for draw in draws if line.key and draw.key == line.key]
        if not mine or line.amount is None:
            continue
        same = all(d.amount is None or d.amount.dimension is line.amount.dimension for d in mine)
        mass = None if same else weigh(line, line.amount)
        if not same and mass is None:
            continue
        amounts: list[tuple[Draw, Fraction | None]] = []
        whole = mass.grams if mass is not None else line.amount.middle
        whole += _drawn_extras(line, mine, weighed=not same)
        for draw in mine:
            if draw.share is not None:
                amounts.append((draw, whole * draw.share))
            elif draw.amount is not None:
                weighed = None if same else weigh(line, draw.amount)
                amounts.append((draw, weighed.grams if weighed else draw.amount.middle))
            else:
                amounts.append((draw, None))
        ledgers.append(Ledger(line=line, weighed=not same, whole=whole, draws=tuple(amounts)))
    return tuple(ledgers)


def _drawn_extras(line: Ingredient, draws: Sequence[Draw], *, weighed: bool) -> Fraction:
    """What a line adds for uses of its own, as far as the draws take it: 10 g for the tin."""
    drawn = Fraction(0)
    for amount in (extra.amount for extra in drawn_extras(line, draws).values() if extra.amount):
        mass = weigh(line, amount) if weighed else None
        alike = line.amount is not None and amount.dimension is line.amount.dimension
        drawn += mass.grams if mass else amount.middle if alike else 0
    return drawn


def _told(drawn: Ledger, amount: Fraction) -> str:
    """An amount of the ledger in the author's own unit where all draws are in its dimension."""
    line = drawn.line.amount
    if line is None or drawn.weighed:
        return f"{number(amount)} g"
    unit = line.unit
    return f"{number(unit.from_base(amount))} {unit.symbol}".strip()


@check(
    "drawn-too-much",
    Severity.ERROR,
    why="The steps ask for more than the list holds; the last of it runs out at the stove.",
    source="the recipe's own figures",
    remedy="raise the amount in the list, or lower a draw",
)
def drawn_too_much(subject: Subject) -> Iterator[Query]:
    """Draws that add up to more than the line they are drawn from."""
    for drawn in ledger(subject):
        if drawn.sum > drawn.whole * (1 + NEAR):
            last = [draw for draw, amount in drawn.draws if amount is not None][-1]
            yield query(
                last,
                f"the steps draw {_told(drawn, drawn.sum)} of the {drawn.line.item}, "
                f"the list has {_told(drawn, drawn.whole)}",
            )


@check(
    "left-over",
    Severity.ERROR,
    why="What the steps leave of a divided ingredient was meant to go somewhere.",
    source="the recipe's own figures",
    remedy="draw [the rest](#key) where it belongs, or lower the amount in the list",
)
def left_over(subject: Subject) -> Iterator[Query]:
    """Draws that add up to less than the line, with no step that takes the rest."""
    for drawn in ledger(subject):
        if all(amount is not None for _, amount in drawn.draws) and drawn.sum < drawn.whole * (1 - NEAR):
            rest = drawn.whole - drawn.sum
            yield query(
                drawn.line,
                f"the steps draw {_told(drawn, drawn.sum)} of {_told(drawn, drawn.whole)} {drawn.line.item}; "
                f"{_told(drawn, rest)} is left over",
                f"write [the rest](#{drawn.line.key}) where it belongs, or lower the amount in the list",
            )


@check(
    "rest-of-nothing",
    Severity.ERROR,
    why="A rest that is nothing, or taken twice, leaves the cook looking for it.",
    source="the recipe's own figures",
    remedy="take the rest once, after draws that leave some",
)
def rest_of_nothing(subject: Subject) -> Iterator[Query]:
    """The rest of an ingredient of which all is drawn, or whose rest was taken before."""
    for drawn in ledger(subject):
        before, taken = Fraction(0), False
        for draw, amount in drawn.draws:
            if draw.rest and (taken or before >= drawn.whole * (1 - NEAR)):
                what = (
                    "the rest was taken before"
                    if taken
                    else f"all {_told(drawn, drawn.whole)} are drawn before"
                )
                yield query(draw, f"“{draw.text}” of the {drawn.line.item} is nothing: {what}")
            elif amount is not None and taken:
                yield query(draw, f"“{draw.text}” of the {drawn.line.item} comes after the rest was taken")
            taken = taken or draw.rest
            before += amount or 0


@check(
    "divided-unmarked",
    Severity.NOTE,
    why="A cook who tips it all in at once has none left for the second step.",
    source=PRACTICE,
    remedy="give the line a key and draw each amount from it, as in [50 g](#seeds) and [the rest](#seeds)",
)
def divided_unmarked(subject: Subject) -> Iterator[Query]:
    """An ingredient of which a step takes half, or the rest, without a key or the word divided."""
    for place, line in enumerate(subject.recipe.ingredients):
        if line.divided or line.key:
            continue
        for mention in subject.mentions.by_line.get(place, ()):
            if mention.how is How.NAME:
                split = SPLIT.search(subject.steps[mention.step].text, 0, mention.start)
                if split and len(subject.mentions.steps_of(place)) > 1:
                    yield query(
                        line, f"a step takes “{split[1].lower()}” of the {line.item}, which is not divided"
                    )
                    break


@check(
    "order-of-use",
    Severity.NOTE,
    why="Cooks read the list beside the steps; out of order it is read twice.",
    source=PRACTICE,
    remedy="list ingredients in the order in which the steps use them",
)
def order_of_use(subject: Subject) -> Iterator[Query]:
    """A line that stands before another and is used in a later step; said once for a part."""
    place = 0
    for part in subject.recipe.parts:
        named = [
            (line, subject.mentions.steps_of(place + number, by_name=True))
            for number, line in enumerate(part.ingredients)
        ]
        place += len(part.ingredients)
        used = [(line, steps[0]) for line, steps in named if steps and not line.for_use]
        late = _late(used)
        if late is not None:
            line, after = late
            what = f"the steps use the {after.item} before the {line.item}"
            yield query(line, f"{what}; the list has them the other way round")


def _late(used: list[tuple[Ingredient, int]]) -> tuple[Ingredient, Ingredient] | None:
    """The first line that is used later than the one listed after it."""
    for (line, step), (following, next_step) in pairwise(used):
        if step > next_step:
            return line, following
    return None


@check(
    "share-unfinished",
    Severity.WARNING,
    why="The cook has the other half in hand when the dish is in the oven.",
    source=PRACTICE,
    remedy="say where the rest of it goes, or list no more than is used",
)
def share_unfinished(subject: Subject) -> Iterator[Query]:
    """Half of a line goes in, and no field says what becomes of the other half."""
    later = " ".join(text.text for text in subject.fields if text.name in {"storage", "notes", "headnote"})
    for place, line in enumerate(subject.recipe.ingredients):
        uses = taken(subject, place)
        if line.key or line.for_use or line.amount is None or len(uses) != 1:
            continue
        use = uses[0]
        share = SHARE.search(use.before)
        shared = EACH.search(use.before) or EACH.search(use.after)
        if share is None or shared or not is_single(subject, use) or use.mention.how is not How.NAME:
            continue
        steps = (step.text for step in subject.steps[use.mention.step + 1 :])
        behind = " ".join((use.step.text[use.mention.end :], *steps, later))
        if not OTHER.search(behind):
            what = f"step {use.number} takes {share['share'].lower()} of the {line.item}"
            yield query(line, f"{what}, and nothing says what becomes of the rest")


SHARE = regex(r"\b(?P<share>half|\w+ thirds?|a quarter|most)(?: of)?(?: the)? $", re.IGNORECASE)
EACH = regex(r"\b(?:each|every|per|at a time|in turn)\b", re.IGNORECASE)  # a quarter of it on each wrap
OTHER = regex(
    r"\b(?:rest|remain\w*|remainder|other|second|leftover|left over|reserv\w*|everything|all|again|more"
    r"|another|twice|batch\w*)\b",
    re.IGNORECASE,
)
