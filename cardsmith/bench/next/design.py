"""The two or three trials that would tell most: a small design over the ranges that the cook allows.

A straight line is told best by the ends of the ranges. Of all sets of so many corners the one is chosen that
makes the determinant of the information about the factors greatest, beside the trials there are already
(D-optimal augmentation: V. V. Fedorov, Theory of Optimal Experiments, 1972; memory).
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Sequence
from fractions import Fraction
from itertools import combinations, product
from typing import Any

from cardsmith.bench.model import Factor
from cardsmith.bench.next.fit import LEAST, Fit
from cardsmith.bench.numerics import numpy, scipy
from cardsmith.bench.statistics import LEVEL
from cardsmith.frozen import frozen

FEWEST, MOST = 2, 3  # trials of a plan
_FAINT = 1e-6  # information taken as given of what nothing tells yet, so that sets can be compared


@frozen
class Plan:
    """The trials that would tell most: a value of each allowed factor for each of them.

    ``halves`` are half intervals of the slopes, as they should come out if the scatter stays what it is; None
    where the scatter is unknown.
    """

    factors: tuple[Factor, ...]
    points: tuple[tuple[Fraction, ...], ...]
    halves: tuple[float, ...] | None
    more: int  # further trials that it takes then; 0 where these are enough


def plan(fit: Fit, start: Hashable, now: Sequence[float]) -> Plan | None:
    """The plan for trials that are like the block ``start`` but for the factors; None where none is allowed.

    What is no lever stays as it is ``now``.
    """
    allowed = tuple(factor for factor in fit.factors if factor.is_allowed)
    if not allowed:
        return None
    corners = [
        point
        for point in product(*((factor.low or Fraction(0), factor.high or Fraction(0)) for factor in allowed))
        if any(abs(float(value) - was) > 1e-9 for value, was in zip(point, _of(fit, now), strict=True))
    ]
    best: tuple[float, float, tuple[int, ...]] | None = None
    count = min(MOST if lacking(fit, start, FEWEST) or len(allowed) > FEWEST else FEWEST, len(corners))
    for chosen in combinations(range(len(corners)), count):
        knowledge = _told(fit, start, now, [corners[at] for at in chosen])
        far = sum(_distance(fit, now, corners[at]) for at in chosen)
        rank = (-round(knowledge, 9), round(far, 9), chosen)
        best = min(best, rank) if best is not None else rank
    if best is None:
        return None
    points = tuple(corners[at] for at in best[2])
    missing = lacking(fit, start, count)
    return Plan(
        factors=allowed,
        points=points,
        halves=_halves(fit, start, now, points) if fit.deviation is not None else None,
        more=missing,
    )


def point_at(fit: Fit, now: Sequence[float], point: Sequence[Fraction]) -> list[float]:
    """A value of every factor: those of a plan, and all else as it is ``now``."""
    planned = iter(point)
    return [
        float(next(planned)) if factor.is_allowed else was
        for factor, was in zip(fit.factors, now, strict=True)
    ]


def _of(fit: Fit, values: Sequence[float]) -> list[float]:
    """The values of the allowed factors alone."""
    return [value for value, factor in zip(values, fit.factors, strict=True) if factor.is_allowed]


def lacking(fit: Fit, start: Hashable, more: int = 0) -> int:
    """How many trials are lacking, after so many more like ``start``, for all effects to be told."""
    blocks = {key: len(group) for key, group in fit.blocks.items()}
    blocks[start] = blocks.get(start, 0) + more
    degrees = sum(size - 1 for size in blocks.values())
    return max(LEAST + len(fit.factors) - degrees, 0)


def _spans(fit: Fit) -> list[float]:
    """Half of how far each factor may change, or was tried: the unit of the design."""
    spans = []
    for slope in fit.slopes:
        low, high = slope.factor.low, slope.factor.high
        tried = slope.tried or (0.0, 0.0)
        span = float(high - low) if high is not None and low is not None else tried[1] - tried[0]
        spans.append(span / 2 or 1.0)
    return spans


def _distance(fit: Fit, now: Sequence[float], point: Sequence[Fraction]) -> float:
    spans = [span for span, factor in zip(_spans(fit), fit.factors, strict=True) if factor.is_allowed]
    return sum(
        abs(float(value) - was) / span for value, was, span in zip(point, _of(fit, now), spans, strict=True)
    )


def _information(
    fit: Fit, start: Hashable, now: Sequence[float], points: Sequence[Sequence[Fraction]]
) -> Any:
    """Sums of squares of the coded factors within blocks, with further trials at ``points``."""
    array, spans = numpy(), _spans(fit)
    blocks: dict[Hashable, list[list[float]]] = {
        key: [list(observation.values) for observation in group] for key, group in fit.blocks.items()
    }
    for point in points:
        blocks.setdefault(start, []).append(point_at(fit, now, point))
    whole = array.zeros((len(spans), len(spans)))
    for rows in blocks.values():
        coded = array.array(rows) / array.array(spans)
        away = coded - coded.mean(axis=0)
        whole = whole + away.T @ away
    return whole


def _told(fit: Fit, start: Hashable, now: Sequence[float], points: Sequence[Sequence[Fraction]]) -> float:
    """The logarithm of the determinant of the information."""
    array = numpy()
    whole = _information(fit, start, now, points)
    return float(array.linalg.slogdet(whole + _FAINT * array.identity(len(whole)))[1])


def _halves(
    fit: Fit, start: Hashable, now: Sequence[float], points: Sequence[Sequence[Fraction]]
) -> tuple[float, ...] | None:
    array, spans = numpy(), _spans(fit)
    whole = _information(fit, start, now, points)
    rank = int(array.linalg.matrix_rank(whole, tol=1e-7))
    degrees = fit.degrees + len(points) + (start not in fit.blocks) * -1
    degrees -= rank - int(array.linalg.matrix_rank(_information(fit, start, now, ()), tol=1e-7))
    if rank < len(spans) or degrees < LEAST or fit.deviation is None:
        return None
    inverse = scipy("linalg").inv(whole)
    reach = float(scipy("stats").t.ppf(float(1 - LEVEL / 2 / len(spans)), degrees))
    return tuple(
        reach * fit.deviation * math.sqrt(float(inverse[at, at])) / spans[at]
        for at, factor in enumerate(fit.factors)
        if factor.is_allowed
    )
