"""The ways one amount of one food may be printed."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cardsmith.finding import Where
from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import Dimension, units
from cardsmith.recipe.fields.lines import read_line
from cardsmith.rewrite.rounding.counted import printables
from cardsmith.rewrite.rounding.food_amount import FoodAmount, food_amount_of
from cardsmith.rewrite.rounding.printable import metric_printables, said, us_printables
from cardsmith.rewrite.wording import short

SLOW = settings(max_examples=80, suppress_health_check=[HealthCheck.function_scoped_fixture])


def _subject(larder: Larder, key: str, grams: Fraction | int, unit: str = "gram") -> FoodAmount:
    return FoodAmount(amount=quantity(grams, units()[unit]), food=larder.foods[key])


@SLOW
@given(
    key=st.sampled_from(
        ["all-purpose-flour", "granulated-sugar", "unsalted-butter", "water", "fine-salt", "cheddar", "honey"]
    ),
    tenths=st.integers(min_value=10, max_value=20000),
    percent=st.sampled_from([1, 3, 5, 10]),
)
def test_values_errors_and_spread_agree(
    key: str, tenths: int, percent: int, larder: Larder, house: House
) -> None:
    subject = _subject(larder, key, Fraction(tenths, 10))
    spread = Fraction(percent, 100)
    for one in us_printables(subject, house, spread):
        assert abs(one.error) <= max(spread, Fraction(1, 8))  # a small spoon's
        assert one.value == subject.exact * (1 + one.error)
        per_base = 1 if one.printed.dimension is Dimension.MASS else subject.density.grams  # type: ignore[union-attr]
        assert one.value == one.printed.least * per_base
        assert not one.printed.is_range
    metric = metric_printables(subject, house, spread)
    assert metric
    assert all(one.value == subject.exact * (1 + one.error) for one in metric)


@pytest.mark.parametrize(
    ("key", "grams", "word"),
    [
        ("cheddar", 225, "oz"),
        ("bittersweet-chocolate", 170, "oz"),
        ("ground-beef", 450, "lb"),
        ("granulated-sugar", 200, "cup"),
        ("unsalted-butter", 113, "cup"),
        ("ground-cinnamon", 3, "tsp"),
    ],
)
def test_each_food_prints_as_its_market_sells_it(
    key: str, grams: int, word: str, larder: Larder, house: House
) -> None:
    found = us_printables(_subject(larder, key, grams), house, Fraction(1, 10))
    assert found
    assert any(word in short(one.printed) for one in found)
    dimensions = {one.printed.dimension for one in found}
    assert dimensions == ({Dimension.MASS} if word in {"oz", "lb"} else {Dimension.VOLUME})


def test_without_a_density_a_weight_stays_a_weight(house: House) -> None:
    subject = FoodAmount(amount=quantity(100, units()["gram"]))
    assert {one.printed.dimension for one in us_printables(subject, house, Fraction(1, 20))} == {
        Dimension.MASS
    }


def test_a_volume_without_a_density_stays_a_volume(house: House) -> None:
    subject = FoodAmount(amount=quantity(100, units()["millilitre"]))
    assert {one.printed.dimension for one in metric_printables(subject, house, Fraction(1, 20))} == {
        Dimension.VOLUME
    }


@pytest.mark.parametrize(
    ("key", "grams", "text"),
    [  # USDA AMS 56: large eggs are 24 oz a dozen; USDA SR 28: white 33 g, yolk 17 g, whole 50 g
        ("egg-white", 100, "3"),
        ("egg-white", 33, "1"),
        ("egg-yolk", 34, "2"),
        ("egg", 150, "3"),
    ],
)
def test_eggs_by_weight_are_counted_in_the_us(
    key: str, grams: int, text: str, larder: Larder, house: House
) -> None:
    found = printables(_subject(larder, key, grams), house, Fraction(1, 20), "us")
    counted = [one for one in found if one.printed.dimension is Dimension.COUNT]
    assert [short(one.printed).replace("\u00a0", " ").partition(" ")[0] for one in counted] == [text]


def test_half_an_egg_by_weight_is_no_whole_egg(larder: Larder, house: House) -> None:
    found = printables(_subject(larder, "egg", 75), house, Fraction(1, 20), "us")
    assert all(one.printed.dimension is not Dimension.COUNT for one in found)


def test_the_kitchen_cup_of_nist(larder: Larder, house: House) -> None:
    """NIST, Metric Cooking: 1 cup of a liquid is 240 ml, where it was measured by the cup."""
    cup = _subject(larder, "whole-milk", 1, "cup")
    best = min(metric_printables(cup, house, Fraction(1, 20)), key=lambda one: one.cost)
    assert short(best.printed) == "240\u00a0ml"
    ml = FoodAmount(amount=quantity(235, units()["millilitre"]), food=cup.food)
    best = min(metric_printables(ml, house, Fraction(1, 20)), key=lambda one: one.cost)
    assert short(best.printed) == "235\u00a0ml"


def test_scaling_a_subject_is_exact(larder: Larder) -> None:
    cup = _subject(larder, "whole-milk", Fraction(1, 3), "cup")
    assert cup.times(Fraction(3)).exact == units()["cup"].size


@pytest.mark.parametrize(
    ("line", "system"),
    [
        ("114 g (½ cup) unsalted butter", "us"),
        ("½ cup (115 g) unsalted butter", "metric"),
        ("120 g (½ cup) water", "us"),
        ("1 lb (450 g) bread flour", "metric"),
    ],
)
def test_what_the_author_said_besides_has_its_own_value(
    line: str, system: str, larder: Larder, house: House
) -> None:
    """In ratios a column counts with what it prints."""
    written, _ = read_line(line, Where(file="x", line=1, column=1), larder)
    assert written.amount is not None
    subject = food_amount_of(written.amount, written)
    own = said(subject, house, system)
    assert own is not None
    assert own.value == subject.exact * (1 + own.error)
    assert abs(own.value / subject.exact - 1) < Fraction(1, 20)
