"""What a vessel holds: ``a 3-quart (3 L) saucepan``. A size to choose by, not an amount to measure."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import System, units
from cardsmith.rewrite.wording import Term, terms_text

VESSELS = frozenset(
    "pot pots saucepan saucepans pan pans jar jars bottle bottles glass glasses ramekin ramekins "
    "bowl bowls cup cups dish dishes casserole kettle mold molds mould moulds jug pitcher basin "
    "tin tins container containers skillet oven".split()
)
# From so many ml up: the unit a market sells the vessel by, and the step of its sizes (in that unit).
US_SIZES = (
    (Fraction(900), "quart", Fraction(1, 2)),
    (Fraction(470), "cup", Fraction(1, 2)),
    (Fraction(0), "fluid ounce", Fraction(1)),
)
METRIC_SIZES = (
    (Fraction(1000), "litre", Fraction(1, 10)),
    (Fraction(100), "millilitre", Fraction(10)),
    (Fraction(0), "millilitre", Fraction(5)),
)


def is_vessel(following: str) -> bool:
    """Whether a vessel's word is among the next three words of the sentence."""
    words = following.lower().replace("-", " ").split()[:3]
    return any(word.rstrip(",.;:)") in VESSELS for word in words)


def capacity_text(volume: Quantity, system: str) -> str:
    """The size as its market marks it; the author's own figure stays in its own system."""
    own = (system == "us") == (volume.unit.system is System.US)
    if own and volume.unit.name in {"quart", "cup", "pint", "gallon", "fluid ounce", "litre", "millilitre"}:
        return _text(Term(number=volume.unit.from_base(volume.low), unit=volume.unit.name), system)
    sizes = US_SIZES if system == "us" else METRIC_SIZES
    _, unit, step = next(size for size in sizes if volume.low >= size[0])
    number = volume.low / units()[unit].size / step
    return _text(Term(number=max(round(number), 1) * step, unit=unit), system)


def _text(term: Term, system: str) -> str:
    if system == "metric":
        return terms_text((term,))
    singular = Term(number=Fraction(1), unit=term.unit)
    word = terms_text((singular,), long=True).partition("\u00a0")[2]
    return f"{terms_text((term,), long=True).partition(chr(0xA0))[0]}-{word.replace(' ', '-')}"
