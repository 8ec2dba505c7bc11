"""The fit against least squares with a column for each block, by hand, and over many known truths."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from cardsmith.bench.model import Trial, Trials
from cardsmith.bench.next.factors import setting
from cardsmith.bench.next.fit import Fit, expected, fit
from cardsmith.bench.next.trial import factors_of
from tests.bench.lever_trials import Thin, thins

WATER = "levers: [100 to 150 g water]"


def moisture(trial: Trial) -> Fraction | None:
    return trial.value("moisture")


def line(found: Trials) -> Fit:
    start = found.trials[-1]
    return fit(found, factors_of(found, start), moisture, start)


def test_by_hand() -> None:
    """100, 110, 120, 130 g gave 3, 3.2, 3.5, 3.5 %: sums of squares 500, of products 9, left over 0.018."""
    found = line(
        thins(
            *(Thin(water=g, moisture=m) for g, m in ((100, 3), (110, 3.2), (120, 3.5), (130, 3.5))), aim=WATER
        )
    )
    (slope,) = found.slopes
    assert slope.value == pytest.approx(9 / 500 / 100)
    assert found.degrees == 2
    assert found.deviation == pytest.approx((0.018 / 2) ** 0.5 / 100)
    assert slope.half == pytest.approx(4.30265 * (0.009 / 500) ** 0.5 / 100, rel=1e-5)  # t of 2 at 97.5 %
    # 115 g: the mean 3.3 %, its half 4.30265 × √(0.009 × (1 + 1/4))
    guess = expected(found, found.observations[0].block, [115.0])
    assert guess is not None
    assert guess.value == pytest.approx(0.033)
    assert guess.half == pytest.approx(4.30265 * (0.009 * 1.25) ** 0.5 / 100, rel=1e-5)


SOME = [
    Thin(water=150, moisture=4.6), Thin(moisture=3.5), Thin(oil=50, moisture=3.4),
    Thin(water=110, moisture=3.4),
    Thin(moisture=3.7), Thin(water=140, oil=45, moisture=4.3), Thin(oil=20, moisture=3.9),
    Thin(water=100, cook="B. Marl", moisture=3.6), Thin(water=130, oil=30, cook="B. Marl", moisture=4.4),
    Thin(water=125, cook="B. Marl", moisture=4.3), Thin(salt=6, moisture=9),
]  # fmt: skip


def test_it_is_least_squares_with_a_level_for_each_cook() -> None:
    found = line(thins(*SOME))
    used = SOME[:-1]  # nothing was like the salty one
    marl = [one.cook == "B. Marl" for one in used]
    columns = np.array(
        [[one.water, one.oil, not hers, hers] for one, hers in zip(used, marl, strict=True)], float
    )
    y = np.array([one.moisture for one in used], float) / 100
    (slopes, rest, rank, _) = np.linalg.lstsq(columns, y, rcond=None)
    degrees = len(used) - rank
    assert found.degrees == degrees
    assert found.compared == len(used)
    assert found.deviation == pytest.approx(float(np.sqrt(rest[0] / degrees)))
    covariance = np.linalg.inv(columns.T @ columns) * rest[0] / degrees
    reach = stats.t.ppf(1 - 0.05 / 2 / 2, degrees)  # two effects share one error of 5 %
    for at, slope in enumerate(found.slopes):
        assert slope.value == pytest.approx(slopes[at], rel=1e-6)
        assert slope.half == pytest.approx(reach * np.sqrt(covariance[at, at]), rel=1e-6)
    row = np.array([135.0, 40.0, 0.0, 1.0])
    guess = expected(found, found.observations[7].block, [135.0, 40.0])
    assert guess is not None
    assert guess.value == pytest.approx(float(row @ slopes))
    spread = rest[0] / degrees * (1 + row @ np.linalg.inv(columns.T @ columns) @ row)
    assert guess.half == pytest.approx(float(stats.t.ppf(0.975, degrees) * np.sqrt(spread)))


@given(
    st.lists(
        st.tuples(st.integers(100, 150), st.integers(20, 50), st.integers(20, 90)), min_size=6, max_size=9
    ),
    st.sampled_from([Fraction(1, 2), Fraction(2), Fraction(5, 4)]),
    st.integers(1, 30),
)
@settings(max_examples=25, deadline=None)
def test_half_a_batch_and_another_cooks_level_change_no_effect(
    made: list[tuple[int, int, int]], size: Fraction, more: int
) -> None:
    plain = [Thin(water=w, oil=o, moisture=m / 10, cook="AB"[n % 2]) for n, (w, o, m) in enumerate(made)]
    other = [
        Thin(
            water=one.water,
            oil=one.oil,
            cook=one.cook,
            moisture=(one.moisture or 0) + (more if one.cook == "A" else 0),
            size=size if number < len(plain) - 1 else Fraction(1),
        )
        for number, one in enumerate(plain)
    ]
    for one, changed in zip(line(thins(*plain)).slopes, line(thins(*other)).slopes, strict=True):
        assert (one.value is None) == (changed.value is None)
        if one.value is not None and changed.value is not None:
            assert changed.value == pytest.approx(one.value, abs=1e-9)
            assert changed.half == (None if one.half is None else pytest.approx(one.half, rel=1e-5, abs=1e-9))


def test_what_could_not_be_used_says_why() -> None:
    made = thins(*SOME[:6], Thin(moisture=None), aim=WATER)
    unheard = replace(made.trials[0], oven=replace(made.trials[0].oven, offset=None))
    found = line(replace(made, trials=(unheard, *made.trials[1:])))
    assert [(one.trial.number, one.lacks) for one in found.left_out] == [(7, ())]
    levers = "levers: [100 to 150 g water, {heat: 150 to 170 °C}]"
    heated = thins(*SOME[:6], aim=levers)
    found = line(replace(heated, trials=(unheard, *heated.trials[1:])))
    assert [(one.trial.number, one.lacks) for one in found.left_out] == [(1, ("true heat",))]


def test_nothing_is_said_from_fewer_trials_than_it_takes() -> None:
    found = line(thins(*SOME[:4]))
    assert found.degrees == 1
    assert not found.is_enough
    assert all(slope.half is None for slope in found.slopes)
    assert expected(found, found.observations[0].block, [120.0, 35.0]) is None


def test_what_changed_only_together_is_not_told_apart() -> None:
    found = line(thins(*(Thin(water=100 + 10 * at, oil=20 + 2 * at, moisture=3 + at / 7) for at in range(6))))
    water, oil = found.slopes
    assert (water.value, oil.value) == (None, None)
    assert (water.tied, oil.tied) == (("sunflower oil",), ("water",))


def test_what_never_changed_is_not_known_and_the_rest_is() -> None:
    water, oil = line(
        thins(*(Thin(water=100 + 10 * at, moisture=3 + at / 7 + at % 2) for at in range(6)))
    ).slopes
    assert water.half is not None
    assert (oil.value, oil.tied) == (None, ())


def test_readings_all_on_a_line_scatter_by_their_rounding() -> None:
    found = line(thins(*(Thin(water=100 + 10 * at, moisture=3 + at / 10) for at in range(6)), aim=WATER))
    assert found.deviation == pytest.approx(0.001 / 12**0.5)


def test_heat_and_time_that_vary_are_factors_and_never_ascribed_to_water() -> None:
    made = [
        Thin(water=100 + 10 * at, dial=150 + 2 * at * (at % 3), minutes=24 + at % 4, moisture=3 + at / 9)
        for at in range(9)
    ]
    found = thins(*made, aim=WATER)
    assert [one.name for one in factors_of(found, found.trials[-1])] == ["water", "true heat", "bake time"]
    at = setting(found, found.trials[0], factors_of(found, found.trials[-1]), found.trials[-1])
    assert at.values == (100, 162, 24)


def test_intervals_hold_the_truth_as_often_as_they_say() -> None:
    """300 sets of nine trials of a known truth: effects, all at once, and one further trial."""
    chance = random.Random(7)
    design = [
        (100, 20),
        (150, 50),
        (100, 50),
        (150, 20),
        (125, 35),
        (110, 35),
        (140, 35),
        (125, 25),
        (125, 45),
    ]
    held = foreseen = 0
    sets = 300
    base = thins(*(Thin(water=w, oil=o, moisture=4.1234567) for w, o in design))
    start = base.trials[-1]
    factors = factors_of(base, start)
    used = fit(base, factors, moisture, start).observations
    for _ in range(sets):
        level = {one.trial.number: chance.gauss(0, 0.003) for one in used}

        def reading(trial: Trial, level: dict[int, float] = level) -> Fraction:
            w, o = design[trial.number - 1]
            return Fraction(0.04 + 0.0003 * (w - 125) - 0.0002 * (o - 35) + level[trial.number])

        found = fit(base, factors, reading, start)
        halves = [(slope.value or 0, slope.half or 0) for slope in found.slopes]
        held += all(
            abs(value - true) <= half for (value, half), true in zip(halves, (0.0003, -0.0002), strict=True)
        )
        guess = expected(found, found.observations[0].block, [130.0, 40.0])
        assert guess is not None
        got = 0.04 + 0.0003 * 5 - 0.0002 * 5 + chance.gauss(0, 0.003)
        foreseen += abs(got - guess.value) <= guess.half
    assert held / sets == pytest.approx(0.955, abs=0.03)  # Bonferroni is a little wide
    assert foreseen / sets == pytest.approx(0.95, abs=0.03)
