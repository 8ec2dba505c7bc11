"""The cups and spoons of a market: of its own size, near the exact amount, never where it weighs."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cardsmith.finding import Where
from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import units
from cardsmith.recipe.fields.lines import read_line
from cardsmith.rewrite.rounding.dual import in_column
from cardsmith.rewrite.rounding.food_amount import FoodAmount, food_amount_of
from cardsmith.rewrite.rounding.household import measures, sizes_told
from cardsmith.rewrite.rounding.printable import metric_printables
from cardsmith.rewrite.wording import short

HERE = Where(file="x", line=1, column=1)
CASES = (  # the author's line in US measures; in a British kitchen; in an Australian one
    ("2 tbsp honey", "2 tbsp", "1½ tbsp"),  # 29.6 ml is 1.97 of 15 ml, and 1.48 of 20 ml
    ("1 tbsp olive oil", "1 tbsp", "3 tsp"),  # 14.8 ml
    ("1 cup all-purpose flour", "125 g", "125 g"),  # 237 ml is no near part of 250 ml
    ("2⅓ cups all-purpose flour", "290 g", "2¼ cups (290 g)"),  # 552 ml over 250 is 2.21
    ("½ tsp fine salt", "½ tsp", "½ tsp"),
    ("160 g granulated sugar", "160 g", "¾ cup (160 g)"),  # what was weighed stays weighed in Britain
    ("2 tbsp unsalted butter", "28 g", "28 g"),  # cut by the wrapper's marks, which are grams
    ("5 g fine salt", "5 g", "5 g"),
)


def _in(house: House, household: str) -> House:
    return replace(house, order=("metric",), household=household)


@pytest.mark.parametrize(("written", "british", "australian"), CASES, ids=[case[0] for case in CASES])
def test_a_line_is_measured_as_its_market_measures(
    written: str, british: str, australian: str, larder: Larder, house: House
) -> None:
    line = read_line(written, HERE, larder)[0]
    assert line.amount
    subject = food_amount_of(line.amount, line)
    told = [short(in_column(subject, _in(house, one), "metric")) for one in ("imperial", "australian")]
    assert [one.replace("\u00a0", " ") for one in told] == [british, australian]


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    key=st.sampled_from(["all-purpose-flour", "granulated-sugar", "water", "fine-salt", "honey"]),
    tenths=st.integers(min_value=10, max_value=20000),
    household=st.sampled_from(["imperial", "australian"]),
)
def test_a_cup_or_spoon_is_never_further_off_than_its_tolerance(
    key: str, tenths: int, household: str, larder: Larder, house: House
) -> None:
    subject = FoodAmount(amount=quantity(Fraction(tenths, 10), units()["gram"]), food=larder.foods[key])
    density = subject.density
    assert density
    for one in metric_printables(subject, _in(house, household), Fraction(1, 20)):
        assert one.value == subject.exact * (1 + one.error)
        assert abs(one.error) <= Fraction(1, 20)
        millilitres = one.printed.least
        if one.printed.low[0].unit.name in {row.terms[0].unit.name for row in measures(household)}:
            assert millilitres * density.grams == one.value
            assert all(
                abs(beside.least / subject.exact - 1) <= Fraction(1, 20) for beside in one.printed.beside
            )


def test_of_two_measures_that_hold_the_same_one_is_kept() -> None:
    found = measures("australian")
    assert len({one.value for one in found}) == len(found)
    assert next(one for one in found if one.value == 15).terms[0].unit.name == "metric teaspoon"
    assert next(one for one in found if one.value == 20).terms[0].unit.name == "Australian tablespoon"


def test_a_card_says_what_its_cups_and_spoons_hold() -> None:
    printed = [units()[one] for one in ("gram", "metric teaspoon", "metric cup", "metric teaspoon")]
    assert sizes_told(printed) == "1 cup is 250 ml, 1 teaspoon 5 ml"
    assert sizes_told([units()["Australian tablespoon"]]) == "1 tablespoon is 20 ml"
    assert sizes_told([units()["gram"], units()["cup"]]) == ""
