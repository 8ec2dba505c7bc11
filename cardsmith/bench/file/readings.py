"""Single measured values as they are typed: ``486 g``, ``31 mm``, ``5.4``, ``4.2 %``."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.bench.model import Measurement
from cardsmith.finding import Finding, error
from cardsmith.language.quantities import read_number, read_percent, read_quantity, read_temperature
from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Text


def read_reading(text: Text, dimension: str, example: str) -> tuple[Measurement | None, tuple[Finding, ...]]:
    """One measure of the table; a value that can't be read, or of another dimension, is a finding."""
    value: Fraction | None = None
    match dimension:
        case "percent":
            value, findings = read_share(text)
            return (
                Measurement(where=text.where, text=text.text, value=value) if value is not None else None
            ), findings
        case "number":
            value = read_number(text.text)
        case "temperature":
            heat = read_temperature(text.text)
            value = heat.middle if heat else None
        case "mass" | "length" | "count":
            quantity, _ = read_quantity(text.text, text.where)
            fits = quantity is not None and quantity.dimension is Dimension(dimension)
            value = quantity.middle if quantity and fits else None
    if value is None:
        return None, (_unread(text, f"such as: {example}"),)
    return Measurement(where=text.where, text=text.text, value=value), ()


def read_share(text: Text) -> tuple[Fraction | None, tuple[Finding, ...]]:
    """A share of one written in per cent."""
    ends = read_percent(text.text)
    if ends is None or ends[0] != ends[1] or ends[0] > 100:
        return None, (_unread(text, "per cent: 4.2 %"),)
    return ends[0] / 100, ()


def _unread(text: Text, instead: str) -> Finding:
    what = f"“{text.text}” can't be read as what is measured here"
    return error("unreadable-measure", text.where, what, instead, text.text)
