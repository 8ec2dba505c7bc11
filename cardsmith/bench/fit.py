"""How much each factor moves a measure: ordinary least squares over trials in which all else is alike.

Trials that are alike but for the factors form a block with a level of its own, so that nothing else that
differs between two trials is ever credited to a factor; a trial that no other is like tells nothing. What
the trials can't tell apart, or too few trials tell, stays unsaid. Intervals are t intervals, those of
several factors widened together (Bonferroni).
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from cardsmith.bench.factors import setting
from cardsmith.bench.model import Factor, Trial, Trials
from cardsmith.bench.numerics import numpy, scipy
from cardsmith.bench.repeats import Value, step_of
from cardsmith.bench.statistics import LEVEL

# Degrees of freedom that the scatter must rest on before anything is said (common practice, no source).
LEAST = 2
_ZERO = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """One trial in the fit: its factors' values in g, °C and minutes, and the measure."""

    trial: Trial
    values: tuple[float, ...]
    block: Hashable
    measure: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A trial that could not be used, and what it does not tell."""

    trial: Trial
    lacks: tuple[str, ...]  # names of factors; none where the measure itself is lacking


@dataclass(frozen=True, slots=True, kw_only=True)
class Slope:
    """What one more unit of a factor does to the measure; None where the trials can't tell.

    ``tied`` names the factors that changed only together with it, ``half`` is half of its interval.
    """

    factor: Factor
    value: float | None
    half: float | None
    tied: tuple[str, ...] = ()
    tried: tuple[float, float] | None = None  # the least and the most in trials that were compared


@dataclass(frozen=True, slots=True, kw_only=True)
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
        found: dict[Hashable, list[Observation]] = {}
        for one in self.observations:
            found.setdefault(one.block, []).append(one)
        return found

    @property
    def is_enough(self) -> bool:
        """Whether anything may be said of an effect."""
        return self.deviation is not None


@dataclass(frozen=True, slots=True, kw_only=True)
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
            told = zip(factors, at.values, strict=True)
            lacks = tuple(one.name for one, known in told if known is None) if measure is not None else ()
            left.append(LeftOut(trial=trial, lacks=lacks))
        else:
            values = tuple(map(float, at.known))
            used.append(Observation(trial=trial, values=values, block=at.alike, measure=measure))
    return tuple(used), tuple(left)


def fit(trials: Trials, factors: Sequence[Factor], value: Value, start: Trial) -> Fit:
    """The least-squares line through all trials that can be compared."""
    used, left = observed(trials, factors, value, start)
    return line_through(used, left, tuple(factors))


def line_through(used: Sequence[Observation], left: Sequence[LeftOut], factors: tuple[Factor, ...]) -> Fit:
    """The line through observations."""
    array = numpy()
    blocks: dict[Hashable, list[Observation]] = {}
    for one in used:
        blocks.setdefault(one.block, []).append(one)
    rows = [group for group in blocks.values() if len(group) > 1]
    x = [value for group in rows for value in _centred([one.values for one in group], len(factors))]
    y = [value[0] for group in rows for value in _centred([(float(one.measure),) for one in group], 1)]
    matrix = array.array(x, dtype=float).reshape(len(x), len(factors))
    scale = array.where(
        array.abs(matrix).max(axis=0, initial=0) > _ZERO, array.abs(matrix).max(axis=0, initial=0), 1
    )
    scaled = matrix / scale
    inverse = scipy("linalg").pinvh(scaled.T @ scaled, rtol=_ZERO)
    rank = int(array.linalg.matrix_rank(scaled, tol=1e-7)) if x and len(factors) else 0
    coded = inverse @ scaled.T @ array.array(y, dtype=float) if x else array.zeros(len(factors))
    degrees = len(x) - len(rows) - rank
    deviation = None
    if degrees >= LEAST:
        rest = array.array(y) - scaled @ coded
        read = step_of([one.measure for one in used])
        # Readings written in steps scatter by a step's rounding, however alike they look.
        deviation = math.sqrt(max(float(rest @ rest) / degrees, float(read) ** 2 / 12))
    told = array.identity(len(factors)) - inverse @ (scaled.T @ scaled)  # what the trials don't tell
    known = [bool(array.abs(told[at]).max(initial=0) < 1e-6) for at in range(len(factors))]
    confidence = float(1 - LEVEL / 2 / max(sum(known), 1))
    factor_of_half = float(scipy("stats").t.ppf(confidence, degrees)) if degrees >= LEAST else None
    slopes = []
    for at, factor in enumerate(factors):
        tried = [one.values[at] for group in rows for one in group]
        slopes.append(
            Slope(
                factor=factor,
                value=float(coded[at] / scale[at]) if known[at] else None,
                half=factor_of_half * deviation * math.sqrt(float(inverse[at, at])) / float(scale[at])
                if known[at] and deviation is not None and factor_of_half is not None
                else None,
                tied=tuple(
                    other.name
                    for place, other in enumerate(factors)
                    if place != at and not known[at] and abs(float(told[at, place])) > 1e-6
                ),
                tried=(min(tried), max(tried)) if tried else None,
            )
        )
    return Fit(
        factors=factors,
        observations=tuple(used),
        left_out=tuple(left),
        slopes=tuple(slopes),
        degrees=degrees,
        deviation=deviation,
        coefficients=tuple(float(one) for one in coded / scale),
        inverse=inverse / array.outer(scale, scale),
    )


def _centred(rows: Sequence[Sequence[float]], width: int) -> list[tuple[float, ...]]:
    means = [sum(row[at] for row in rows) / len(rows) for at in range(width)]
    return [tuple(row[at] - means[at] for at in range(width)) for row in rows]


def expected(found: Fit, block: Hashable, values: Sequence[float]) -> Expectation | None:
    """What a trial of one block should measure; None where nothing that was tried tells.

    The variance is that of a further trial: its own scatter, that of its block's mean, and of the line.
    """
    array = numpy()
    like = found.blocks.get(block, [])
    if found.deviation is None or not like:
        return None
    means = [sum(one.values[at] for one in like) / len(like) for at in range(len(values))]
    away = array.array([value - mean for value, mean in zip(values, means, strict=True)])
    sized = array.array([1 / _width(slope) for slope in found.slopes])
    for slope, by, unit in zip(found.slopes, away, sized, strict=True):
        if slope.value is None and abs(float(by * unit)) > 1e-6:
            return None
    level = float(sum(one.measure for one in like) / len(like))
    variance = 1 + 1 / len(like) + float(away @ found.inverse @ away)
    reach = float(scipy("stats").t.ppf(float(1 - LEVEL / 2), found.degrees))
    beyond = tuple(
        slope.factor
        for slope, value, unit in zip(found.slopes, values, sized, strict=True)
        if slope.value is not None
        and slope.tried is not None
        and not slope.tried[0] - 1e-6 / unit <= value <= slope.tried[1] + 1e-6 / unit
    )
    return Expectation(
        value=level + float(away @ array.array(found.coefficients)),
        half=reach * found.deviation * math.sqrt(variance),
        beyond=beyond,
    )


def _width(slope: Slope) -> float:
    """How far a factor was tried, or may change: what a small difference is small against."""
    tried = slope.tried or (0.0, 0.0)
    allowed = float((slope.factor.high or 0) - (slope.factor.low or 0))
    return max(tried[1] - tried[0], allowed) or 1.0
