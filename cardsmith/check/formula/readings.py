"""What else a written amount may have meant: one slip of a decimal point, of a spoon, or of a unit."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction

from cardsmith.check.line_facts import sizes
from cardsmith.check.wording import number
from cardsmith.frozen import frozen
from cardsmith.language.quantities import figures
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import WEIGHED, System, Unit, units
from cardsmith.recipe.model import Ingredient
from cardsmith.recipe.weighed import weigh

# The slips of the trade, the likelier first: common practice, no source.
SPOONS = (("teaspoon", "tablespoon"),)
UNITS = (
    ("gram", "ounce"), ("pound", "kilogram"), ("ounce", "pound"), ("tablespoon", "cup"),
    ("teaspoon", "cup"), ("gram", "tablespoon"), ("gram", "teaspoon"), ("gram", "kilogram"),
    ("gram", "cup"), ("millilitre", "cup"), ("millilitre", "tablespoon"), ("millilitre", "teaspoon"),
)  # fmt: skip
YEASTS = (("yeast-instant", "fresh yeast"), ("yeast-active-dry", "fresh yeast"), ("yeast-fresh", "dry yeast"))
FRESH_TO_DRY = Fraction(3)  # 3 g of fresh yeast do the work of 1 g of instant: common practice, no source
FAR = Fraction(2)  # so many times off what is usual before a slip is thought of
RANK = 4  # how much likelier a likelier slip is: a step of rank weighs as much as a factor of 1.3
NEAR = Fraction(3)  # so near to it another reading must come
SPOONFULS = {"teaspoon": 6, "tablespoon": 12, "cup": 12}  # nobody writes more of them


@frozen
class OtherMeaning:
    """Another meaning of what was written, and what it weighs in grams."""

    told: str  # 2¼ tsp
    slip: str  # a decimal point
    written: str  # the author's words
    grams: Fraction
    rank: Fraction  # 0 for the likeliest slip


def readings(line: Ingredient) -> Iterator[OtherMeaning]:
    """Every amount that one slip in the line would explain."""
    for given in sizes(line):
        if given.is_vague or not given.low or given.dimension not in WEIGHED:
            continue
        for in_words, slip, other, rank in (*_units(given), *_decimals(given)):
            solid = line.food is None or line.food.state not in ("liquid", "paste")
            mass = None if solid and other.unit.name == "millilitre" else weigh(line, other)
            if mass is not None:
                yield OtherMeaning(
                    told=in_words, slip=slip, written=given.written, grams=mass.grams, rank=rank
                )
    yield from _yeasts(line)


def _decimals(given: Quantity) -> Iterator[tuple[str, str, Quantity, Fraction]]:
    """The decimal point moved by one place; cooks write points in metric amounts only."""
    if given.unit.system is not System.METRIC:
        return
    for factor in (Fraction(1, 10), Fraction(10)):
        other = given.times(factor)
        ends = dict.fromkeys((other.low, other.high))
        numbers = " to ".join(number(given.unit.from_base(end)) for end in ends)
        yield f"{numbers} {given.unit.symbol}", "a decimal point", other, Fraction(1)


def _units(given: Quantity) -> Iterator[tuple[str, str, Quantity, Fraction]]:
    """The same number with another unit; nothing for sums, such as ½ cup plus 1 tablespoon."""
    shown = figures(given.written)
    if not shown or re.search(r"\bplus\b|\+", given.written):
        return
    for place, pair in enumerate((*SPOONS, *UNITS)):
        if given.unit.name in pair:
            unit = units()[pair[1] if given.unit.name == pair[0] else pair[0]]
            count = given.unit.from_base(given.high)
            spoons = SPOONFULS.get(given.unit.name, 0)
            weighed = unit.name not in SPOONFULS  # "85 tbsp" may be 85 g; "1 tsp" is never 1 g
            if count > SPOONFULS.get(unit.name, 10**6) or (weighed and count <= spoons):
                continue
            slip = "another unit" if place else "another spoon"
            yield (
                f"{shown} {unit.symbol}",
                slip,
                _in(given, unit),
                Fraction(2 + place if place else 0),
            )


def _in(given: Quantity, unit: Unit) -> Quantity:
    low, high = (unit.to_base(given.unit.from_base(end)) for end in (given.low, given.high))
    return replace(given, low=low, high=high, unit=unit)


def _yeasts(line: Ingredient) -> Iterator[OtherMeaning]:
    """The same weight of the other sort of yeast, as the weight of this sort that does the same."""
    mass = weigh(line, line.amount) if line.amount is not None else None
    for role, other in YEASTS:
        if mass is not None and line.amount is not None and line.food and line.food.share(role) == 1:
            factor = FRESH_TO_DRY if role == "yeast-fresh" else 1 / FRESH_TO_DRY
            yield OtherMeaning(
                told=f"{line.amount.written} {other}",
                slip="another yeast",
                written=line.amount.written,
                grams=mass.grams * factor,
                rank=Fraction(0),
            )


def likely_meaning(line: Ingredient, off: Callable[[Fraction], Fraction | None]) -> OtherMeaning | None:
    """The reading of a line that comes nearest to what is usual, where what is written lies far from it.

    ``off`` gives, for a weight in grams, how many times it is off what is usual (1 is just right), or None
    where it is out of bounds.
    """
    fitting = [
        (math.log(times) + other_meaning.rank / RANK, other_meaning)
        for other_meaning in readings(line)
        if (times := off(other_meaning.grams)) is not None and times <= NEAR
    ]
    return min(fitting, key=lambda pair: pair[0])[1] if fitting else None
