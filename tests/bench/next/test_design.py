"""The plan against every other set of corners, by determinants of the whole matrix with its block columns."""

from __future__ import annotations

from itertools import combinations, product

import numpy as np
import pytest
from scipy import stats

from cardsmith.bench.next.trial import NextTrial, next_trial
from cardsmith.measure.larder import load_larder
from tests.bench.lever_trials import LEVERS, Thin, thins

FOUR = "levers: [100 to 150 g water, 20 to 50 g sunflower oil, {heat: 152 to 176 °C}, {time: 22 to 30 min}]"
MADE = [
    Thin(moisture=3.6), Thin(water=110, moisture=3.2), Thin(moisture=3.5),
    Thin(water=130, dial=150, moisture=4.4),
    Thin(minutes=28, moisture=3.3), Thin(dial=156, minutes=25, moisture=3.4), Thin(oil=40, moisture=3.6),
    Thin(water=125, oil=30, moisture=3.9),
]  # fmt: skip


def planned(made: list[Thin], aim: str) -> NextTrial:
    return next_trial(thins(*made, aim=aim), load_larder())


Matrix = np.ndarray[tuple[int, int], np.dtype[np.float64]]


def matrix(found: NextTrial, points: tuple[tuple[float, ...], ...]) -> Matrix:
    """Rows of all trials and of ``points``, coded from −1 to 1 over the ranges, and a column of ones."""
    low = np.array([float(one.low or 0) for one in found.fit.factors])
    high = np.array([float(one.high or 0) for one in found.fit.factors])
    rows = np.array([*(one.values for one in found.fit.observations), *points], float)
    coded = (rows - (low + high) / 2) / ((high - low) / 2)
    return np.column_stack([coded, np.ones(len(rows))])


@pytest.mark.parametrize(("aim", "count"), [(FOUR, 3), (LEVERS, 2)])
def test_no_other_trials_would_tell_more(aim: str, count: int) -> None:
    made = MADE if count == 3 else [one for one in MADE if one.dial == 152 and one.minutes == 26]
    found = planned(made, aim)
    assert found.plan is not None
    assert len(found.plan.points) == count
    chosen = tuple(tuple(map(float, point)) for point in found.plan.points)
    ours = matrix(found, chosen)
    best = np.linalg.det(ours.T @ ours)
    corners = list(product(*((float(one.low or 0), float(one.high or 0)) for one in found.fit.factors)))
    for others in combinations(corners, count):
        theirs = matrix(found, others)
        assert np.linalg.det(theirs.T @ theirs) <= best * (1 + 1e-6)
    # and how well each effect is known then, as the whole matrix has it
    assert found.plan.halves is not None
    assert found.fit.deviation is not None
    degrees = len(ours) - ours.shape[1]
    reach = stats.t.ppf(1 - 0.05 / 2 / len(found.fit.factors), degrees)
    inverse = np.linalg.inv(ours.T @ ours)
    for at, (factor, half) in enumerate(zip(found.fit.factors, found.plan.halves, strict=True)):
        span = float((factor.high or 0) - (factor.low or 0)) / 2
        assert half == pytest.approx(reach * found.fit.deviation * np.sqrt(inverse[at, at]) / span, rel=1e-6)


def test_the_plan_ends_what_can_not_be_told_apart() -> None:
    tied = [Thin(water=100 + 10 * at, oil=20 + 2 * at, moisture=3 + at / 7 + at % 2 / 5) for at in range(6)]
    found = planned(tied, LEVERS)
    assert found.plan is not None
    assert found.plan.halves is not None


def test_a_first_trial_gets_a_plan_and_the_number_that_is_lacking() -> None:
    found = planned([Thin(moisture=4)], LEVERS)
    assert found.plan is not None
    assert found.lacking == 4  # two slopes, and two degrees of freedom beside the level of the first
    assert (len(found.plan.points), found.plan.more, found.plan.halves) == (3, 1, None)
    one_lever = planned([Thin(moisture=4)], "levers: [100 to 150 g water]")
    assert one_lever.plan is not None
    assert [point[0] for point in one_lever.plan.points] == [100, 150]


def test_without_levers_there_is_no_plan() -> None:
    assert planned(MADE, "").plan is None
