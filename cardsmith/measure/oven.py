"""The oven's dial: one row a setting, so that °F and °C map one to one and back."""

from __future__ import annotations

from fractions import Fraction
from functools import cache, lru_cache
from itertools import pairwise

from cardsmith.frozen import frozen
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import System, units
from cardsmith.reference import OURS, Tables


@frozen
class Dial:
    """One setting of an oven, in the scales that are printed on one."""

    fahrenheit: int
    celsius: int
    gas_mark: str  # "" where there is none
    fan_celsius: int | None
    usual: bool  # one of the 25 °F steps


@cache
def dials(tables: Tables = OURS) -> tuple[Dial, ...]:
    """Every setting, the coolest first; the loader refuses rows that are not one to one."""
    rows = tuple(
        Dial(
            fahrenheit=int(row["fahrenheit"]),
            celsius=int(row["celsius"]),
            gas_mark=row["gas_mark"],
            fan_celsius=int(row["fan_celsius"]) if row["fan_celsius"] else None,
            usual=row["usual"] == "yes",
        )
        for row in sorted(tables.rows("oven_dials"), key=lambda row: int(row["fahrenheit"]))
    )
    for lower, upper in pairwise(rows):
        if lower.fahrenheit >= upper.fahrenheit or lower.celsius >= upper.celsius:
            raise ValueError(
                f"oven_dials.csv: {lower.fahrenheit} °F and {upper.fahrenheit} °F are out of order"
            )
    return rows


def dial(temperature: Quantity, end: Fraction, tables: Tables = OURS) -> Dial | None:
    """The setting an author meant by one end of ``temperature``; None for a gas mark no oven has.

    ``end`` is ``temperature.low`` or ``.high``. A figure that stands on no dial is either another scale's
    setting converted to the degree (163 °C is 325 °F, 392 °F is 200 °C), or else gives the nearest row in
    the author's own scale.
    """
    return _nearest(temperature.unit.system, temperature.unit.from_base(end), tables)


@lru_cache(maxsize=4096)
def _nearest(system: System, shown: Fraction, tables: Tables) -> Dial | None:
    rows = dials(tables)
    if system is System.GAS:
        return next((row for row in rows if row.gas_mark and Fraction(row.gas_mark) == shown), None)
    fahrenheit = system is System.US
    return min(
        rows,
        key=lambda row: (
            (row.fahrenheit if fahrenheit else row.celsius) != shown,
            round(_converted(row, fahrenheit=fahrenheit)) != shown,
            abs((row.fahrenheit if fahrenheit else row.celsius) - shown),
        ),
    )


def _converted(row: Dial, *, fahrenheit: bool) -> Fraction:
    """The row's other scale, converted exactly to °F or °C."""
    scale = units()["degree Fahrenheit"]
    return scale.from_base(Fraction(row.celsius)) if fahrenheit else scale.to_base(Fraction(row.fahrenheit))
