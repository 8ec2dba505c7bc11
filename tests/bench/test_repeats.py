from __future__ import annotations

import math
from fractions import Fraction

import pytest
from scipy import stats

from cardsmith.bench.model import Trials
from cardsmith.bench.repeats import repeats
from cardsmith.reference import table
from tests.bench.trial_samples import trials


def made(*formulas: tuple[str, ...]) -> Trials:
    """Formulas, each made as often as it has heights."""
    lines, number = ["trials:"], 0
    for heights in formulas:
        first = number + 1
        for height in heights:
            number += 1
            formula = "ingredients: [100 g water]" if number == first else f"from: {first}"
            lines.append(
                f"  - {{trial: {number}, date: 2026-03-02, {formula}, measured: {{height: {height}}}}}"
            )
    return trials("\n".join(lines))


def height(one: object) -> Fraction | None:
    return one.value("height")  # type: ignore[attr-defined,no-any-return]


def test_the_table_is_student_s_t_of_scipy() -> None:
    assert [(int(row["degrees"]), float(row["t"])) for row in table("student_t")] == [
        (degrees, round(float(stats.t.ppf(0.975, degrees)), 3)) for degrees in range(1, 31)
    ]


def test_formulas_are_pooled_as_a_one_way_analysis_of_variance_pools_them() -> None:
    groups = [("31 mm", "33 mm", "32 mm"), ("40 mm", "44 mm")]
    found = repeats(made(*groups), height)
    assert found is not None
    # By hand: squares 2 and 8, so s² = 10/3 with 3 degrees of freedom; 3.182 · √(2 · 10/3) = 8.22.
    assert found.limit == pytest.approx(8.22, abs=0.005)
    numbers = [[float(one.split()[0]) for one in group] for group in groups]
    within = sum(len(group) * float(stats.describe(group, ddof=0).variance) for group in numbers)
    scale = math.sqrt(2 * within / 3)
    assert found.limit == pytest.approx(float(stats.t.ppf(0.975, 3)) * scale, rel=1e-3)
    assert found.makes == 5


def test_a_single_make_tells_nothing() -> None:
    assert repeats(made(("31 mm",), ("40 mm",)), height) is None


@pytest.mark.parametrize(("heights", "limit"), [(("31 mm", "31 mm"), 1), (("3.1 mm", "3.1 mm"), 0.1)])
def test_no_difference_counts_that_the_last_decimal_hides(heights: tuple[str, ...], limit: float) -> None:
    found = repeats(made(heights), height)
    assert found is not None
    assert found.limit == pytest.approx(limit)
