"""The house ladders as lists of printable amounts."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.house import Ladders, load_house
from cardsmith.measure.units import units
from cardsmith.rewrite.ladder import (
    Candidate,
    butter_volumes,
    fine_volumes,
    metric,
    near,
    nearest,
    us_volumes,
    us_weights,
)
from cardsmith.rewrite.wording import terms_text

ROOT = Path(__file__).parents[2]
LADDERS: Ladders = load_house(ROOT).ladders
SPOON, TEASPOON, CUP = (units()[name].size for name in ("tablespoon", "teaspoon", "cup"))
EVERY = [us_volumes, fine_volumes, butter_volumes, us_weights]


def _text(candidates: tuple[Candidate, ...], value: Fraction) -> str:
    return terms_text(next(one for one in candidates if one.value == value).terms, long=True).replace(
        "\u00a0", " "
    )


@pytest.mark.parametrize("ladder", EVERY)
def test_values_are_the_sum_of_their_terms_and_ascend(ladder: object) -> None:
    candidates = ladder(LADDERS)  # type: ignore[operator]
    values = [one.value for one in candidates]
    assert values == sorted(set(values))
    for one in candidates:
        assert one.value == sum(term.number * units()[term.unit].size for term in one.terms)
        assert 1 <= len(one.terms) <= 2
        assert one.cost > 0


@pytest.mark.parametrize(
    ("value", "text"),
    [  # the cheaper of two ways to say one amount
        (CUP / 4, "¼ cup"),  # not 4 tablespoons
        (SPOON, "1 tablespoon"),  # not 3 teaspoons
        (SPOON * 5, "¼ cup plus 1 tablespoon"),
        (CUP * 3 / 2, "1½ cups"),
        (CUP * 2, "2 cups"),
        (TEASPOON / 8, "⅛ teaspoon"),
        (SPOON * 3 / 2, "1½ tablespoons"),
        (SPOON + TEASPOON, "1 tablespoon plus 1 teaspoon"),
        (CUP + SPOON, "1 cup plus 1 tablespoon"),
    ],
)
def test_us_volumes_as_a_cook_says_them(value: Fraction, text: str) -> None:
    assert _text(us_volumes(LADDERS), value) == text


@pytest.mark.parametrize(
    ("tablespoons", "text"), [(5, "5 tablespoons"), (8, "½ cup"), (16, "1 cup"), (6, "6 tablespoons")]
)
def test_butter_goes_by_the_marks_on_its_wrapper(tablespoons: int, text: str) -> None:
    assert _text(butter_volumes(LADDERS), SPOON * tablespoons) == text


@pytest.mark.parametrize(
    ("pounds", "text"),
    [
        (Fraction(1), "1 pound"),
        (Fraction(3, 2), "1½ pounds"),
        (Fraction(1, 2), "8 ounces"),
        (Fraction(1, 4), "4 ounces"),
        (Fraction(1, 64), "¼ ounce"),
        (Fraction(21, 16), "1 pound 5 ounces"),
    ],
)
def test_us_weights_as_a_shop_says_them(pounds: Fraction, text: str) -> None:
    assert _text(us_weights(LADDERS), pounds * units()["pound"].size) == text


def test_only_exact_things_have_eighths_beside_teaspoons() -> None:
    seven_eighths = TEASPOON * 7 / 8
    assert all(one.value != seven_eighths for one in us_volumes(LADDERS))
    assert _text(fine_volumes(LADDERS), seven_eighths) == "¾ teaspoon plus ⅛ teaspoon"


def test_a_second_measure_is_never_the_spill_of_the_first() -> None:
    for one in us_volumes(LADDERS):
        if len(one.terms) == 2:
            first, second = (term.number * units()[term.unit].size for term in one.terms)
            assert first / 50 <= second < first


def test_two_measures_cost_more_than_one() -> None:
    volumes = {terms_text(one.terms): one.cost for one in us_volumes(LADDERS)}
    nb = "\u00a0"
    assert volumes[f"½{nb}cup"] < volumes[f"⅓{nb}cup"] < volumes[f"½{nb}cup{nb}+ 1{nb}tbsp"]
    assert volumes[f"1{nb}cup"] < volumes[f"1¼{nb}cups"]


@pytest.mark.parametrize(
    "row",
    [
        row
        for row in csv.DictReader((ROOT / "tests/data/units.csv").read_text(encoding="utf-8").splitlines())
        if row["system"].startswith("US metric kitchen") and row["quantity"] == "volume"
    ],
    ids=lambda row: row["symbol"],
)
def test_cups_and_spoons_print_the_millilitres_that_nist_prints(row: dict[str, str]) -> None:
    """NIST, Metric Cooking: 1/4 tsp 1.25 ml … 1 qt 960 ml. The ladder must hold each within 2 %."""
    names = {"tsp": "teaspoon", "tbsp": "tablespoon", "fl": "fluid ounce", "pt": "pint", "qt": "quart"}
    number, _, word = row["symbol"].rpartition(" ") if row["symbol"][0].isdigit() else ("1", "", "")
    unit = (word or row["symbol"]).split()[0]
    exact = Fraction(number) * units()[names.get(unit, unit)].size
    printed = Fraction(row["value"])
    candidates = metric(exact, LADDERS.millilitre, "millilitre", "litre", Fraction(1, 20))
    closest = min(abs(one.value / printed - 1) for one in candidates)
    assert abs(exact / printed - 1) < Fraction(2, 100)
    assert closest < Fraction(2, 100) or printed < 2  # 1.25 ml is between the half millilitres


@given(
    grams=st.fractions(min_value=Fraction(1, 10), max_value=5000, max_denominator=100),
    spread=st.sampled_from([Fraction(1, 100), Fraction(1, 20), Fraction(3, 20)]),
)
def test_metric_offers_both_neighbours_and_nothing_finer_than_the_step(
    grams: Fraction, spread: Fraction
) -> None:
    rung = next(rung for rung in LADDERS.gram if grams <= rung.to)
    found = metric(grams, LADDERS.gram, "gram", "kilogram", spread)
    values = [one.value for one in found]
    assert values == sorted(set(values))
    assert all(value > 0 and value % rung.step == 0 for value in values)
    assert min(abs(value - grams) for value in values) <= max(rung.step / 2, rung.step - grams)
    assert any(value >= grams for value in values)
    assert any(value <= grams for value in values) or grams < rung.step


def test_a_thousand_and_more_prints_in_the_larger_unit() -> None:
    texts = {
        terms_text(one.terms) for one in metric(Fraction(1200), LADDERS.gram, "gram", "kilogram", Fraction(0))
    }
    assert "1.2\u00a0kg" in texts


@given(
    value=st.fractions(min_value=1, max_value=3000, max_denominator=50),
    spread=st.sampled_from([Fraction(0), Fraction(3, 100), Fraction(1, 10)]),
)
def test_near_and_nearest_equal_a_plain_search(value: Fraction, spread: Fraction) -> None:
    candidates = us_volumes(LADDERS)
    assert near(candidates, value, spread) == tuple(
        one for one in candidates if abs(one.value - value) <= value * spread
    )
    assert abs(nearest(candidates, value).value - value) == min(abs(one.value - value) for one in candidates)
