"""Lengths in inches and in millimetres or centimetres; pans by the sizes that are sold."""

from __future__ import annotations

from fractions import Fraction
from functools import cache, lru_cache

from cardsmith.measure.pans import INCH, edges
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import System
from cardsmith.rewrite.wording import Term, range_text, terms_text

LONGEST_IN_MILLIMETRES = Fraction(29, 2)
SMALLEST_PAN = 90  # mm; below this a length is a thickness or a piece, not a pan

VESSELS = frozenset(
    "pan pans tin tins dish skillet mold mould ring casserole loaf square round cake springform sheet tart "
    "pie bundt baking frying ramekin ramekins plate terrine".split()
)


@cache
def _inches() -> tuple[Fraction, ...]:
    """The inch ladder: sixteenths to ¼, eighths to 1, quarters to 4, halves to 12, then whole inches."""
    steps = ((16, Fraction(1, 4)), (8, Fraction(1)), (4, Fraction(4)), (2, Fraction(12)), (1, Fraction(60)))
    found: list[Fraction] = []
    start = Fraction(0)
    for parts, to in steps:
        found += [
            Fraction(count, parts)
            for count in range(1, int(to * parts) + 1)
            if Fraction(count, parts) > start
        ]
        start = to
    return tuple(found)


@lru_cache(maxsize=4096)
def inches(millimetres: Fraction, *, pan: bool = False) -> Term:
    """A length as printed in inches."""
    sold = edges()["metric"].get(millimetres) if pan else None
    number = (
        sold / INCH
        if sold
        else min(_inches(), key=lambda one: (abs(one * INCH - millimetres), one.denominator))
    )
    return Term(number=number, unit="inch")


def centimetres(millimetres: Fraction, *, pan: bool = False) -> Term:
    """A length as printed in mm (below 1½ cm), else in cm: to ½ cm below 10 cm, whole above.

    ½ inch is 13 mm: neither 1 cm nor 1½ cm comes within a tenth of it.
    """
    sold = edges()["us"].get(millimetres) if pan else None
    if sold:
        return Term(number=sold / 10, unit="centimetre")
    if millimetres < LONGEST_IN_MILLIMETRES and round(millimetres) != 10:
        return Term(number=Fraction(max(round(millimetres), 1)), unit="millimetre")
    step = Fraction(1, 2) if millimetres < 100 else Fraction(1)
    return Term(number=max(round(millimetres / 10 / step) * step, step), unit="centimetre")


def length_text(length: Quantity, system: str, *, long: bool, pan: bool = False) -> str:
    """A length in ``system``; the author's own figure stands where it is in that system already."""
    own = (system == "us") == (length.unit.system is System.US)
    if own:
        unit = {"foot": "inch", "metre": "centimetre"}.get(length.unit.name, length.unit.name)
        size = INCH if unit == "inch" else Fraction(1) if unit == "millimetre" else Fraction(10)
        low, high = (Term(number=end / size, unit=unit) for end in (length.low, length.high))
    else:
        convert = inches if system == "us" else centimetres
        low, high = (convert(end, pan=pan) for end in (length.low, length.high))
    return range_text(low, high, long=long) if low != high else terms_text((low,), long=long)


def is_pan(sides: tuple[Quantity, ...], following: str) -> bool:
    """Whether a size names a pan: large enough, and a vessel's word follows."""
    near = {word.strip(",.;:)") for word in following.lower().split()[:4]}
    return min(side.low for side in sides) >= SMALLEST_PAN and bool(near & VESSELS)
