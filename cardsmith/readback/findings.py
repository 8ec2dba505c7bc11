"""What is said of a place that reads otherwise than its author wrote."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.finding import Finding, Where, error
from cardsmith.measure.units import COLUMN_NAMES


def otherwise(where: Where, written: str, printed: str, why: str, system: str = "") -> Finding:
    """An error that quotes both; ``system`` (us, metric) names the column of a list."""
    column = f" in the {COLUMN_NAMES[system]} column" if system else ""
    what = f"“{written}” would print as “{printed}”{column}, and {why}"
    instead = "another unit or wording; if the recipe is right as it stands, this is a fault of ours"
    return error("reads-otherwise", where, what, instead, written)


def percent(share: Fraction) -> str:
    """Upwards to a tenth, so that what is stated is never better than the numbers."""
    tenths = -((-share.numerator * 1000) // share.denominator)
    return f"{tenths / 10:.1f} %"
