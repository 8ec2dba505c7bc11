"""Any unit of a kitchen or a works in both systems, by pint: ``3 hp``, ``0.7 bar``, ``2 bushels``.

pint's own definitions serve here, and here alone: in a recipe they would read ``350 F`` as farads.

>>> in_works_units(Fraction(3), "horsepower").metric
('2.237 kW', '2237 W')
>>> in_works_units(Fraction(10), "stone").us[0], in_works_units(Fraction(10), "spoonfuls of hope") is None
('140 lb', True)
"""

from __future__ import annotations

import math
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any

from cardsmith.frozen import frozen
from cardsmith.reference import table
from cardsmith.regex import regex

if TYPE_CHECKING:
    import pint

# Words with a slash, a star or a small power between: pint's own parser takes more than that.
_UNIT = regex(
    r"[^\W\d]{1,30}(?: ?(?:\*\*|\^) ?-?[1-4])?(?: ?[/* ] ?[^\W\d]{1,30}(?: ?(?:\*\*|\^) ?-?[1-4])?){0,4}"
)
FIGURES = 4  # significant ones in an answer


@frozen
class InWorksUnits:
    """One measure in the units that each system has for it, the most usual first."""

    us: tuple[str, ...]
    metric: tuple[str, ...]


@cache
def _registry() -> pint.UnitRegistry[Any]:
    import pint  # noqa: PLC0415 - 0.3 s that no recipe needs

    return pint.UnitRegistry(non_int_type=Fraction)


def in_works_units(number: Fraction, unit: str) -> InWorksUnits | None:
    """``number`` of a unit that pint knows, exact on the way; None where it knows none, or no scale fits."""
    import pint  # noqa: PLC0415 - as above

    if not _UNIT.fullmatch(unit):
        return None
    ours = _registry()
    try:
        measured = ours.Quantity(number, ours.parse_units(unit))
    except (pint.errors.PintError, AttributeError, TypeError, ValueError):
        return None
    for row in table("works_units"):
        us, metric = (dict(name.split("=") for name in row[side].split("|")) for side in ("us", "metric"))
        if measured.is_compatible_with(next(iter(us))):
            return InWorksUnits(us=_shown(measured, us), metric=_shown(measured, metric))
    return None


def _shown(measured: Any, units: dict[str, str]) -> tuple[str, ...]:
    """``2.237 kW`` for each unit: four figures, and as many as a whole number needs."""
    return tuple(f"{_figures(float(measured.to(unit).magnitude))} {symbol}" for unit, symbol in units.items())


def _figures(number: float) -> str:
    places = max(FIGURES - 1 - math.floor(math.log10(abs(number))), 0) if number else 0
    figures = f"{number:.{places}f}"
    return figures.rstrip("0").rstrip(".") if "." in figures else figures
