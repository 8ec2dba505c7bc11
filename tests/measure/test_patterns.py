"""Which foods a table's cell means."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardsmith.measure.larder import load_larder
from cardsmith.measure.patterns import PART, cell, is_of

WALNUT = load_larder().foods["walnut"]
MILK = load_larder().foods["whole-milk"]


@pytest.mark.parametrize(
    ("pattern", "fits"),
    [
        ("key:walnut", True),
        ("key:wal*", True),
        ("key:*nut", True),
        ("key:nut", False),
        ("role:nut", True),
        ("role:water", False),
        ("origin:milk", False),
    ],
)
def test_a_food_is_named_by_its_key_its_role_or_its_origin(pattern: str, fits: bool) -> None:
    assert is_of(WALNUT, (pattern,)) is fits
    assert is_of(WALNUT, ("role:pepper", pattern)) is fits


def test_what_comes_of_milk_is_of_that_origin() -> None:
    assert is_of(MILK, ("origin:milk",))


def test_a_third_makes_a_food_one_of_a_role_and_half_makes_it_that_mainly() -> None:
    for share, one_of, mainly in (
        (PART - Fraction(1, 1000), False, False),
        (PART, True, False),
        (Fraction(1, 2) - Fraction(1, 1000), True, False),
        (Fraction(1, 2), True, True),
    ):
        food = replace(WALNUT, key=f"made-up-{share}", roles={"fruit": share})
        assert is_of(food, ("role:fruit",)) is one_of
        assert food.is_mainly("fruit") is mainly


def test_nothing_is_no_food() -> None:
    assert not is_of(None, ("role:nut",))


def test_a_cell_has_entries_between_bars() -> None:
    assert cell("role:nut | key:almond|") == ("role:nut", "key:almond")
