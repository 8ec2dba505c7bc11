"""Every way an amount may be printed: the house ladders as lists of candidates with their cost.

A candidate is an exact value and the words for it. Its cost counts what it asks of the cook: one for
each scoop or weighing, more for a second measure and for odd fractions.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, cached_property, lru_cache
from itertools import product
from math import lcm
from operator import attrgetter

from cardsmith.house import Ladders, Rung
from cardsmith.measure.units import units
from cardsmith.remember import remembered
from cardsmith.rewrite.wording import Term, terms_text

SECOND_MEASURE = Fraction(2)  # a line with a plus is read twice
WRAPPER_MARK = Fraction(19, 10)  # one cut, but dearer than a plain half or two thirds of a cup
ODDNESS = {1: Fraction(0), 2: Fraction(1, 5), 4: Fraction(2, 5), 3: Fraction(1, 2), 8: Fraction(1)}


@dataclass(frozen=True, kw_only=True)
class Candidate:
    """One printable amount: its exact value in base units (ml or g), its words, its cost."""

    value: Fraction
    terms: tuple[Term, ...]
    cost: Fraction

    @cached_property
    def short(self) -> str:
        """Its words in a list: ``½ cup + 1 tbsp``."""
        return terms_text(self.terms)

    @cached_property
    def long(self) -> str:
        """Its words in a sentence: ``½ cup plus 1 tablespoon``."""
        return terms_text(self.terms, long=True)


def _size(unit: str) -> Fraction:
    return units()[unit].size


@cache
def _scoops(number: Fraction) -> Fraction:
    """Scoops of a measuring set for one term: 1½ cups is two, a third is an odder cup than a half."""
    whole, part = divmod(number, 1)
    return Fraction(whole) + (1 + ODDNESS.get(part.denominator, Fraction(1)) if part else 0)


def _candidate(first: Term, second: Term | None = None) -> Candidate:
    value, cost = _base(first), _scoops(first.number)
    if second is None:
        return Candidate(value=value, terms=(first,), cost=cost)
    return Candidate(
        value=value + _base(second),
        terms=(first, second),
        cost=cost + _scoops(second.number) + SECOND_MEASURE,
    )


@cache
def _base(term: Term) -> Fraction:
    """A term in base units."""
    return term.number * _size(term.unit)


def _cheapest(candidates: Iterable[Candidate]) -> tuple[Candidate, ...]:
    """One candidate a value, the cheapest, in ascending order: ¼ cup rather than 4 tablespoons."""
    best: dict[Fraction, Candidate] = {}
    for one in candidates:
        if one.value not in best or one.cost < best[one.value].cost:
            best[one.value] = one
    whole = lcm(*(value.denominator for value in best))  # ordered as whole numbers, which is quicker
    ordered = sorted(best, key=lambda value: value.numerator * (whole // value.denominator))
    return tuple(best[value] for value in ordered)


@remembered
@cache
def us_volumes(ladders: Ladders, cups: int = 16) -> tuple[Candidate, ...]:
    """Cups, tablespoons and teaspoons up to ``cups``, alone and with one smaller measure added."""
    cup = [Fraction(whole) + part for whole in range(cups + 1) for part in (Fraction(0), *ladders.cup)]
    singles = [
        *(Term(number=number, unit="cup") for number in cup if number),
        *(Term(number=number, unit="tablespoon") for number in ladders.tablespoon),
        *(Term(number=number, unit="teaspoon") for number in ladders.teaspoon),
    ]
    spoons = [Term(number=number, unit="tablespoon") for number in ladders.plus_tablespoon]
    drops = [Term(number=number, unit="teaspoon") for number in ladders.plus_teaspoon]
    firsts = [term for term in singles if term.unit == "cup"]
    pairs = [
        *product(firsts, (*spoons, *(drop for drop in drops if drop.number >= 1))),
        *product(
            (term for term in singles if term.unit == "tablespoon" and term.number.denominator == 1), drops
        ),
    ]
    worthwhile = [(first, second) for first, second in pairs if _worthwhile(first, second)]
    return _cheapest([*(_candidate(term) for term in singles), *(_candidate(*pair) for pair in worthwhile)])


def _worthwhile(first: Term, second: Term) -> bool:
    """Whether a second measure is more than the spill of the first: 1 teaspoon on 4 cups is not."""
    return _base(second) * 50 >= _base(first)


@remembered
@cache
def fine_volumes(ladders: Ladders) -> tuple[Candidate, ...]:
    """As `us_volumes`, and ``¾ teaspoon plus ⅛ teaspoon``: for salt and leaveners, which must be exact."""
    eighth = Term(number=Fraction(1, 8), unit="teaspoon")
    firsts = [number for number in ladders.teaspoon if Fraction(1, 4) < number < 3]
    pairs = [_candidate(Term(number=number, unit="teaspoon"), eighth) for number in firsts]
    return _cheapest([*us_volumes(ladders), *pairs])


@remembered
@cache
def us_weights(ladders: Ladders, pounds: int = 12) -> tuple[Candidate, ...]:
    """Ounces below a pound, then pounds with a fraction or with whole ounces."""
    ounces = [Term(number=number, unit="ounce") for number in _rungs(ladders.ounce)]
    pound = [Fraction(whole) + part for whole in range(pounds + 1) for part in (Fraction(0), *ladders.pound)]
    whole_pounds = [number for number in pound if number >= 1]
    pairs = [
        (Term(number=Fraction(whole), unit="pound"), Term(number=Fraction(ounce), unit="ounce"))
        for whole in range(1, 5)
        for ounce in range(1, 16)
    ]
    return _cheapest(
        [
            *(_weight(term) for term in ounces if term.number < 16),
            *(_weight(Term(number=number, unit="pound")) for number in whole_pounds),
            *(_weight(*pair) for pair in pairs),
        ]
    )


def _weight(*terms: Term) -> Candidate:
    """One weighing, whatever the number; odd fractions and a second unit cost as they do for cups."""
    oddness = sum((ODDNESS.get(term.number.denominator, Fraction(1)) for term in terms), Fraction(0))
    return Candidate(
        value=sum((term.number * _size(term.unit) for term in terms), Fraction(0)),
        terms=terms,
        cost=1 + oddness + (len(terms) - 1),
    )


def _rungs(rungs: tuple[Rung, ...]) -> list[Fraction]:
    """All numbers of a ladder given by steps, ascending."""
    numbers: list[Fraction] = []
    start = Fraction(0)
    for rung in rungs:
        first = start - start % rung.step + rung.step
        numbers += [first + rung.step * count for count in range(int((rung.to - first) / rung.step) + 1)]
        start = rung.to
    return numbers


@remembered
@cache
def butter_volumes(ladders: Ladders) -> tuple[Candidate, ...]:
    """As `us_volumes`, and whole tablespoons up to a pound: they are marked on the wrapper."""
    marked = [_candidate(Term(number=number, unit="tablespoon")) for number in ladders.butter_tablespoon]
    flat = [Candidate(value=one.value, terms=one.terms, cost=WRAPPER_MARK) for one in marked]
    return _cheapest([*us_volumes(ladders), *flat])


def metric(
    value: Fraction, rungs: tuple[Rung, ...], unit: str, thousand: str, spread: Fraction
) -> list[Candidate]:
    """Ladder numbers of g or ml within ``spread`` (a share) of ``value``, and the two nearest in any case.

    From a thousand up the number is printed in ``thousand`` (kg, L).
    """
    rung = next((rung for rung in rungs if value <= rung.to), rungs[-1])
    down, up = value * (1 - spread), value * (1 + spread)
    first = max(int(down / rung.step), 1)
    last = max(int(up / rung.step) + 1, 1)
    steps = value / rung.step
    keep = {max(int(steps), 1), int(steps) + 1, max(round(steps), 1)}
    every = max((last - first) // 24, 1)
    return [
        metric_number(step * rung.step, rung.step, unit, thousand)
        for step in sorted({*range(first, last + 1, every), *keep})
    ]


@lru_cache(maxsize=1 << 14)
def metric_number(number: Fraction, step: Fraction, unit: str, thousand: str) -> Candidate:
    """One metric number; round ones cost a little less than odd ones."""
    rough = next(
        (Fraction(place, 10) for place, by in enumerate((10, 5, 2)) if not number % (step * by)),
        Fraction(3, 5),
    )
    term = Term(number=number / 1000, unit=thousand) if number >= 1000 else Term(number=number, unit=unit)
    return Candidate(value=number, terms=(term,), cost=1 + rough)


_value = attrgetter("value")


def near(candidates: tuple[Candidate, ...], value: Fraction, spread: Fraction) -> tuple[Candidate, ...]:
    """Those within ``spread`` (a share) of ``value``, ascending; it may be none."""
    first = bisect_left(candidates, value * (1 - spread), key=_value)
    last = bisect_right(candidates, value * (1 + spread), key=_value)
    return candidates[first:last]


def nearest(candidates: tuple[Candidate, ...], value: Fraction) -> Candidate:
    """Of candidates in ascending order that whose value is nearest, the cheaper of two equally near."""
    above = bisect_left(candidates, value, key=_value)
    return min(candidates[max(above - 1, 0) : above + 1], key=lambda one: (abs(one.value - value), one.cost))
