"""Amounts in grams, millilitres, millimetres and pieces, and how far a printed one may be off."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path

from tests.language.meaning.statements import Drawn, Statement
from tests.printed.printed_reader import Reading

HERE = Path(__file__).parent

# Grams, millilitres and millimetres: exact definitions of the US units (NIST Handbook 44, App. C).
SIZES: dict[str, tuple[str, Fraction]] = {
    name: (dimension, Fraction(value))
    for name, dimension, value in (
        row.split()
        for row in """gram mass 1
        kilogram mass 1000
        milligram mass 1/1000
        ounce mass 28.349523125
        pound mass 453.59237
        millilitre volume 1
        centilitre volume 10
        decilitre volume 100
        litre volume 1000
        teaspoon volume 4.92892159375
        tablespoon volume 14.78676478125
        cup volume 236.5882365
        fluid_ounce volume 29.5735295625
        pint volume 473.176473
        quart volume 946.352946
        gallon volume 3785.411784
        gill volume 118.29411825
        millimetre length 1
        centimetre length 10
        metre length 1000
        inch length 25.4
        foot length 304.8""".splitlines()
    )
}
SIZES["fluid ounce"] = SIZES.pop("fluid_ounce")
METRIC = {
    "gram", "kilogram", "milligram", "millilitre", "centilitre", "decilitre", "litre", "millimetre",
    "centimetre", "metre",
}  # fmt: skip
STICK = Fraction("113.4")


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """An amount in grams, millilitres, millimetres or pieces."""

    dimension: str
    low: Fraction
    high: Fraction


def extent(low: Fraction, high: Fraction, unit: str, high_unit: str = "") -> Extent | None:
    """Low and high of a unit in the base unit of its dimension; none for a unit unknown here."""
    if unit in ("", "whole"):
        return Extent(dimension="count", low=low, high=high)
    if unit not in SIZES:
        return None
    dimension, size = SIZES[unit]
    last = SIZES.get(high_unit, (dimension, size))[1]
    return Extent(dimension=dimension, low=low * size, high=high * last)


def of_statement(said: Statement) -> Extent:
    """A statement's own figures; a piece word or a container is a count."""
    return extent(said.low, said.high, said.unit if said.unit in SIZES else "", said.high_unit) or Extent(
        dimension="count", low=said.low, high=said.high
    )


def of_reading(read: Reading) -> Extent | None:
    return extent(read.low, read.high, read.unit, read.high_unit)


def compounded(reads: Iterable[Reading]) -> list[Reading]:
    """Pounds with the ounces behind them as one reading in ounces, and a sum of volumes as one in cups."""
    made: list[Reading] = []
    for read in reads:
        last = made[-1] if made else None
        unit = "" if last is None else _summed_in(last, read)
        if last is not None and unit:
            made[-1] = _added(last, read, unit)
        else:
            made.append(read)
    return made


def _summed_in(last: Reading, read: Reading) -> str:
    """The unit of a sum, if the second reading is added to the first."""
    if last.depth != read.depth or last.of or read.start - last.end > 8:
        return ""
    units = {last.unit, read.unit}
    if last.unit in ("pound", "ounce") and read.unit == "ounce" and read.join in ("", "and", "comma", "plus"):
        return "ounce" if last.unit == "pound" or last.high_unit else ""
    return "cup" if read.join == "plus" and units <= {"cup", "tablespoon", "teaspoon"} else ""


def _added(last: Reading, read: Reading, unit: str) -> Reading:
    """A sum in one unit; what follows a range is added to its high end: 1 lb 3 oz to 1 lb 6 oz."""
    size = SIZES[unit][1]
    first, second = (SIZES[one.unit][1] / size for one in (last, read))
    low = last.low * first
    high = last.high * (SIZES[last.high_unit][1] / size if last.high_unit else first)
    if last.high_unit:
        high += read.high * second
    elif read.high_unit:
        low, high = low + read.low * second, read.high * SIZES[read.high_unit][1] / size
    else:
        low, high = low + read.low * second, high + read.high * second
    open_end = unit if last.high_unit or read.high_unit else ""
    return replace(last, sides=((low, high),), unit=unit, high_unit=open_end, of=read.of, end=read.end)


def times(one: Extent, count: Extent) -> Extent:
    return Extent(dimension=one.dimension, low=one.low * count.low, high=one.high * count.high)


def tolerance(printed: Reading | None, meant: Extent) -> Fraction:
    """How far a printed figure may be off, by its unit and its size."""
    if meant.dimension == "count":
        return Fraction(0)
    if meant.dimension == "length":
        return Fraction(10, 100)
    return share_of(printed.unit if printed else "", meant.dimension, meant.low)


def share_of(unit: str, dimension: str, amount: Fraction) -> Fraction:
    """How far a printed weight or volume may be off: 12 % if tiny, 8 % of spoons and cups, 5 % of others.

    A quarter teaspoon may be printed as 1 ml, and ounces go by quarters.
    """
    if dimension == "volume" and amount < 2:
        return Fraction(20, 100)
    if dimension == "mass" and amount < Fraction(1, 2):
        return Fraction(25, 100)  # a tenth of a gram more or less
    if unit == "ounce" and amount > 20:
        return max(Fraction(5, 100), Fraction("3.6") / amount)
    if amount <= (Fraction(15, 2) if dimension == "volume" else 30):
        return Fraction(12, 100)
    return Fraction(8, 100) if unit in ("cup", "tablespoon", "teaspoon") else Fraction(5, 100)


def near(printed: Extent, meant: Extent, share: Fraction) -> bool:
    """Whether both ends agree within a share of the meant ones."""
    if printed.dimension != meant.dimension:
        return False
    return all(
        abs(one - other) <= share * abs(other) + Fraction(1, 1000)
        for one, other in ((printed.low, meant.low), (printed.high, meant.high))
    )


@cache
def _densities() -> tuple[tuple[re.Pattern[str], tuple[Fraction, ...]], ...]:
    """Grams in a millilitre by the name of a food: the household volumes of it that SR 28 weighs."""
    found: dict[str, list[Fraction]] = {}
    with (HERE / "sr28_volumes.csv").open(encoding="utf-8", newline="") as table:
        for row in csv.DictReader(table):
            volume = Fraction(row["amount"]) * SIZES[row["unit"]][1]
            found.setdefault(row["food"], []).append(Fraction(row["grams"]) / volume)
    return tuple((re.compile(food, re.I), tuple(known)) for food, known in found.items())


def densities(food: str) -> tuple[Fraction, ...]:
    """What SR 28 gives for a millilitre of this food in grams; empty where it weighs none."""
    return next((found for name, found in _densities() if name.search(food)), ())


def by_density(printed: Extent, meant: Extent, food: str) -> str:
    """Whether a weight for a volume, or a volume for a weight, is the food's; the fault in words."""
    if {printed.dimension, meant.dimension} != {"mass", "volume"}:
        return f"{printed.dimension} printed for {meant.dimension}"
    mass, volume = (printed, meant) if printed.dimension == "mass" else (meant, printed)
    known = densities(food)
    for end, weight, room in (("low", mass.low, volume.low), ("high", mass.high, volume.high)):
        density = weight / room if room else Fraction(0)
        if not Fraction(15, 100) <= density <= Fraction(14, 10) and not known:
            return f"density {float(density):.2f} at the {end} end"
        share = Fraction(25 if weight < Fraction(1, 2) else 15, 100)
        if known and not any(abs(density - one) <= one * share for one in known):
            span = f"{float(min(known)):.2f} to {float(max(known)):.2f}"
            return f"density {float(density):.2f} against {span} of SR 28"
    return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """A drawn line's statements by what they are for."""

    mains: tuple[Statement, ...]
    sizes: tuple[Statement, ...]  # of each
    besides: tuple[Statement, ...]  # of all
    others: tuple[Statement, ...]  # alternatives and amounts for a use
    butter: bool = False  # whose sticks have a weight

    def count(self) -> Extent | None:
        return next(
            (
                of_statement(one)
                for one in self.mains + self.besides
                if of_statement(one).dimension == "count"
            ),
            None,
        )

    def totals(self) -> list[Extent]:
        """Every way the whole amount is said: the sum, what stands beside, each times the count."""
        found = []
        terms = [of_statement(one) for one in self.mains]
        if len({one.dimension for one in terms}) == 1 and terms[0].dimension != "count":
            found.append(
                Extent(
                    dimension=terms[0].dimension,
                    low=sum((one.low for one in terms), Fraction(0)),
                    high=sum((one.high for one in terms), Fraction(0)),
                )
            )
        found += [of_statement(one) for one in self.besides if of_statement(one).dimension != "count"]
        count = self.count()
        if count:
            found += [times(of_statement(one), count) for one in self.sizes]
        if self.butter and any(one.unit == "stick" for one in self.mains + self.besides) and count:
            found.append(times(Extent(dimension="mass", low=STICK, high=STICK), count))
        return found


def meaning(drawn: Drawn) -> Meant:
    """Sort the statements of a drawn line."""
    said = [one for one in drawn.statements if one.kind != "none"]
    return Meant(
        mains=tuple(one for one in said if one.role == "main"),
        sizes=tuple(one for one in said if one.role == "beside" and one.of == "each"),
        besides=tuple(one for one in said if one.role == "beside" and one.of == "all"),
        others=tuple(one for one in said if one.role in ("alternative", "for use")),
        butter="butter" in drawn.food,
    )
