"""The house ladders as lists of printable amounts."""

from __future__ import annotations

import csv
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.house.settings import Ladders
from cardsmith.house.style import load_house
from cardsmith.measure.units import units
from cardsmith.rewrite.printed import Printed
from cardsmith.rewrite.rounding.ladder import (
    PAIR,
    SECOND_MEASURE,
    Candidate,
    butter_volumes,
    fine_volumes,
    metric,
    near,
    ounces,
    significant,
    us_volumes,
    us_weights,
    volumes,
    weights,
)
from cardsmith.rewrite.wording import long, short

ROOT = Path(__file__).parents[3]
LADDERS: Ladders = load_house(ROOT).ladders
SPOON, TEASPOON, CUP = (units()[name].size for name in ("tablespoon", "teaspoon", "cup"))
EVERY = [us_volumes, fine_volumes, butter_volumes, us_weights]


def _text(candidates: tuple[Candidate, ...], value: Fraction) -> str:
    return _long(next(one for one in candidates if one.value == value)).replace("\u00a0", " ")


def _long(one: Candidate) -> str:
    return long(Printed(low=one.terms, high=one.terms))


def _short(one: Candidate) -> str:
    return short(Printed(low=one.terms, high=one.terms)).replace("\u00a0", " ")


@pytest.mark.parametrize("ladder", EVERY)
def test_values_are_the_sum_of_their_terms_and_ascend(ladder: object) -> None:
    candidates = ladder(LADDERS)  # type: ignore[operator]
    values = [one.value for one in candidates]
    assert values == sorted(set(values))
    for one in candidates:
        assert one.value == sum(term.value for term in one.terms)
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


@pytest.mark.parametrize(
    ("parts", "text"),
    [
        (Fraction(7, 8), "¾ teaspoon plus ⅛ teaspoon"),
        (Fraction(3, 8), "⅜ teaspoon"),
        (Fraction(5, 16), "¼ teaspoon plus 1⁄16 teaspoon"),
        (Fraction(1, 16), "1⁄16 teaspoon"),
        (Fraction(1, 32), "1⁄32 teaspoon"),
    ],
)
def test_only_exact_things_have_small_spoons_beside_teaspoons(parts: Fraction, text: str) -> None:
    assert all(one.value != TEASPOON * parts for one in us_volumes(LADDERS))
    assert _text(fine_volumes(LADDERS), TEASPOON * parts) == text


def test_a_second_measure_is_never_the_spill_of_the_first() -> None:
    for one in us_volumes(LADDERS):
        if len(one.terms) == 2:
            first, second = (term.value for term in one.terms)
            assert first / 50 <= second < first


@pytest.mark.parametrize(
    ("rounder", "odder"), [(2_250, 2_260), (2_300, 2_250), (1_150, 1_130), (26, 27), (25, 26), (150, 160)]
)
def test_a_round_metric_number_costs_less(rounder: int, odder: int) -> None:
    first, second = (_metric(number).cost for number in (rounder, odder))
    assert first < second


def test_an_even_hundredth_of_a_kilogram_is_no_rounder_than_an_odd_one() -> None:
    assert _metric(2_260).cost == _metric(2_270).cost > _metric(2_250).cost


def _metric(number: int) -> Candidate:
    return metric(Fraction(number), LADDERS.gram, "gram", Fraction(0))[0]


def test_two_measures_cost_more_than_one() -> None:
    costs = {_short(one): one.cost for one in us_volumes(LADDERS)}
    assert costs["2 cups + 2 tbsp"] - costs["2 cups + 1 tbsp"] < costs["2 cups + 1 tbsp"] - costs["2 cups"]
    assert costs["2 cups + 3 tbsp"] - costs["2 cups + 2 tbsp"] > 1
    assert costs["½ cup"] < costs["⅓ cup"] < costs["½ cup + 1 tbsp"]
    assert costs["1 cup"] < costs["1¼ cups"]


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
    candidates = metric(exact, LADDERS.millilitre, "millilitre", Fraction(1, 20))
    closest = min(abs(one.value / printed - 1) for one in candidates)
    assert abs(exact / printed - 1) < Fraction(2, 100)
    assert closest < Fraction(2, 100) or printed < 2  # 1.25 ml has three digits
    assert closest < Fraction(5, 100)


@given(
    grams=st.fractions(min_value=1, max_value=5000, max_denominator=100),
    spread=st.sampled_from([Fraction(1, 100), Fraction(1, 20), Fraction(3, 20)]),
)
def test_metric_offers_both_neighbours_or_two_digits_where_none_is_near(
    grams: Fraction, spread: Fraction
) -> None:
    rung = next(rung for rung in LADDERS.gram if grams <= rung.to)
    values = [one.value for one in metric(grams, LADDERS.gram, "gram", spread)]
    assert values == sorted(set(values))
    assert min(abs(value / grams - 1) for value in values) <= spread
    if len(values) > 1:
        assert all(value > 0 and value % rung.step == 0 for value in values)
        assert any(value >= grams for value in values)
        assert any(value <= grams for value in values)


@given(
    grams=st.fractions(min_value=Fraction(1, 1000), max_value=Fraction(99, 100), max_denominator=1000),
    spread=st.sampled_from([Fraction(1, 50), Fraction(1, 20), Fraction(3, 20)]),
)
def test_less_than_a_gram_has_a_digit_or_two_and_never_vanishes(grams: Fraction, spread: Fraction) -> None:
    (one,) = metric(grams, LADDERS.gram, "gram", spread)
    assert abs(one.value / grams - 1) <= min(spread, Fraction(1, 20))
    assert one.value > 0
    digits = _short(one).split()[0].replace(".", "").lstrip("0")
    assert len(digits) <= (2 if spread >= Fraction(1, 20) else 3)


@pytest.mark.parametrize(
    ("value", "spread", "digits"),
    [
        ("0.15", "0.15", "0.15"),
        ("0.05", "0.15", "0.05"),
        ("0.0875", "0.15", "0.088"),
        ("0.1049", "0.02", "0.105"),  # 0.10 is 4.7 % less
        ("236.588", "0.05", "240"),
        ("9.96", "0.05", "10"),
    ],
)
def test_significant_digits(value: str, spread: str, digits: str) -> None:
    assert significant(Fraction(value), Fraction(spread)) == Fraction(digits)


@pytest.mark.parametrize(
    ("value", "text"),
    [("1200", "1.2 kg"), ("37854", "37.85 kg"), ("378541", "378.5 kg"), ("3785411", "3785 kg")],
)
def test_a_thousand_and_more_prints_in_the_larger_unit_to_four_digits(value: str, text: str) -> None:
    found = metric(Fraction(value), LADDERS.gram, "gram", Fraction(1, 20))
    nearest = min(found, key=lambda one: abs(one.value - Fraction(value)))
    assert _short(nearest) == text


@pytest.mark.parametrize(
    ("pounds", "texts"),
    [
        (14, {"14 lb"}),
        (Fraction(67, 4), {"16¾ lb"}),
        (Fraction(75, 2), {"37½ lb"}),
        (110, {"110 lb"}),
        (2500, {"2500 lb"}),
    ],
)
def test_pounds_have_no_end(pounds: Fraction | int, texts: set[str]) -> None:
    found = weights(LADDERS, pounds * units()["pound"].size, Fraction(1, 1000))
    assert texts <= {_short(one) for one in found}


@pytest.mark.parametrize(
    ("cups", "text"),
    [(16, "16 cups"), (20, "5 qt"), (64, "4 gal"), (72, "4½ gal"), (1600, "100 gal")],
)
def test_volumes_have_no_end(cups: Fraction | int, text: str) -> None:
    found = volumes(us_volumes(LADDERS), cups * CUP, Fraction(1, 20))
    assert [_short(one) for one in found if one.value == cups * CUP] == [text]
    below = volumes(us_volumes(LADDERS), cups * CUP * Fraction(99, 100), Fraction(1, 20))
    assert [_short(one) for one in below if one.value == cups * CUP] == [text]  # whatever it is near to


@given(value=st.fractions(min_value=2, max_value=10**7, max_denominator=10))
def test_every_volume_and_every_weight_has_a_us_number_within_a_ninth(value: Fraction) -> None:
    spread = Fraction(1, 9)  # 2.8 ml lies a tenth below ⅝ teaspoon, and a hair more
    assert volumes(fine_volumes(LADDERS), value, spread)
    assert weights(LADDERS, max(value, Fraction(7)), spread) or value < 60


def test_decimals_of_an_ounce_stand_off_every_ladder() -> None:
    one = ounces(Fraction(15, 100), Fraction(3, 20), "ounce")
    assert _short(one) == "0.0053 oz"


@given(
    value=st.fractions(min_value=1, max_value=3000, max_denominator=50),
    spread=st.sampled_from([Fraction(0), Fraction(3, 100), Fraction(1, 10)]),
)
def test_near_equals_a_plain_search(value: Fraction, spread: Fraction) -> None:
    candidates = us_volumes(LADDERS)
    assert near(candidates, value, spread) == tuple(
        one for one in candidates if abs(one.value - value) <= value * spread
    )


MARKS = {  # parts of a unit that spoons, cups and scales of a US kitchen are marked with
    "cup": {1, 2, 3, 4},
    "tablespoon": {1, 2},
    "teaspoon": {1, 2, 4, 8, 16, 32},
    "ounce": {1, 2, 4, 8},
    "pound": {1, 2, 3, 4},
}


@pytest.mark.parametrize("ladder", EVERY)
def test_every_measure_is_marked_in_a_us_kitchen(ladder: Callable[[Ladders], tuple[Candidate, ...]]) -> None:
    terms = {term for one in ladder(LADDERS) for term in one.terms}
    assert terms
    assert {str(term) for term in terms if term.number.denominator not in MARKS[term.unit.name]} == set()


def test_a_second_measure_costs_more_than_the_scoops_of_both() -> None:
    costs = {one.value: one.cost for one in us_volumes(LADDERS)}
    both = CUP + 2 * SPOON
    assert costs[CUP] == 1
    assert costs[both] - costs[CUP] == SECOND_MEASURE + PAIR > costs[2 * SPOON]


def test_both_ends_of_what_is_near_enough_are_on_the_ladder() -> None:
    """Within three twentieths of 20 g: every gram from 17 to 23."""
    values = [one.value for one in metric(Fraction(20), LADDERS.gram, "gram", Fraction(3, 20))]
    assert values == list(range(17, 24))
