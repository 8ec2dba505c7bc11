"""One amount in two systems as rounded tables give it: 25 g is printed as 1 oz, which weighs 28 g.

The metric figure is what was measured, and the other a column beside it; no arithmetic is wrong there.

"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System, units
from cardsmith.reference import table

NEAR = Fraction(1, 20)  # no table is needed for two figures as near as this
_PRINTED = frozenset("ounce pound pint".split()) | {"fluid ounce", "imperial fluid ounce", "imperial pint"}


@cache
def _pairs() -> frozenset[tuple[Dimension, Fraction, Fraction]]:
    """What is measured, in grams or millilitres, and the ounces or fluid ounces printed beside it."""
    rows = table("rounded_pairs")
    pairs = ((units()[row["metric_unit"]], row["metric"], row["customary"]) for row in rows)
    return frozenset(
        (unit.dimension, unit.to_base(Fraction(metric_number)), Fraction(two))
        for unit, metric_number, two in pairs
    )


def as_measured(metric: Quantity, other: Quantity) -> Quantity:
    """``other`` as ``metric`` in its own words, where a rounded table prints the two side by side."""
    alike = metric.unit.system is System.METRIC and metric.dimension is other.dimension
    if not alike or other.unit.name not in _PRINTED or metric.is_range or other.is_range or other.terms:
        return other
    if abs(metric.low / other.low - 1) <= NEAR:
        return other
    ounce = "ounce" if other.dimension is Dimension.MASS else "imperial fluid ounce"
    if other.dimension is Dimension.VOLUME and other.unit.system is System.US:
        ounce = "fluid ounce"
    pair = (other.dimension, metric.low, units()[ounce].from_base(other.low))
    bound = metric.bound if other.bound.is_unlevel else other.bound  # what a scant cup holds was measured
    return replace(metric, written=other.written, bound=bound) if pair in _pairs() else other
