"""Rounding on a label, against worked cases; each row of label_examples.csv names its rule."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.portion.declared import daily_value, rows, servings
from cardsmith.portion.estimate import UNKNOWN, Estimate, exactly
from cardsmith.portion.label import declared
from cardsmith.reference import table

with Path(__file__).with_name("label_examples.csv").open(encoding="utf-8", newline="") as file:
    EXAMPLES = list(csv.DictReader(file))
PLAIN = [
    row
    for row in EXAMPLES
    if row["nutrient"] in {"calories", "total fat", "sodium", "total carbohydrate", "cholesterol"}
]
NAMES = [row["nutrient"] for row in table("nutrients")]


@pytest.mark.parametrize("row", PLAIN, ids=lambda row: f"{row['nutrient']} {row['unrounded']}")
def test_an_amount_is_declared_as_the_rule_says(row: dict[str, str]) -> None:
    (found,) = rows({row["nutrient"]: exactly(Fraction(row["unrounded"]))}, "US")
    assert found.amount.removesuffix(f" {row['unit']}") == row["declared"].removesuffix(f" {row['unit']}")


def example(nutrient: str) -> dict[str, str]:
    (row,) = (row for row in EXAMPLES if row["nutrient"] == nutrient)
    return row


def test_servings_and_daily_values_are_those_of_the_examples() -> None:
    told = example("servings per container")
    assert servings(Fraction(told["unrounded"])) == told["declared"] == "about 3.5"
    sodium = example("% Daily Value sodium")
    assert daily_value(Fraction(sodium["unrounded"]), Fraction(2300)) == sodium["declared"] == "11 %"
    published = example("% Daily Value")  # FDA: 30 mcg of 300 mcg are 10 %
    assert daily_value(Fraction(published["unrounded"]), Fraction(300)) == published["declared"] == "10 %"


@pytest.mark.parametrize(
    ("count", "told"),
    [(1, "1"), ("1.5", "1.5"), (2, "2"), ("2.25", "about 2.5"), (10, "10"), ("9.96", "about 10")],
)
def test_servings_are_rounded_by_their_number(count: str | int, told: str) -> None:
    assert servings(Fraction(count)) == told


@pytest.mark.parametrize(
    ("nutrient", "amount", "told"),
    [  # European Commission guidance on tolerances and rounding, December 2012 (memory)
        ("EU energy in kJ", "2013.9", "2014 kJ"),
        ("EU fat", "12.4", "12 g"),
        ("EU fat", "9.94", "9.9 g"),
        ("EU fat", "0.5", "less than 0.5 g"),
        ("EU fat", "0", "0 g"),
        ("EU saturates", "0.1", "less than 0.1 g"),
        ("EU saturates", "0.15", "0.2 g"),
        ("EU salt", "1.24", "1.2 g"),
        ("EU salt", "0.994", "0.99 g"),
        ("EU salt", "0.0125", "less than 0.01 g"),
        ("EU salt", "0.013", "0.01 g"),
    ],
)
def test_eu_figures_are_rounded_by_the_guidance(nutrient: str, amount: str, told: str) -> None:
    (found,) = rows({nutrient: exactly(Fraction(amount))}, "EU")
    assert found.text == told


@pytest.mark.parametrize(
    ("nutrient", "amount", "told"),
    [
        ("vitamin D", "0.66", "0.7 mcg"),
        ("calcium", "134", "130 mg"),
        ("iron", "2.44", "2.4 mg"),
        ("potassium", "246", "250 mg"),
    ],
)
def test_minerals_are_rounded_to_the_recommended_steps(nutrient: str, amount: str, told: str) -> None:
    (found,) = rows({nutrient: exactly(Fraction(amount))}, "US")
    assert found.amount == told


@pytest.mark.parametrize(
    ("share", "told"), [(3, "4 %"), (9, "10 %"), (12, "10 %"), (13, "15 %"), (54, "50 %")]
)
def test_vitamins_have_steps_of_two_five_and_ten_per_cent(share: int, told: str) -> None:
    """21 CFR 101.9(c)(8)(iii); halves go up."""
    assert daily_value(Fraction(share), Fraction(100), "% Daily Value of vitamins and minerals") == told


@given(
    st.sampled_from(NAMES),
    st.fractions(0, 5000, max_denominator=1000),
    st.fractions(0, 5000, max_denominator=1000),
)
def test_more_is_never_declared_as_less(nutrient: str, one: Fraction, other: Fraction) -> None:
    def number(amount: Fraction) -> Fraction:
        text = declared(nutrient, amount)
        # "less than 1 g" stands between 0 and 1
        return (
            Fraction(text.split()[2]) - Fraction(1, 1000)
            if text.startswith("less")
            else Fraction(text.split()[0])
        )

    low, high = sorted((one, other))
    assert number(low) <= number(high)


def test_unknown_is_a_lower_bound_and_says_so() -> None:
    (some,) = rows({"total sugars": exactly(4) + UNKNOWN}, "US")
    assert (some.text, some.at_least) == ("at least 4 g", True)
    (none,) = rows({"dietary fiber": UNKNOWN}, "US")
    assert (none.text, none.percent_text) == ("unknown", "")
    (part,) = rows({"sodium": exactly(230) + UNKNOWN}, "US")
    assert part.percent_text == "at least 10 %"


def test_bounds_that_would_be_declared_otherwise_are_shown() -> None:
    wide = Estimate(low=Fraction(165), likely=Fraction(180), high=Fraction(192))
    (found,) = rows({"calories": wide}, "US")
    assert (found.amount, found.span) == ("180 kcal", "170 kcal to 190 kcal")
    (narrow,) = rows(
        {"calories": Estimate(low=Fraction(179), likely=Fraction(180), high=Fraction(181))}, "US"
    )
    assert narrow.span == ""


def test_rows_stand_in_the_order_of_the_law() -> None:
    holds = dict.fromkeys(reversed(NAMES), exactly(1))
    assert [row.nutrient for row in rows(holds, "US")][:5] == [
        "calories",
        "total fat",
        "saturated fat",
        "cholesterol",
        "sodium",
    ]
    assert [row.printed for row in rows(holds, "EU")][2:4] == ["Fat", "of which saturates"]
