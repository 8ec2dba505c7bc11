"""Every way an amount may be printed: the house ladders as candidates with their cost, near one value.

A candidate is an exact value and its terms. Its cost counts what it asks of the cook: one for each scoop or
weighing, more for a second measure and for odd fractions. No ladder ends: beyond the house's numbers follow
quarts, gallons and pounds, and below them decimals of an ounce, off every ladder.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from fractions import Fraction
from functools import cache, lru_cache
from itertools import product
from math import ceil, floor, lcm
from operator import attrgetter

from cardsmith.frozen import frozen
from cardsmith.house.settings import Ladders, Rung
from cardsmith.last_result import remembered
from cardsmith.measure.units import units
from cardsmith.rewrite.printed import Term, off

SECOND_MEASURE = Fraction(2)  # a line with a plus is read twice
PAIR = Fraction(3, 2)  # two spoonfuls on top of a cup or a spoon; common practice, no source
WRAPPER_MARK = Fraction(19, 10)  # one cut, but dearer than a plain half or two thirds of a cup
ODDNESS = {1: Fraction(0), 2: Fraction(1, 5), 4: Fraction(2, 5), 3: Fraction(1, 2), 8: Fraction(1)}
CUPS, POUNDS = 16, 12  # the house's ladders are counted out so far
ROUND = (10, 5, 2, 1)  # steps: a number that so many make up is round, the first the roundest
KITCHEN_STEP = 10  # g or ml, of the ladders from a kilogram or a litre up
ODD = 6  # tenths of a scoop that an odd number costs; common practice, no source
DIGITS = 10_000  # steps: no number is read to more than four digits
MOST = 24  # candidates of one rung around one value
EIGHTH, SIXTEENTH, TWENTIETH, SMALLEST = (Fraction(1, part) for part in (8, 16, 20, 32))
# The spoons below ⅛ teaspoon of a full US set (a pinch, a smidgen: units.csv), and what they add to others.
SMALL_SPOONS = (
    (SMALLEST,),
    (SIXTEENTH,),
    (SIXTEENTH, SMALLEST),
    (EIGHTH, SMALLEST),
    (EIGHTH, SIXTEENTH),
    (2 * EIGHTH, SIXTEENTH),
    (3 * EIGHTH,),
    (3 * EIGHTH, SIXTEENTH),
)
# Beyond: up to how many, in steps of how much, of what. A step is at most a twentieth of what it is added to.
LARGE_VOLUMES = (
    (Fraction(16), Fraction(1, 4), "quart"),
    (Fraction(16), Fraction(1, 4), "gallon"),
    (Fraction(64), Fraction(1, 2), "gallon"),
    (None, Fraction(1), "gallon"),
)
LARGE_WEIGHTS = (
    (Fraction(25), Fraction(1, 4), "pound"),
    (Fraction(50), Fraction(1, 2), "pound"),
    (None, Fraction(1), "pound"),
)
METRIC = {"gram": "kilogram", "millilitre": "litre"}  # from a thousand up


@frozen
class Candidate:
    """One printable amount: its exact value in base units (ml or g), its terms, its cost."""

    value: Fraction
    terms: tuple[Term, ...]
    cost: Fraction


_value = attrgetter("value")
Steps = tuple[tuple[Fraction | None, Fraction, str], ...]


# --- the house's ladders ------------------------------------------------------------------------------


def _term(number: Fraction | int, unit: str) -> Term:
    return Term(number=Fraction(number), unit=units()[unit])


@cache
def _scoops(number: Fraction) -> Fraction:
    """Scoops of a measuring set for one term: 1½ cups is two, a third is an odder cup than a half."""
    whole, part = divmod(number, 1)
    return Fraction(whole) + (1 + ODDNESS.get(part.denominator, Fraction(1)) if part else 0)


def scooped(*terms: Term) -> Candidate:
    """Cups and spoons: their scoops, and the price of a second measure, which two spoonfuls hardly raise.

    Who has the spoon in hand fills it again: 500 ml are 2 cups and 2 tablespoons rather than 1.
    """
    first, *more = (_scoops(term.number) for term in terms)
    cost = first + sum((PAIR if amount == 2 else amount for amount in more), SECOND_MEASURE * len(more))
    return Candidate(value=sum((term.value for term in terms), Fraction(0)), terms=terms, cost=cost)


def _weight(*terms: Term) -> Candidate:
    """One weighing, whatever the number; odd fractions and a second unit cost as they do for cups."""
    oddness = sum((ODDNESS.get(term.number.denominator, Fraction(1)) for term in terms), Fraction(0))
    value = sum((term.value for term in terms), Fraction(0))
    return Candidate(value=value, terms=terms, cost=1 + oddness + (len(terms) - 1))


def _cheapest(candidates: Iterable[Candidate]) -> tuple[Candidate, ...]:
    """One candidate a value, the cheapest, in ascending order: ¼ cup rather than 4 tablespoons."""
    best: dict[Fraction, Candidate] = {}
    for candidate in candidates:
        if candidate.value not in best or candidate.cost < best[candidate.value].cost:
            best[candidate.value] = candidate
    whole = lcm(*(value.denominator for value in best))  # ordered as whole numbers, which is quicker
    ordered = sorted(best, key=lambda value: value.numerator * (whole // value.denominator))
    return tuple(best[value] for value in ordered)


@remembered
@cache
def us_volumes(ladders: Ladders) -> tuple[Candidate, ...]:
    """Cups, tablespoons and teaspoons, alone and with one smaller measure added."""
    parts = (Fraction(0), *ladders.cup)
    cups = [_term(whole + part, "cup") for whole in range(CUPS + 1) for part in parts if whole + part]
    spoons = [_term(number, "tablespoon") for number in ladders.tablespoon]
    drops = [_term(number, "teaspoon") for number in ladders.teaspoon]
    more_spoons = [_term(number, "tablespoon") for number in ladders.plus_tablespoon]
    more_drops = [_term(number, "teaspoon") for number in ladders.plus_teaspoon]
    pairs = [
        *product(cups, (*more_spoons, *(drop for drop in more_drops if drop.number >= 1))),
        *product((term for term in spoons if term.number.denominator == 1), more_drops),
    ]
    # A second measure is more than the spill of the first: 1 teaspoon on 4 cups is not.
    worthwhile = (pair for pair in pairs if pair[1].value * 50 >= pair[0].value)
    return _cheapest([*map(scooped, (*cups, *spoons, *drops)), *(scooped(*pair) for pair in worthwhile)])


@remembered
@cache
def fine_volumes(ladders: Ladders) -> tuple[Candidate, ...]:
    """As `us_volumes`, with eighths, quarters over a tablespoon and the smallest spoons.

    For salt and leaveners, or where no usual measure is near.
    """
    firsts = [(number,) for number in ladders.teaspoon if 2 * EIGHTH < number < 3]
    small = [
        tuple(_term(number, "teaspoon") for number in numbers)
        for numbers in (*SMALL_SPOONS, *((*first, EIGHTH) for first in firsts))
    ]
    spoons = [_term(number, "tablespoon") for number in ladders.tablespoon if number.denominator == 1]
    quarters = [_term(Fraction(number, 4), "teaspoon") for number in range(1, 12)]
    between = product(spoons, quarters)
    return _cheapest(
        [
            *us_volumes(ladders),
            *(scooped(*terms) for terms in small),
            *(scooped(*terms) for terms in between),
        ]
    )


@remembered
@cache
def butter_volumes(ladders: Ladders) -> tuple[Candidate, ...]:
    """As `us_volumes`, and whole tablespoons up to a pound: they are marked on the wrapper."""
    marked = [_term(number, "tablespoon") for number in ladders.butter_tablespoon]
    flat = [Candidate(value=term.value, terms=(term,), cost=WRAPPER_MARK) for term in marked]
    return _cheapest([*us_volumes(ladders), *flat])


@remembered
@cache
def us_weights(ladders: Ladders) -> tuple[Candidate, ...]:
    """Ounces below a pound, then pounds with a fraction or with whole ounces."""
    ounces = [_term(number, "ounce") for number in _rungs(ladders.ounce) if number < 16]
    parts = (Fraction(0), *ladders.pound)
    pounds = [_term(whole + part, "pound") for whole in range(1, POUNDS + 1) for part in parts]
    pairs = [
        (_term(whole, "pound"), _term(ounce, "ounce")) for whole in range(1, 5) for ounce in range(1, 16)
    ]
    return _cheapest([*map(_weight, (*ounces, *pounds)), *(_weight(*pair) for pair in pairs)])


def _rungs(rungs: tuple[Rung, ...]) -> list[Fraction]:
    """All numbers of a ladder given by steps, ascending."""
    numbers: list[Fraction] = []
    start = Fraction(0)
    for rung in rungs:
        first = start - start % rung.step + rung.step
        numbers += [first + rung.step * count for count in range(int((rung.to - first) / rung.step) + 1)]
        start = rung.to
    return numbers


# --- candidates near a value --------------------------------------------------------------------------


def volumes(ladder: tuple[Candidate, ...], value: Fraction, spread: Fraction) -> tuple[Candidate, ...]:
    """Cups and spoons of ``ladder`` within ``spread`` (a share) of ``value``; beyond, quarts and gallons."""
    return (*near(ladder, value, spread), *_beyond(ladder, LARGE_VOLUMES, value, spread))


def weights(ladders: Ladders, value: Fraction, spread: Fraction) -> tuple[Candidate, ...]:
    """Ounces and pounds within ``spread`` (a share) of ``value``; it may be none."""
    ladder = us_weights(ladders)
    return (*near(ladder, value, spread), *_beyond(ladder, LARGE_WEIGHTS, value, spread))


def near(candidates: tuple[Candidate, ...], value: Fraction, spread: Fraction) -> tuple[Candidate, ...]:
    """Those within ``spread`` (a share) of ``value``, ascending; it may be none."""
    first = bisect_left(candidates, value * (1 - spread), key=_value)
    last = bisect_right(candidates, value * (1 + spread), key=_value)
    return candidates[first:last]


def _beyond(
    ladder: tuple[Candidate, ...], steps: Steps, value: Fraction, spread: Fraction
) -> tuple[Candidate, ...]:
    if value <= ladder[-1].value:
        return ()
    _, step, unit = next(row for row in steps if row[0] is None or value < row[0] * units()[row[2]].size)
    numbers = (step * count for count in _around(value / units()[unit].size / step, spread))
    terms = (
        _term(number / 4, "gallon") if unit == "quart" and number == 16 else _term(number, unit)
        for number in numbers
    )
    return tuple(map(_weight, terms))


def _around(number: Fraction, spread: Fraction) -> list[int]:
    """Whole numbers within ``spread`` of ``number``: its neighbours, round ones, some two dozen others."""
    low, high = number * (1 - spread), number * (1 + spread)
    least, most, whole = ceil(low), floor(high), floor(number)
    first = max(floor(low), 1)
    every = max((most + 1 - first) // MOST, 1)
    round_ones = {whole // by * by + more for by in ROUND for more in (0, by)}
    return sorted(
        numeral for numeral in {*range(first, most + 1, every), *round_ones} if least <= numeral <= most
    )


def metric(value: Fraction, rungs: tuple[Rung, ...], unit: str, spread: Fraction) -> list[Candidate]:
    """Ladder numbers of g or ml around ``value``; a digit or two of it under 1, and where none is near.

    From a thousand up the number is printed in kg or L.
    """
    if value < 1:
        return [_significant(value, unit, spread)]
    rung = next((rung for rung in rungs if value <= rung.to), rungs[-1])
    step = rung.step
    while step * DIGITS <= value:
        step *= 10
    return [metric_number(count, step, unit) for count in _around(value / step, spread)] or [
        _significant(value, unit, spread)
    ]


@lru_cache(maxsize=1 << 14)
def metric_number(count: int, step: Fraction, unit: str) -> Candidate:
    """So many steps of a metric unit; round numbers cost a little less than odd ones.

    An even hundredth of a kilogram is no rounder than an odd one: 5 pounds are 2.25 kg, not 2.26.
    """
    number = step * count
    round_by = ROUND[: 2 if number >= 1000 and step == KITCHEN_STEP else 3]
    roundness = next((place for place, by in enumerate(round_by) if not count % by), ODD)
    term = _term(number / 1000, METRIC[unit]) if number >= 1000 else _term(number, unit)
    return Candidate(value=number, terms=(term,), cost=1 + Fraction(roundness, 10))


def _significant(value: Fraction, unit: str, spread: Fraction) -> Candidate:
    if value < 1:  # a quarter of a teaspoon is 0.6 g of pepper, not 0.58 g
        return metric_number(1, significant(value, min(spread, TWENTIETH), 1), unit)
    return metric_number(1, significant(value, spread), unit)


def ounces(value: Fraction, spread: Fraction, unit: str) -> Candidate:
    """Decimals of an ounce or a fluid ounce, for what no measure of the kitchen comes near."""
    number = significant(value / units()[unit].size, spread)
    term = _term(number, unit)
    return Candidate(value=term.value, terms=(term,), cost=Fraction(3))


def significant(value: Fraction, spread: Fraction, digits: int = 2) -> Fraction:
    """``value`` to so many significant digits, or to as many more as bring it within ``spread``."""
    if not value:
        return value
    step, most = Fraction(1), 10**digits
    while step * most > value * 10:
        step /= 10
    while step * most <= value:
        step *= 10
    while abs(off(round(value / step) * step, value)) > spread:
        step /= 10
    return round(value / step) * step
