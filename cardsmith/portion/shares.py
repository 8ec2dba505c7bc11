"""What of each line is bought, what is edible, and what of that is eaten. Grams, exact."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache

from cardsmith.bench.wording import figure, share
from cardsmith.frozen import frozen
from cardsmith.measure.larder import words
from cardsmith.measure.weighing import refuse
from cardsmith.portion.estimate import NOTHING, ZERO, Estimate, exactly
from cardsmith.portion.portion_file import NO_FACTS, Facts
from cardsmith.recipe.model import Ingredient, Part, Recipe
from cardsmith.recipe.weighed import is_ready, weigh
from cardsmith.reference import OURS, Tables
from cardsmith.regex import regex

_FRYING = regex(r"\b(?:deep[- ]?)?fry(?:ing)?\b", re.IGNORECASE)
_POURED_OFF = regex(r"\b(?:drain|discard|pour off|throw away|lift (?:out|from)|rinse|pat dry|remove from)")
SEASONING = ("spice", "herb", "flavouring")


@frozen
class LineShare:
    """One line. All zero where it has no weight, or is optional."""

    line: Ingredient
    listed: Fraction | None  # what the list says, in grams; None where it says no weight
    bought: Fraction
    trim: Fraction  # share of what is bought
    edible: Fraction
    eaten: Estimate
    notes: tuple[str, ...] = ()  # where each figure comes from, and what was left out

    @property
    def is_counted(self) -> bool:
        """Whether it is in the sums: it has a weight and is not optional."""
        return self.listed is not None and not self.line.optional

    @property
    def spoils_sums(self) -> bool:
        """Whether leaving it out makes a sum too small to speak of: no weight, and no mere seasoning."""
        if self.is_counted or self.line.optional:
            return False
        food = self.line.food
        return food is None or not food.is_mainly(*SEASONING)


@frozen
class Uptake:
    """How much is eaten of something whose rest is thrown away; shares of one."""

    share: Estimate
    of: str  # line: of the line itself; food: of the weight of all other lines
    about: str
    source: str


@cache
def uptakes(tables: Tables = OURS) -> Mapping[str, Uptake]:
    """The usual uptakes by way; figures out of order raise."""
    uptakes: dict[str, Uptake] = {}
    for row in tables.rows("uptakes"):
        low, likely, high = (Fraction(row[end]) / 100 for end in ("low", "likely", "high"))
        if not low <= likely <= high:
            raise ValueError(f"uptakes.csv: {row['way']}: the figures are out of order")
        usual = Estimate(low=low, likely=likely, high=high)
        uptakes[row["way"]] = Uptake(share=usual, of=row["of"], about=row["about"], source=row["source"])
    return uptakes


def shares(recipe: Recipe, facts: Facts = NO_FACTS) -> tuple[LineShare, ...]:
    """Every line of the recipe, in order."""
    first = [(part, line, _edible(line, facts)) for part in recipe.parts for line in part.ingredients]
    food = sum((share.edible for _, line, share in first if not _is_frying(line)), start=ZERO)
    usual = uptakes(recipe.tables)
    return tuple(
        _with_extras(_eaten(share, part, food, facts, usual), part, food, facts, usual)
        for part, _, share in first
    )


def _with_extras(
    share: LineShare, part: Part, food: Fraction, facts: Facts, usual: Mapping[str, Uptake]
) -> LineShare:
    """The share with what its line adds for separate uses, of which less may be eaten."""
    for extra in share.line.extras:
        if not extra.added or extra.amount is None:
            continue
        alone = replace(
            share.line, amount=extra.amount, stated=(), container=None, for_use=extra.use, prep="", extras=()
        )
        more = _eaten(_edible(alone, facts), part, food, facts, usual)
        if not more.is_counted or share.listed is None or more.listed is None:
            continue
        share = replace(
            share,
            listed=share.listed + more.listed,
            bought=share.bought + more.bought,
            edible=share.edible + more.edible,
            eaten=share.eaten + more.eaten,
            notes=(*share.notes, *(f"{extra.use}: {note}" for note in more.notes)),
        )
    return share


def _edible(line: Ingredient, facts: Facts) -> LineShare:
    mass = weigh(line, line.amount) if line.amount is not None else None
    if mass is None or line.optional:
        why = "optional: left out" if line.optional else "no weight: left out"
        listed = mass.grams if mass else None
        zero = Fraction(0)
        return LineShare(
            line=line, listed=listed, bought=zero, trim=zero, edible=zero, eaten=NOTHING, notes=(why,)
        )
    trim, why = trim_of(line, facts)
    as_bought = mass.basis == "weighed" and not is_ready(line)
    bought = mass.grams if as_bought or not trim else mass.grams / (1 - trim)
    edible = mass.grams * (1 - trim) if as_bought else mass.grams
    notes: list[str] = [] if mass.basis == "weighed" else [mass.basis]
    if trim:
        state = "as bought" if as_bought else "as used"
        notes.append(f"{figure(mass.grams)} g {state}, {share(trim)} trim ({why})")
    return LineShare(
        line=line,
        listed=mass.grams,
        bought=bought,
        trim=trim,
        edible=edible,
        eaten=exactly(edible),
        notes=tuple(notes),
    )


def trim_of(line: Ingredient, facts: Facts = NO_FACTS) -> tuple[Fraction, str]:
    """The share of a bought food that is cut away, and who says so.

    The kitchen's own figure counts first, then the larder's trims, then the refuse of USDA SR 28.
    """
    if (value := facts.trim.get(line.where)) is not None:
        return value, "stated"
    return refuse(line.food, line.text.lower()) if line.food else (ZERO, "")


def _is_frying(line: Ingredient) -> bool:
    said = f"{line.for_use} {line.item} {line.own_prep}"
    return bool(line.food and line.food.is_mainly("fat") and _FRYING.search(said))


def _eaten(
    line_share: LineShare, part: Part, food: Fraction, facts: Facts, usual: Mapping[str, Uptake]
) -> LineShare:
    """The share with how much of it is eaten: as stated, else the usual share."""
    if not line_share.is_counted:
        return line_share
    line = line_share.line
    if (part_eaten := facts.eaten.get(line.where)) is not None:
        return _taking(
            line_share,
            exactly(line_share.edible * part_eaten),
            f"{share(part_eaten)} of it is eaten (stated)",
        )
    known = usual.get(_way(line, part))
    if known is None:
        return line_share
    taken = known.share.times(food if known.of == "food" else line_share.edible)
    most = min(taken.high or line_share.edible, line_share.edible)
    capped = Estimate(low=min(taken.low, most), likely=min(taken.likely, most), high=most)
    span = f"{figure(known.share.low * 100)} to {share(known.share.high or 1)}"
    of = " of the food" if known.of == "food" else ""
    return _taking(line_share, capped, f"{known.about}: {span}{of} ({known.source})")


def _way(line: Ingredient, part: Part) -> str:
    said = f"{line.for_use} {line.own_prep}".lower()
    if _is_frying(line):
        return "frying oil"
    if line.container is not None and re.search(r"\bdrained\b", said):
        return "drained can"
    if re.search(r"\bfor (?:the (?:pan|tin|dish|baking)|greasing|dusting|brushing the)\b", said):
        return "pan"
    named = set(words(part.name)) & {"brine", "marinade"}
    if named and any(_POURED_OFF.search(step.text) for step in part.steps):
        return min(named)
    return ""


def _taking(share: LineShare, eaten: Estimate, note: str) -> LineShare:
    return LineShare(
        line=share.line,
        listed=share.listed,
        bought=share.bought,
        trim=share.trim,
        edible=share.edible,
        eaten=eaten,
        notes=(*share.notes, note),
    )
