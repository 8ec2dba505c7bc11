"""One amount on its own in both systems; a range by both its ends, neither collapsed nor crossed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import product

from cardsmith.house.style import House
from cardsmith.language.spans import Kind
from cardsmith.measure.quantity import Bound
from cardsmith.measure.units import WEIGHED, Dimension, System
from cardsmith.rewrite.printed import Dual, Printed, dual_of
from cardsmith.rewrite.rounding.counted import counted, printables
from cardsmith.rewrite.rounding.food_amount import FoodAmount
from cardsmith.rewrite.rounding.printable import (
    Printable,
    cheapest,
    in_decimals,
    in_units_of,
    nearest,
    said_range,
)
from cardsmith.rewrite.rounding.sizes import size

# How far the ends of a range may stand off: numbers of a ladder, the wider where that saves a second measure
# ("1 to 1¼ cups"), then as near as keeps them apart.
ON_LADDER = tuple(Fraction(1, part) for part in (20, 10))
CLOSE = Fraction(1, 25)
# "2 tablespoons to ¼ cup" reads worse than a few percent more error; "400 g to 1 kg" doesn't, nor do the
# author's own ends.
TWO_UNITS = Fraction(3)


def single_dual(subject: FoodAmount, written: str, house: House) -> Dual:
    """An amount that nothing else must agree with: the cheapest expression inside its tolerance."""
    us, metric = (in_column(subject, house, system) for system in ("us", "metric"))
    return dual(subject, written, us, metric)


def dual(subject: FoodAmount, written: str, us: Printed, metric: Printed) -> Dual:
    """Both printed forms with the author's amount, its bound, and what the step between them rests on."""
    measures = {us.dimension, metric.dimension, subject.dimension}
    dense = subject.density if measures >= WEIGHED else None
    basis = dense or (subject.one if Dimension.COUNT in measures else None)
    us, metric = _bounded(subject, us, "us"), _bounded(subject, metric, "metric")
    return dual_of(
        written,
        (subject.amount,),
        us,
        metric,
        count=subject.pieces,
        density=basis,
        basis=basis.basis if basis else "",
    )


def _bounded(subject: FoodAmount, printed: Printed, system: str) -> Printed:
    """The author's bound; a statement of its own, and a size in brackets beside a count, have theirs."""
    if subject.count or subject.container or printed.bound is not Bound.EXACTLY:
        return printed
    ends = (printed.least, printed.most)
    said = next(
        (quantity for quantity in in_units_of(subject, system) if (quantity.low, quantity.high) == ends),
        subject.amount,
    )
    return replace(printed, bound=said.bound) if said.bound is not printed.bound else printed


def in_column(subject: FoodAmount, house: House, system: str) -> Printed:
    """The cheapest expression of one column; of a range the cheapest pair of ends that stay apart."""
    if subject.count or subject.container or subject.dimension is Dimension.COUNT:
        return counted(subject, house, system)
    if subject.dimension is Dimension.LENGTH:
        return size((subject.amount,), Kind.LENGTH, system)
    spread = house.tolerances[subject.role_class]
    if not subject.amount.is_range:
        return cheapest(printables(subject, house, spread, system)).printed
    own = said_range(subject, system)
    if own:
        return own
    round_ends = [_ends(subject, house, min(width, spread), system) for width in ON_LADDER]
    fitting = [pair for pair in round_ends if pair and all(printable.on_ladder for printable in pair)]
    best = min(fitting, key=_measures) if fitting else _ends(subject, house, min(CLOSE, spread), system)
    if best:
        lower, upper = best
        return replace(lower.printed, high=upper.printed.high)
    low, high = subject.ends()
    close = (subject.amount.high - subject.amount.low) / subject.amount.high / 8
    lower, upper = (
        in_decimals(end, close) if system == "us" else nearest(printables(end, house, close, system))
        for end in (low, high)
    )
    return replace(lower.printed, high=upper.printed.high)


Pair = tuple[Printable, Printable]


def _ends(subject: FoodAmount, house: House, spread: Fraction, system: str) -> Pair | None:
    """The cheapest pair of ends within ``spread`` that stay apart."""
    lows, highs = (printables(end, house, spread, system) for end in subject.ends())
    return min((pair for pair in product(lows, highs) if _stay_apart(*pair)), key=_cost, default=None)


def _measures(pair: Pair) -> int:
    """How many measures both ends ask for."""
    return sum(len(printable.printed.high) for printable in pair)


def _stay_apart(lower: Printable, upper: Printable) -> bool:
    low, high = lower.printed, upper.printed
    return low.dimension is high.dimension and low.most < high.least


def _cost(pair: Pair) -> Fraction:
    lower, upper = pair
    low, high = lower.printed.high[0].unit, upper.printed.high[0].unit
    free = low is high or high.system is System.METRIC or not lower.cost + upper.cost
    error = abs(lower.error) + abs(upper.error)
    return lower.cost + upper.cost + (0 if free else TWO_UNITS) + 10 * error
