"""Amounts with two ends: both printed in one unit, neither collapsed nor crossed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.house import House
from cardsmith.measure.units import Dimension
from cardsmith.rewrite.card import Dual, Printed
from cardsmith.rewrite.counted import printables
from cardsmith.rewrite.printable import Printable, Subject, by_weight_only
from cardsmith.rewrite.wording import NO_BREAK

SPREADS = (Fraction(1, 20), Fraction(1, 10), Fraction(1, 5), Fraction(2, 5))
TWO_UNITS = Fraction(3)  # "2 tablespoons to ¼ cup" reads worse than a few percent more error


def dual_range(low: Subject, high: Subject, written: str, house: House) -> Dual:
    """A range in both systems; ``low`` and ``high`` are its exact ends."""
    if low.dimension is Dimension.COUNT:  # "2 to 3 (150 g)" would leave open which end weighs 150 g
        low, high = replace(low, food=None), replace(high, food=None)
    us = _both_ends(low, high, house, "us")
    metric = _both_ends(low, high, house, "metric")
    middle = (low.exact + high.exact) / 2
    crosses = {us.dimension, metric.dimension} == {Dimension.MASS, Dimension.VOLUME}
    dense = low.density if crosses else None
    return Dual(
        author=written,
        exact=middle,
        dimension=low.dimension,
        metric=metric,
        us=us,
        density=dense.grams if dense else None,
        assumed=dense.basis if dense else "",
        metric_error=_error(metric, middle, low.dimension, dense.grams if dense else None),
        us_error=_error(us, middle, low.dimension, dense.grams if dense else None),
    )


def _both_ends(low: Subject, high: Subject, house: House, system: str) -> Printed:
    """The cheapest pair of ends that stay apart, as near as the ladder allows."""
    for spread in SPREADS:
        pairs = [
            (lower, upper)
            for lower in printables(low, house, spread, system)
            for upper in printables(high, house, spread, system)
            if lower.value < upper.value and lower.printed.dimension is upper.printed.dimension
        ]
        if pairs:
            lower, upper = min(pairs, key=_cost)
            return _join(lower.printed, upper.printed)
    return _join(by_weight_only(low, house).printed, by_weight_only(high, house).printed)


def _cost(pair: tuple[Printable, Printable]) -> Fraction:
    lower, upper = pair
    same = _unit(lower.printed.text) == _unit(upper.printed.text)
    error = abs(lower.error) + abs(upper.error)
    return lower.cost + upper.cost + (0 if same else TWO_UNITS) + 10 * error


def _unit(text: str) -> str:
    """The unit's word at the end of a printed amount, ``cups`` and ``cup`` being one."""
    return text.rpartition(NO_BREAK)[2].removesuffix("s")


def _join(low: Printed, high: Printed) -> Printed:
    """``2 to 3 tbsp``: the unit once where both ends have the same, and each has one term."""

    def ends(lower: str, upper: str) -> str:
        lower, upper = lower or low.text, upper or high.text
        once = _unit(lower) == _unit(upper) and NO_BREAK in lower and lower.count(NO_BREAK) == 1
        return f"{lower.partition(NO_BREAK)[0] if once else lower} to {upper}"

    return Printed(
        text=ends(low.text, high.text),
        low=low.low,
        high=high.high,
        dimension=high.dimension,
        long=ends(low.long, high.long),
    )


def _error(
    printed: Printed, middle: Fraction, dimension: Dimension, grams_per_ml: Fraction | None
) -> Fraction:
    """The middle of the printed ends against the author's middle, in the author's dimension."""
    value = (printed.low + printed.high) / 2
    if printed.dimension is not dimension and grams_per_ml:
        value = value * grams_per_ml if printed.dimension is Dimension.VOLUME else value / grams_per_ml
    return value / middle - 1 if middle else Fraction(0)
