"""What makes of one unchanged formula differ by, and from where on a difference is more than that.

The variances of all repeated formulas are pooled; two single makes of one formula differ by more than
t·s·√2 once in twenty times (the least significant difference; with many makes the repeatability limit of
ISO 5725-6, 2.8 s). From two makes alone hardly anything can be told, and the limit says so.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import cache

from cardsmith.bench.model import Trial, Trials
from cardsmith.frozen import frozen
from cardsmith.reference import table

_PLACES = 4  # decimals that a reading is written with, at most

Value = Callable[[Trial], Fraction | None]


@frozen
class Repeats:
    """How far repeats of one formula differ in one measure; a difference up to ``limit`` is no effect."""

    makes: int
    limit: float


@cache
def _critical() -> tuple[float, ...]:
    return tuple(float(row["t"]) for row in table("student_t"))


def repeats(trials: Trials, value: Value) -> Repeats | None:
    """What makes of one formula differ by in a measure; None where none was measured twice."""
    groups = [group for group in _groups(trials, value) if len(group) > 1]
    degrees = sum(len(group) - 1 for group in groups)
    if not degrees:
        return None
    squares = sum(
        float(sum(((result - mean(group)) ** 2 for result in group), Fraction(0))) for group in groups
    )
    critical = _critical()[min(degrees, len(_critical())) - 1]
    limit = critical * math.sqrt(2 * squares / degrees)
    written = [result for group in groups for result in group]
    return Repeats(makes=len(written), limit=max(limit, float(step_of(written))))


def mean(values: list[Fraction]) -> Fraction:
    """The exact mean."""
    return sum(values, Fraction(0)) / len(values)


def _groups(trials: Trials, value: Value) -> Iterator[list[Fraction]]:
    """The values of each formula's makes."""
    for trial in trials.trials:
        makes = trials.makes(trial)
        if makes and makes[0] is trial:
            yield [measured for make in makes if (measured := value(make)) is not None]


def step_of(values: list[Fraction]) -> Fraction:
    """The last decimal that the readings are written with: two that differ by it may be one value.

    Nothing where they were converted, so that their decimals tell nothing.
    """
    for places in range(_PLACES + 1):
        if all((value * 10**places).denominator == 1 for value in values):
            return Fraction(1, 10**places)
    return Fraction(0)
