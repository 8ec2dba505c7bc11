"""Rounded tables: what is printed beside a metric figure, and what no table prints."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.measure.quantity import Quantity
from cardsmith.measure.rounded import as_measured
from cardsmith.measure.units import units


def said(amount: str, unit: str) -> Quantity:
    base = units()[unit].to_base(Fraction(amount))
    return Quantity(low=base, high=base, unit=units()[unit], written=f"{amount} {unit}")


@pytest.mark.parametrize(
    ("metric", "other"),
    [
        (("25", "gram"), ("1", "ounce")),
        (("1", "kilogram"), ("2", "pound")),
        (("300", "millilitre"), ("1/2", "imperial pint")),
        (("125", "millilitre"), ("4", "fluid ounce")),
    ],
)
def test_a_pair_of_a_table_is_the_metric_figure(metric: tuple[str, str], other: tuple[str, str]) -> None:
    found = as_measured(said(*metric), said(*other))
    assert (found.low, found.unit.name) == (said(*metric).low, metric[1])
    assert found.written == f"{other[0]} {other[1]}"


@pytest.mark.parametrize(
    ("metric", "other"),
    [
        (("25", "gram"), ("2", "ounce")),
        (("28", "gram"), ("1", "ounce")),  # no table is needed
        (("25", "gram"), ("1", "fluid ounce")),
        (("30", "millilitre"), ("2", "tablespoon")),
    ],
)
def test_other_pairs_stay(metric: tuple[str, str], other: tuple[str, str]) -> None:
    assert as_measured(said(*metric), said(*other)) == said(*other)
