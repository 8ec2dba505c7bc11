"""The cups and spoons of a market in its metric column: ``2 tsp`` of 5 ml, ``1 cup (150 g)`` of 250 ml.

A British kitchen has spoons and weighs the rest; an Australian one has cups too, with the weight beside. All
are computed from the exact amount, never from another market's cup. What its author weighed stays weighed,
but where the market cooks from cups.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache
from operator import attrgetter

from cardsmith.house.kinds import as_number
from cardsmith.measure.patterns import cell
from cardsmith.measure.units import Dimension, Unit, spoken, units
from cardsmith.reference import table
from cardsmith.rewrite.printed import Printed, Term, off, single
from cardsmith.rewrite.rounding.food_amount import FoodAmount
from cardsmith.rewrite.rounding.ladder import Candidate, near, scooped
from cardsmith.rewrite.wording import decimal_text
from cardsmith.words import Figure, Said, joined

WEIGHED_COST = Fraction(5)  # of a weight where the market has a spoon for it: only a ratio is worth it
ERROR_COST = Fraction(3, 2)  # of the whole tolerance used up, as in the US column
MOST_CUPS = 8  # whole cups that a cook fills one after another: common practice, no source
_cost = attrgetter("cost")


Scoops = tuple[tuple[str, tuple[Fraction, ...]], ...]


@cache
def measures(household: str, scoops: Scoops = ()) -> tuple[Candidate, ...]:
    """Every cup and spoon of a market, ascending; of two that hold the same the one with fewer scoops.

    ``scoops`` are the numbers in which an edition prints some of them, by the word that they go by.
    """
    by_key: dict[Fraction, Candidate] = {}
    own = dict(scoops)
    for row in table("household_measures"):
        if row["household"] != household:
            continue
        unit = units()[row["unit"]]
        usual = tuple(map(as_number, cell(row["numbers"])))
        for number in _said(spoken(unit).name, own) or usual:
            candidate = scooped(Term(number=number, unit=unit))
            known = by_key.setdefault(candidate.value, candidate)
            by_key[candidate.value] = min(known, candidate, key=_cost)
    return tuple(by_key[value] for value in sorted(by_key))


def _said(word: str, scoops: Mapping[str, tuple[Fraction, ...]]) -> tuple[Fraction, ...]:
    """The numbers of a ladder of the house's: of a cup its parts, which whole cups stand beside."""
    said = scoops.get(word, ())
    wholes = range(MOST_CUPS + 1) if word == "cup" and said else (0,)
    return (
        *(number + whole for whole in wholes for number in said),
        *(Fraction(whole) for whole in wholes if whole),
    )


@cache
def _with_weight(household: str) -> frozenset[str]:
    """The units beside which a weight stands."""
    return frozenset(
        row["unit"]
        for row in table("household_measures")
        if row["household"] == household and row["weight_beside"] == "yes"
    )


def cooks_from_cups(household: str) -> bool:
    """Whether cups stand foremost in a market's lists, even of what was weighed."""
    return bool(_with_weight(household))


def sizes_told(printed: Iterable[Unit]) -> str:
    """What the cups and spoons among ``printed`` hold: ``1 cup is 250 ml, 1 tablespoon 20 ml``."""
    own = {unit.name: unit for unit in printed if spoken(unit) != unit}
    by_size = sorted(own.values(), key=lambda unit: -unit.size)
    return joined(
        ", ",
        *(
            Said(
                "1 {unit} {size} ml" if place else "1 {unit} is {size} ml",
                unit=Said(spoken(unit).name),
                size=Figure(decimal_text(unit.size)),
            )
            for place, unit in enumerate(by_size)
        ),
    )


def in_household(
    subject: FoodAmount, household: str, scoops: Scoops, spread: Fraction, weighed: Printed
) -> tuple[tuple[Printed, Fraction, Fraction], ...]:
    """Each cup and spoon within ``spread`` of a subject: as printed, its value in the subject's base units,
    and its cost. ``weighed`` is the weight, or the volume in millilitres, that stands beside a cup.
    """
    if not _is_measured_so(subject):
        return ()
    dense = subject.density if subject.dimension is Dimension.MASS else None
    per_ml = dense.grams if dense else Fraction(1)
    ways = []
    for candidate in near(measures(household, scoops), subject.exact / per_ml, spread):
        printed = single(*candidate.terms)
        if candidate.terms[0].unit.name in _with_weight(household):
            printed = replace(printed, beside=(weighed,))
        value = candidate.value * per_ml
        ways.append((printed, value, candidate.cost + ERROR_COST / spread * abs(off(value, subject.exact))))
    return tuple(ways)


def _is_measured_so(subject: FoodAmount) -> bool:
    """Whether a cook would fill a cup or a spoon with it: what is poured, and what the larder sells so.

    Butter is cut by the marks of its wrapper, which outside the US are grams; gelatine that was weighed is
    weighed, since a spoon of it holds 7 to 9 g.
    """
    butter = subject.food is not None and subject.food.is_mainly("butter")
    if butter or (subject.dimension is Dimension.MASS and subject.role_class == "setting"):
        return False
    if subject.dimension is Dimension.VOLUME:
        return True
    sold = subject.food.us_print if subject.food else ""
    return subject.dimension is Dimension.MASS and subject.density is not None and sold == "volume"
