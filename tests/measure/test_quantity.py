"""Exact amounts: their ends, their middle, and what may be added to what."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from cardsmith.measure.quantity import Quantity, UnlikeError, quantity
from cardsmith.measure.units import units

GRAM, KILOGRAM, CUP = units()["gram"], units()["kilogram"], units()["cup"]
CELSIUS = units()["degree Celsius"]


def test_a_range_has_two_ends_and_stands_in_sums_by_its_middle() -> None:
    some = quantity(5, GRAM, high=20)
    assert some.is_range
    assert some.middle == Fraction(25, 2)
    assert [(one.low, one.high) for one in some.ends()] == [(5, 5), (20, 20)]


def test_one_amount_is_no_range_however_its_ends_came_about() -> None:
    same = Quantity(low=Fraction(10), high=Fraction(20, 2), unit=GRAM, written="10 g")
    assert not same.is_range
    assert not quantity(10, GRAM).is_range
    assert same.middle == 10


def test_each_end_of_a_range_has_its_own_unit() -> None:
    some = Quantity(
        low=Fraction(500), high=Fraction(1000), unit=GRAM, high_unit=KILOGRAM, written="500 g to 1 kg"
    )
    assert [(one.low, one.unit, one.high_unit) for one in some.ends()] == [
        (500, GRAM, None),
        (1000, KILOGRAM, None),
    ]


def test_a_quantity_keeps_the_words_it_was_written_in() -> None:
    assert quantity(2, CUP, written="two cups").written == "two cups"
    assert quantity(2, CUP).written == "2 cup"
    assert quantity(2, CUP, written="two cups").times(Fraction(3)).written == "two cups"


def test_what_is_scaled_is_scaled_to_its_last_term() -> None:
    total = Quantity(
        low=Fraction(30),
        high=Fraction(30),
        unit=GRAM,
        written="",
        terms=(quantity(10, GRAM), quantity(20, GRAM)),
    )
    twice = total.times(Fraction(2))
    assert (twice.low, twice.high, [one.low for one in twice.terms]) == (60, 60, [20, 40])


def test_ranges_are_added_end_by_end() -> None:
    total = quantity(5, GRAM, high=10).plus(quantity(1, KILOGRAM, high=2))
    assert (total.low, total.high, total.unit) == (1005, 2010, GRAM)
    left = quantity(1, KILOGRAM).minus(quantity(100, GRAM, high=200))
    assert (left.low, left.high) == (900, 800)


def test_a_ratio_is_of_the_middles() -> None:
    assert quantity(10, GRAM, high=20).over(quantity(5, GRAM)) == 3


@pytest.mark.parametrize("act", [Quantity.plus, Quantity.minus, Quantity.over])
def test_a_mass_is_held_against_no_volume_and_points_of_a_scale_are_not_added(
    act: Callable[[Quantity, Quantity], object],
) -> None:
    with pytest.raises(UnlikeError, match="'10 g' is a mass, '1 cup' a volume"):
        act(quantity(10, GRAM), quantity(1, CUP))
    with pytest.raises(UnlikeError, match="point"):
        act(quantity(180, CELSIUS), quantity(20, CELSIUS))
