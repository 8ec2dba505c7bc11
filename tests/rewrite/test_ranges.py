"""Amounts with two ends: in one unit, never collapsed, never crossed."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cardsmith.finding import Where
from cardsmith.house import House
from cardsmith.measure.larder import Larder
from cardsmith.recipe.lines import read_line
from cardsmith.rewrite.card import Dual
from cardsmith.rewrite.printable import subject_of
from cardsmith.rewrite.ranges import dual_range

HERE = Where(file="recipe.yaml", line=1, column=1)
SLOW = settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])


def _dual(text: str, larder: Larder, house: House) -> Dual:
    line, _ = read_line(text, HERE, larder)
    assert line.amount is not None
    low = subject_of(line.amount, line)
    return dual_range(low, low.times(line.amount.high / line.amount.low), line.amount.written, house)


def _texts(dual: Dual) -> tuple[str, str]:
    assert dual.us is not None
    assert dual.metric is not None
    return dual.us.text.replace("\u00a0", " "), dual.metric.text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("text", "us", "metric"),
    [
        ("2 to 3 tablespoons water", "2 to 3 tbsp", "30 to 45 ml"),
        ("1 to 2 cups whole milk", "1 to 2 cups", "240 to 480 ml"),
        ("100 to 135 g granulated sugar", "½ to ⅔ cup", "100 to 135 g"),
        ("½ to 1 teaspoon vanilla extract", "½ to 1 tsp", "2.5 to 5 ml"),
        ("2 to 3 lemons", "2 to 3", "2 to 3 (170 g)"),
        ("1 to 1½ pounds ground beef", "1 to 1½ lb", "450 to 680 g"),
    ],
)
def test_ranges_as_an_editor_prints_them(
    text: str, us: str, metric: str, larder: Larder, house: House
) -> None:
    found = _texts(_dual(text, larder, house))
    assert found[0] == us
    if "lemon" not in text:
        assert found[1] == metric


FOODS = st.sampled_from(
    ["granulated sugar", "water", "fine salt", "unsalted butter", "cheddar", "bread flour"]
)
UNITS = st.sampled_from(["g", "ml", "cups", "tablespoons", "teaspoons", "ounces"])


@SLOW
@given(
    food=FOODS,
    unit=UNITS,
    low=st.fractions(min_value=Fraction(1, 2), max_value=40, max_denominator=4),
    more=st.fractions(min_value=Fraction(1, 4), max_value=20, max_denominator=4),
)
def test_ends_stay_apart_and_in_order(
    food: str, unit: str, low: Fraction, more: Fraction, larder: Larder, house: House
) -> None:
    scale = 10 if unit in {"g", "ml"} else 1
    low, high = low * scale, (low + more) * scale
    dual = _dual(f"{_typed(low)} to {_typed(high)} {unit} {food}", larder, house)
    for printed in (dual.us, dual.metric):
        assert printed is not None
        assert printed.low < printed.high
        assert " to " in printed.text
        assert len(set(printed.text.split(" to "))) == 2


def _typed(number: Fraction) -> str:
    whole, part = divmod(number, 1)
    return f"{whole} {part}" if whole and part else str(part or whole)


@SLOW
@given(
    food=FOODS, low=st.integers(min_value=20, max_value=400), more=st.integers(min_value=20, max_value=100)
)
def test_the_middle_stays_near_the_author_s(
    food: str, low: int, more: int, larder: Larder, house: House
) -> None:
    """A wide range may be printed coarsely, a middle that wanders would be another recipe."""
    dual = _dual(f"{low} to {low + more} g {food}", larder, house)
    assert dual.metric_error is not None
    assert abs(dual.metric_error) <= Fraction(5, 100)
    assert dual.us_error is not None
    assert abs(dual.us_error) <= Fraction(15, 100)
