"""How much each factor moves a measure: ordinary least squares over trials in which all else is alike.

Trials that are alike but for the factors form a block with a level of its own, so that nothing else that
differs between two trials is ever credited to a factor; a trial that no other is like tells nothing. What
the trials can't tell apart, or too few trials tell, stays unsaid. Intervals are t intervals, those of
several factors widened together (Bonferroni).
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Iterator, Sequence
from fractions import Fraction
from typing import Any

from cardsmith.bench.model import Factor, Trial, Trials
from cardsmith.bench.next.factors import setting
from cardsmith.bench.numerics import numpy, scipy
from cardsmith.bench.repeats import Value, step_of
from cardsmith.bench.statistics import LEVEL
from cardsmith.frozen import frozen

# Degrees of freedom that the scatter must rest on before anything is said (common practice, no source).
LEAST = 2
_ZERO, _FAINT = 1e-9, 1e-6  # what is no difference of inputs, and of what follows from them


@frozen
class Observation:
    """One trial in the fit: its factors' values in g, °C and minutes, and the measure."""

    trial: Trial
    values: tuple[float, ...]
    block: Hashable
    measure: Fraction


@frozen
class LeftOut:
    """A trial that could not be used, and what it does not tell."""

    trial: Trial
    lacks: tuple[str, ...]  # names of factors; none where the measure itself is lacking


@frozen
class Slope:
    """What one more unit of a factor does to the measure; None where the trials can't tell.

    ``tied`` names the factors that changed only together with it, ``half`` is half of its interval.
    """

    factor: Factor
    value: float | None
    half: float | None
    tied: tuple[str, ...] = ()
    tried: tuple[float, float] | None = None  # the least and the most in trials that were compared


@frozen
class Fit:
    """The line through the trials, at the scale of one formula. ``degrees`` below `LEAST` says too few."""

    factors: tuple[Factor, ...]
    observations: tuple[Observation, ...]  # all that could be used, also those alone in their block
    left_out: tuple[LeftOut, ...]
    slopes: tuple[Slope, ...]
    degrees: int
    deviation: float | None  # standard deviation of one trial about the line; None with too few
    coefficients: tuple[float, ...]
    inverse: Any  # of the factors' sums of squares within blocks: times the variance, their covariance

    @property
    def compared(self) -> int:
        """How many trials are alike to another but for the factors."""
        return sum(len(block) for block in self.blocks.values() if len(block) > 1)

    @property
    def blocks(self) -> dict[Hashable, list[Observation]]:
        """The trials that are alike but for the factors."""
        by_formula: dict[Hashable, list[Observation]] = {}
        for observation in self.observations:
            by_formula.setdefault(observation.block, []).append(observation)
        return by_formula

    @property
    def is_enough(self) -> bool:
        """Whether anything may be said of an effect."""
        return self.deviation is not None


@frozen
class Expectation:
    """What one further trial should measure; half of its 95 % interval, and factors beyond what was tried."""

    value: float
    half: float
    beyond: tuple[Factor, ...]


def observed(
    trials: Trials, factors: Sequence[Factor], value: Value, start: Trial
) -> tuple[tuple[Observation, ...], tuple[LeftOut, ...]]:
    """Every trial that tells the measure and all factors, at the scale of ``start``; and the others."""
    used, left = [], []
    for trial in trials.trials:
        at, measure = setting(trials, trial, factors, start), value(trial)
        if measure is None or at.known is None:
            pairs = zip(factors, at.values, strict=True)
            lacks = (
                tuple(factor.name for factor, known in pairs if known is None) if measure is not None else ()
            )
            left.append(LeftOut(trial=trial, lacks=lacks))
        else:
            values = tuple(map(float, at.known))
            used.append(Observation(trial=trial, values=values, block=at.alike, measure=measure))
    return tuple(used), tuple(left)


def fit(trials: Trials, factors: Sequence[Factor], value: Value, start: Trial) -> Fit:
    """The least-squares line through all trials that can be compared."""
    used, left = observed(trials, factors, value, start)
    return line_through(used, left, tuple(factors))


@frozen
class _Solution:
    """Least squares of centred rows; arrays of NumPy."""

    coefficients: Any
    inverse: Any  # of the sums of squares, where nothing tells as small as it can be
    untold: Any  # what the rows leave open: a row of nothing where they tell a coefficient
    rank: int
    rest: float  # sum of squares that is left over


def _least_squares(x: Sequence[Sequence[float]], y: Sequence[float], count: int) -> _Solution:
    """The line through rows that may leave some coefficients open."""
    array = numpy()
    matrix = array.array(x, dtype=float).reshape(len(x), count)
    widest = array.abs(matrix).max(axis=0, initial=0)
    scale = array.where(widest > _ZERO, widest, 1)
    scaled, wanted = matrix / scale, array.array(y, dtype=float)
    squares = scaled.T @ scaled
    inverse = scipy("linalg").pinvh(squares, rtol=_ZERO) if count else squares
    coded = inverse @ scaled.T @ wanted
    rest = wanted - scaled @ coded
    return _Solution(
        coefficients=coded / scale,
        inverse=inverse / array.outer(scale, scale),
        untold=array.identity(count) - inverse @ squares,
        rank=int(array.linalg.matrix_rank(scaled, tol=_FAINT)) if x and count else 0,
        rest=float(rest @ rest),
    )


def line_through(used: Sequence[Observation], left: Sequence[LeftOut], factors: tuple[Factor, ...]) -> Fit:
    """The line through observations."""
    blocks: dict[Hashable, list[Observation]] = {}
    for observation in used:
        blocks.setdefault(observation.block, []).append(observation)
    groups = [group for group in blocks.values() if len(group) > 1]
    x = [row for group in groups for row in _centred([observation.values for observation in group])]
    y = [
        row[0]
        for group in groups
        for row in _centred([(float(observation.measure),) for observation in group])
    ]
    solved = _least_squares(x, y, len(factors))
    degrees = len(x) - len(groups) - solved.rank
    deviation = None
    if degrees >= LEAST:
        # Readings written in steps scatter by a step's rounding, however alike they look.
        rounding = float(step_of([observation.measure for observation in used])) ** 2 / 12
        deviation = math.sqrt(max(solved.rest / degrees, rounding)) or None
    compared = [observation.values for group in groups for observation in group]
    return Fit(
        factors=factors,
        observations=tuple(used),
        left_out=tuple(left),
        slopes=tuple(_slopes(factors, solved, compared, degrees, deviation)),
        degrees=degrees,
        deviation=deviation,
        coefficients=tuple(map(float, solved.coefficients)),
        inverse=solved.inverse,
    )


def _slopes(
    factors: tuple[Factor, ...],
    solved: _Solution,
    compared: Sequence[tuple[float, ...]],
    degrees: int,
    deviation: float | None,
) -> Iterator[Slope]:
    """The effect of each factor, with an interval that is wide enough for all of them."""
    open_ = [[abs(float(share)) > _FAINT for share in row] for row in solved.untold]
    known = sum(not any(row) for row in open_)
    reach = float(scipy("stats").t.ppf(float(1 - LEVEL / 2 / max(known, 1)), degrees)) if deviation else 0.0
    for at, factor in enumerate(factors):
        tried = [values[at] for values in compared]
        is_known = not any(open_[at])
        yield Slope(
            factor=factor,
            value=float(solved.coefficients[at]) if is_known else None,
            half=reach * deviation * math.sqrt(float(solved.inverse[at, at]))
            if is_known and deviation
            else None,
            tied=tuple(other.name for place, other in enumerate(factors) if place != at and open_[at][place]),
            tried=(min(tried), max(tried)) if tried else None,
        )


def _centred(rows: Sequence[Sequence[float]]) -> list[tuple[float, ...]]:
    means = [sum(column) / len(rows) for column in zip(*rows, strict=True)]
    return [tuple(value - mean for value, mean in zip(row, means, strict=True)) for row in rows]


def expected(fit: Fit, block: Hashable, values: Sequence[float]) -> Expectation | None:
    """What a trial of one block should measure; None where nothing that was tried tells.

    The variance is that of a further trial: its own scatter, that of its block's mean, and of the line.
    """
    array = numpy()
    like = fit.blocks.get(block, [])
    if fit.deviation is None or not like:
        return None
    means = [sum(observation.values[at] for observation in like) / len(like) for at in range(len(values))]
    away = array.array([value - mean for value, mean in zip(values, means, strict=True)])
    sized = array.array([1 / _width(slope) for slope in fit.slopes])
    for slope, by, unit in zip(fit.slopes, away, sized, strict=True):
        if slope.value is None and abs(float(by * unit)) > _FAINT:
            return None
    level = float(sum(observation.measure for observation in like) / len(like))
    variance = 1 + 1 / len(like) + float(away @ fit.inverse @ away)
    reach = float(scipy("stats").t.ppf(float(1 - LEVEL / 2), fit.degrees))
    beyond = tuple(
        slope.factor
        for slope, value, unit in zip(fit.slopes, values, sized, strict=True)
        if slope.value is not None
        and slope.tried is not None
        and not slope.tried[0] - _FAINT / unit <= value <= slope.tried[1] + _FAINT / unit
    )
    return Expectation(
        value=level + float(away @ array.array(fit.coefficients)),
        half=reach * fit.deviation * math.sqrt(variance),
        beyond=beyond,
    )


def _width(slope: Slope) -> float:
    """How far a factor was tried, or may change: what a small difference is small against."""
    tried = slope.tried or (0.0, 0.0)
    allowed = float((slope.factor.high or 0) - (slope.factor.low or 0))
    return max(tried[1] - tried[0], allowed) or 1.0
