"""Sizes in both systems: lengths, pans by the sizes that are sold, what vessels hold, altitude, pressure.

The author's own figure stands in its own column. A length for which no rule has a mark within a tenth stays
metric in both columns: 1 mm is no 1⁄16 inch.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from math import floor

from cardsmith.language.spans import Kind
from cardsmith.measure.pans import INCH, edges
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import COLUMNS, Dimension, System, Unit, units
from cardsmith.reference import OURS, Tables
from cardsmith.rewrite.printed import Printed, Term, off
from cardsmith.rewrite.rounding.printable import own_term

NEAR = Fraction(1, 10)  # how far a mark of the rule may stand off
# Up to so many inches, the marks of a rule in parts of an inch: the coarsest that comes near is read.
MARKS = (
    (Fraction(1, 4), (16, 32)),
    (Fraction(1), (8, 16, 32)),
    (Fraction(4), (4, 8)),
    (Fraction(12), (2, 4)),
    (Fraction(120), (1,)),
)
FEET = Fraction(3048)  # mm; from here on a length is said in feet
LONGEST_IN_MILLIMETRES = Fraction(29, 2)
METRES = Fraction(3000)  # mm; from here on a length is said in metres
# The steps of two ends that lie close together.
FINER = tuple(Fraction(1, part) for part in (8, 16, 32, 1000))
DECIMALS = tuple(Fraction(1, part) for part in (2, 10, 100, 1000))
# An altitude (mm) is known to so many feet or metres (common practice, no source), a low one to fewer; it is
# rounded down, since what an altitude asks for is more time or pressure from there on.
ALTITUDE = {
    "us": ("foot", (Fraction(50), Fraction(10))),
    "metric": ("metre", (Fraction(50), Fraction(10))),
}
# From so many ml up: the unit a market sells a vessel by, and the steps of its sizes (in that unit), of which
# the coarsest that comes near is taken: 1.2 litres are 1¼ quarts.
VESSELS = {
    "us": (
        (Fraction(900), "quart", (Fraction(1, 2), Fraction(1, 4))),
        (Fraction(470), "cup", (Fraction(1, 2), Fraction(1, 4))),
        (Fraction(0), "fluid ounce", (Fraction(1), Fraction(1, 2), Fraction(1, 4))),
    ),
    "metric": (
        (Fraction(1000), "litre", (Fraction(1, 10),)),
        (Fraction(100), "millilitre", (Fraction(10),)),
        (Fraction(0), "millilitre", (Fraction(5), Fraction(1))),
    ),
}


def size(sides: tuple[Quantity, ...], kind: Kind, system: str, tables: Tables = OURS) -> Printed:
    """A size of one or several edges in ``system`` (us, metric)."""
    first, *others = (_size(side, kind, system, tables) for side in sides)
    if not others:
        return first
    return Printed(low=first.low, high=first.high, bound=first.bound, across=tuple(others))


def _size(side: Quantity, kind: Kind, system: str, tables: Tables) -> Printed:
    """Both ends of one edge: in finer steps where they would meet, in metric where only one has a mark."""
    ends = [(side.low, side.unit), (side.high, side.high_unit or side.unit)]
    low, high = (_end(side, *end, kind, system, tables) for end in ends)
    if not side.low:
        low = replace(high, number=Fraction(0))  # nothing is as much in any unit: 0 to ¾ inch
    if side.is_range and low.value >= high.value:
        low, high = _apart(side, low.unit)
    elif low.unit.system is not high.unit.system:
        low, high = (_end(side, *end, kind, "metric", tables) for end in ends)
    return Printed(low=(low,), high=(high,), bound=side.bound)


def _end(side: Quantity, end: Fraction, unit: Unit, kind: Kind, system: str, tables: Tables) -> Term:
    return own_term(side, end, COLUMNS[system], unit) or _term(end, unit, kind, system, tables)


def _apart(side: Quantity, unit: Unit) -> tuple[Term, Term]:
    """Both ends in the coarsest step that keeps them apart."""
    steps = FINER if unit.system is System.US else DECIMALS
    for step in steps:
        low, high = (
            Term(number=round(end / unit.size / step) * step, unit=unit) for end in (side.low, side.high)
        )
        if low.value < high.value:
            break
    return low, high


def _tenths(millimetres: Fraction) -> Term:
    return Term(number=Fraction(round(millimetres * 10), 10), unit=units()["millimetre"])


def _term(end: Fraction, unit: Unit, kind: Kind, system: str, tables: Tables) -> Term:
    if unit.dimension is Dimension.PRESSURE:
        return pressure(end, system)
    if unit.dimension is Dimension.VOLUME:
        return vessel(end, system)
    if kind is Kind.ALTITUDE:
        return _near(end, *ALTITUDE[system], whole=floor)
    sold = tables if kind is Kind.VESSEL else None
    return inches(end, sold) if system == "us" else centimetres(end, sold)


def _stepped(end: Fraction, unit: str, step: Fraction, whole: Callable[[Fraction], int] = round) -> Term:
    """The nearest multiple of ``step``, or the one that ``whole`` says; one at least where there is any."""
    to_unit = units()[unit]
    if not end:
        return Term(number=Fraction(0), unit=to_unit)
    return Term(number=max(whole(end / to_unit.size / step), 1) * step, unit=to_unit)


def vessel(millilitres: Fraction, system: str) -> Term:
    """What a vessel holds, as its market marks it."""
    _, unit, steps = next(row for row in VESSELS[system] if millilitres >= row[0])
    return _near(millilitres, unit, steps)


def _near(
    end: Fraction, unit: str, steps: tuple[Fraction, ...], whole: Callable[[Fraction], int] = round
) -> Term:
    """The multiple of the coarsest step that comes within a tenth: the nearest, or the one ``whole`` says."""
    terms = [_stepped(end, unit, step, whole) for step in steps]
    return next((term for term in terms if not end or abs(off(term.value, end)) <= NEAR), terms[-1])


def pressure(kilopascals: Fraction, system: str) -> Term:
    """A pressure above that of the air: 10 psi, 69 kPa."""
    if system == "metric":
        return _stepped(kilopascals, "kilopascal", Fraction(1))
    return _stepped(kilopascals, "pound per square inch", Fraction(1, 2))


def inches(millimetres: Fraction, pans: Tables | None = None) -> Term:
    """A length as a rule in inches shows it; in millimetres where no mark comes within a tenth.

    An edge of one of the ``pans`` is as it is sold.
    """
    inch = units()["inch"]
    sold = edges(pans)["metric"].get(millimetres) if pans else None
    if sold:
        return Term(number=sold / INCH, unit=inch)
    if millimetres >= FEET:
        return _stepped(millimetres, "foot", Fraction(1))
    number = millimetres / INCH
    # The nearest mark of the ladder may belong to the next rung: just under an inch is an inch.
    parts = next(parts for to, parts in MARKS if number <= to)
    marks = (Fraction(round(number * part), part) for part in parts)
    near = next((mark for mark in marks if mark and abs(off(mark, number)) <= NEAR), None)
    if near is None:
        return _tenths(millimetres)
    return Term(number=near, unit=inch)


def centimetres(millimetres: Fraction, pans: Tables | None = None) -> Term:
    """A length in mm (below 1½ cm), in cm (to ½ cm below 10 cm, whole above), or from 3 m up in metres.

    An edge of one of the ``pans`` is as it is sold.

    ½ inch is 13 mm: neither 1 cm nor 1½ cm comes within a tenth of it.
    """
    sold = edges(pans)["us"].get(millimetres) if pans else None
    if sold:
        return Term(number=sold / 10, unit=units()["centimetre"])
    if millimetres >= METRES:
        return _stepped(millimetres, "metre", Fraction(1, 10))
    if millimetres < LONGEST_IN_MILLIMETRES and round(millimetres) != 10:
        steps = (Fraction(1), Fraction(1, 2), Fraction(1, 10))
        rungs = (round(millimetres / step) * step for step in steps)
        near = next((rung for rung in rungs if rung and abs(off(rung, millimetres)) <= NEAR), None)
        return Term(number=near or Fraction(1, 10), unit=units()["millimetre"])
    term = _stepped(millimetres, "centimetre", Fraction(1, 2) if millimetres < 100 else Fraction(1))
    if abs(off(term.value, millimetres)) > NEAR:
        return _stepped(millimetres, "millimetre", Fraction(1))
    return term
