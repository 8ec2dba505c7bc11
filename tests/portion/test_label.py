from __future__ import annotations

import csv
import io
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.portion.label import declared, serving_range, share_range, taken_back
from cardsmith.portion.teardown.schema import ENERGY, NUTRIENTS

# Worked from the rounding table of FDA's Food Labeling Guide, Appendix H; each row names its rule.
_TABLE = Path(__file__).with_name("rounding_examples.csv").read_text(encoding="utf-8")
EXAMPLES = list(csv.DictReader(io.StringIO(_TABLE)))


@pytest.mark.parametrize("row", EXAMPLES, ids=lambda row: f"{row['nutrient']} {row['unrounded']}")
def test_amounts_are_declared_as_the_guide_says(row: dict[str, str]) -> None:
    figure = declared(row["nutrient"], Fraction(row["unrounded"]))
    assert figure.removesuffix(f" {row['unit']}") == row["declared"].removesuffix(f" {row['unit']}")


@pytest.mark.parametrize(
    ("nutrient", "figure", "low", "high"),
    [
        ("total fat", "7 g", "6.5", "7.5"),
        ("total fat", "3.5 g", "3.25", "3.75"),
        ("total fat", "0 g", "0", "0.5"),
        ("total fat", "5 g", "4.75", "5.5"),  # both rules print 5 g
        ("sodium", "220 mg", "215", "225"),
        ("sodium", "140 mg", "137.5", "145"),
        ("calories", "150", "145", "155"),
        ("calories", "50", "47.5", "55"),
        ("total carbohydrate", "less than 1 g", "0", "1"),  # 101.9(c)(6): below 0.5 g either may be said,
        ("total carbohydrate", "1 g", "0.5", "1.5"),  # and from 0.5 g less than 1 g or 1 g
        ("cholesterol", "less than 5 mg", "2", "5"),
        ("cholesterol", "5 mg", "2.5", "7.5"),
        ("EU fat", "22 g", "21.5", "22.5"),
        ("EU fat", "10 g", "9.95", "10.5"),  # from either side of 10 g
        ("EU fat", "2.4 g", "2.35", "2.45"),
        ("EU fat", "<0.5 g", "0", "0.5"),
        ("EU fat", "0 g", "0", "0.5"),
        ("EU saturates", "less than 0.1 g", "0", "0.1"),
        ("EU salt", "1.9 g", "1.85", "1.95"),
        ("EU salt", "0.25 g", "0.245", "0.255"),
        ("EU salt", "<0.01 g", "0", "0.0125"),
        ("EU energy in kJ", "2010 kJ", "2009.5", "2010.5"),
        ("EU energy in kcal", "481 kcal", "480.5", "481.5"),
    ],
)
def test_a_figure_is_taken_back_to_all_it_may_stand_for(
    nutrient: str, figure: str, low: str, high: str
) -> None:
    found = taken_back(nutrient, figure)
    assert found is not None
    assert (found.low, found.high) == (Fraction(low), Fraction(high))


@pytest.mark.parametrize(
    ("nutrient", "figure"),
    [("total fat", "5.5 g"), ("total fat", "7 mg"), ("sodium", "143 mg"), ("sodium", "0.2 g"),
     ("protein", "some"),
     ("calories", "155"), ("total fat", "less than 1 g"), ("EU fat", "22.4 g"), ("EU salt", "1.93 g"),
     ("EU energy in kcal", "2010 kJ")],
)  # fmt: skip
def test_a_figure_that_no_label_prints_is_refused(nutrient: str, figure: str) -> None:
    assert taken_back(nutrient, figure) is None


ALL = sorted({*ENERGY, *NUTRIENTS["US"].values(), *NUTRIENTS["EU"].values()} - {"EU energy"})


@given(st.sampled_from(ALL), st.fractions(0, 3000, max_denominator=1000))
def test_what_was_declared_is_taken_back_to_a_range_that_holds_it(nutrient: str, amount: Fraction) -> None:
    found = taken_back(nutrient, declared(nutrient, amount))
    assert found is not None
    assert found.low <= amount <= found.high


@pytest.mark.parametrize(("grams", "half"), [(30, "0.5"), (3, "0.25"), (1, "0.05")])
def test_a_serving_is_rounded_too(grams: int, half: str) -> None:
    found = serving_range(Fraction(grams))
    assert (found.low, found.high) == (grams - Fraction(half), grams + Fraction(half))


def test_less_than_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="can't be declared"):
        declared("total fat", Fraction(-1))
    with pytest.raises(ValueError, match="knows no"):
        declared("vitamin Q", Fraction(1))


@pytest.mark.parametrize(
    ("printed", "low", "high"),
    [("14", "13.5", "14.5"), ("14.5", "14.45", "14.55"), ("4.5", "4.25", "4.75"), ("3", "2.5", "3.5"),
     ("0.7", "0.65", "0.75"), ("0", "0", "0.5")],
)  # fmt: skip
def test_a_percentage_is_rounded_to_its_last_place(printed: str, low: str, high: str) -> None:
    found = share_range(Fraction(printed), Fraction(printed))
    assert (found.low, found.high) == (Fraction(low), Fraction(high))
