"""Temperatures in both scales, each purpose by its own rule. No safety limit is rounded towards danger.

- oven: the row of the dial table that the author meant
- frying, sugar, dough, room and other instrument readings: to 1 °C and 1 °F
- doneness and hot holding: upwards; cold holding: downwards; published pairs (165 °F and 74 °C) as printed
- differences ("25 °F lower"): as differences, an oven's to 5 degrees
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from functools import cache

from cardsmith.language.spans import Purpose
from cardsmith.measure.oven import dial
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System, Unit, units
from cardsmith.reference import table
from cardsmith.rewrite.wording import NO_BREAK, decimal_text, fraction_text

HOT = Fraction(45)  # °C; holding above this keeps food hot, below it keeps food cold
SMALLEST_DIAL_CHANGE = 5  # degrees, in either scale


@cache
def _published() -> dict[str, dict[Fraction, Fraction]]:
    """The other scale's figure for published safety limits, by the scale one has."""
    rows = [(Fraction(row["fahrenheit"]), Fraction(row["celsius"])) for row in table("safety_pairs")]
    return {"us": dict(rows), "metric": {c: f for f, c in rows}}


def _fahrenheit() -> Unit:
    return units()["degree Fahrenheit"]


def nearest(value: Fraction) -> int:
    """The nearest whole number, halves away from zero as a cook rounds."""
    return math.floor(value + Fraction(1, 2)) if value >= 0 else -math.floor(-value + Fraction(1, 2))


def _rounding(purpose: Purpose | None, celsius: Fraction) -> Callable[[Fraction], int]:
    """Which way a limit may move: a cooking minimum up, a keeping maximum down, a reading to the nearest."""
    if purpose is Purpose.CORE or (purpose is Purpose.HOLDING and celsius > HOT):
        return math.ceil
    if purpose is Purpose.HOLDING:
        return math.floor
    return nearest


def in_scale(temperature: Quantity, end: Fraction, purpose: Purpose | None, system: str) -> int:
    """One end of ``temperature`` as the whole number of degrees to print in ``system`` (us, metric).

    The author's own scale keeps the author's figure, except that an oven setting goes by the dial.
    """
    if purpose is Purpose.OVEN or temperature.unit.system is System.GAS:
        row = dial(temperature, end)
        if row is not None:
            return row.fahrenheit if system == "us" else row.celsius
    written = temperature.unit.from_base(end)
    own = temperature.unit.system.value == system
    rounding = _rounding(purpose, end)
    if own:
        return int(written) if written.denominator == 1 else rounding(written)
    limits = _published().get(temperature.unit.system.value, {})
    if rounding is not nearest and written in limits:
        return int(limits[written])
    return rounding(_fahrenheit().from_base(end) if system == "us" else end)


def temperature_text(temperature: Quantity, purpose: Purpose | None, system: str) -> str:
    """``160 °C``; ``350 °F to 375 °F`` is printed ``350 to 375 °F``. Ends that meet print once."""
    low = in_scale(temperature, temperature.low, purpose, system)
    high = in_scale(temperature, temperature.high, purpose, system)
    scale = "°F" if system == "us" else "°C"
    ends = _signed(low) if low == high else f"{_signed(low)} to {_signed(high)}"
    return f"{ends}{NO_BREAK}{scale}"


def oven_extras(temperature: Quantity, extras: frozenset[str]) -> str:
    """``, fan 160 °C, gas 4`` after an oven's Celsius, as far as the house asks and the dial table knows."""
    row = dial(temperature, temperature.low) if temperature.low == temperature.high else None
    if row is None:
        return ""
    fan = f", fan {row.fan_celsius}{NO_BREAK}°C" if "fan" in extras and row.fan_celsius else ""
    gas = f", gas {_mark(row.gas_mark)}" if "gas" in extras and row.gas_mark else ""
    return fan + gas


def _mark(mark: str) -> str:
    return fraction_text(Fraction(mark))


def change_text(change: Quantity, purpose: Purpose | None, system: str) -> str:
    """A difference of temperature: 25 °F is 14 °C, on an oven's dial 15 °C."""
    if change.dimension is not Dimension.TEMPERATURE_CHANGE:
        raise ValueError(f"{change.written!r} is not a difference of temperature")
    step = SMALLEST_DIAL_CHANGE if purpose is Purpose.OVEN else 1
    degree = units()["degree Fahrenheit (difference)"].size if system == "us" else Fraction(1)
    own = change.unit.system.value == system
    ends = [end / degree for end in dict.fromkeys((change.low, change.high))]
    numbers = [
        int(end) if own and end.denominator == 1 else max(nearest(end / step), 1) * step for end in ends
    ]
    scale = "°F" if system == "us" else "°C"
    return f"{' to '.join(_signed(number) for number in numbers)}{NO_BREAK}{scale}"


def _signed(number: int) -> str:
    return decimal_text(Fraction(number))
