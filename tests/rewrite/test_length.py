"""Lengths in inches and metric; pans by the sizes that are sold."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from cardsmith.measure.pans import INCH, edges
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import units
from cardsmith.rewrite.length import centimetres, inches, is_pan, length_text
from cardsmith.rewrite.wording import terms_text

NB = "\u00a0"


def test_an_inch_is_exact() -> None:
    assert float(INCH) == constants.inch * 1000  # international yard and pound agreement, 1959


@pytest.mark.parametrize(
    ("millimetres", "inch"),
    [
        (2, "1⁄16 inch"),
        (3, "⅛ inch"),
        (5, "3⁄16 inch"),
        (6, "¼ inch"),
        (10, "⅜ inch"),
        (12, "½ inch"),
        (20, "¾ inch"),
        (25, "1 inch"),
        (40, "1½ inches"),
        (50, "2 inches"),
        (100, "4 inches"),
        (300, "12 inches"),
    ],
)
def test_metric_lengths_in_inches_as_a_rule_shows_them(millimetres: int, inch: str) -> None:
    assert terms_text((inches(Fraction(millimetres)),), long=True) == inch.replace(" ", NB)


@pytest.mark.parametrize(
    ("inch", "metric"),
    [
        (Fraction(1, 8), "3 mm"),
        (Fraction(1, 4), "6 mm"),
        (Fraction(3, 8), "1 cm"),
        (Fraction(1, 2), "13 mm"),
        (Fraction(5, 8), "1.5 cm"),
        (Fraction(3, 4), "2 cm"),
        (Fraction(1), "2.5 cm"),
        (Fraction(2), "5 cm"),
        (Fraction(3), "7.5 cm"),
        (Fraction(12), "30 cm"),
    ],
)
def test_inches_in_metric(inch: Fraction, metric: str) -> None:
    assert terms_text((centimetres(inch * INCH),), long=True) == metric.replace(" ", NB)


@given(st.fractions(min_value=2, max_value=600, max_denominator=4))
def test_inches_are_the_nearest_on_the_rule(millimetres: Fraction) -> None:
    term = inches(millimetres)
    steps = ((Fraction(1, 4), 16), (1, 8), (4, 4), (12, 2), (60, 1))  # below so many inches, by so much
    parts = next(parts for below, parts in steps if term.number < below)
    assert abs(term.number * INCH - millimetres) <= INCH / parts / 2


@given(
    low=st.fractions(min_value=1, max_value=500, max_denominator=2),
    more=st.fractions(min_value=0, max_value=100, max_denominator=2),
)
def test_a_longer_length_never_prints_shorter(low: Fraction, more: Fraction) -> None:
    sizes = {"millimetre": Fraction(1), "centimetre": Fraction(10), "inch": INCH}
    for convert in (inches, centimetres):
        short, long = convert(low), convert(low + more)
        assert short.number * sizes[short.unit] <= long.number * sizes[long.unit]
        assert short.number > 0


@pytest.mark.parametrize("inch", sorted(edges()["us"]), ids=lambda inch: f"{float(inch / INCH):g}in")
def test_pan_edges_map_one_to_one(inch: Fraction) -> None:
    centimetre = edges()["us"][inch]
    assert centimetres(inch, pan=True).number * 10 == centimetre
    assert inches(centimetre, pan=True).number * INCH == inch
    assert abs(inch - centimetre) <= 10  # the market rounds; never by more than a centimetre


@pytest.mark.parametrize(
    ("number", "unit", "us", "metric"),
    [
        (9, "inch", "9 inches", "23 cm"),
        (23, "centimetre", "9 inches", "23 cm"),
        (28, "centimetre", "11 inches", "28 cm"),
        (1, "foot", "12 inches", "30 cm"),
    ],
)
def test_a_pan_in_both_markets(number: int, unit: str, us: str, metric: str) -> None:
    length = quantity(number, units()[unit])
    assert length_text(length, "us", long=True, pan=True) == us.replace(" ", NB)
    assert length_text(length, "metric", long=True, pan=True) == metric.replace(" ", NB)


def test_a_range_of_lengths_says_its_unit_once() -> None:
    length = quantity(2, units()["centimetre"], high=3)
    assert length_text(length, "metric", long=True) == f"2 to 3{NB}cm"
    assert length_text(length, "us", long=True) == f"¾ to 1¼{NB}inches"


@pytest.mark.parametrize(
    ("centimetre", "following", "pan"),
    [
        (23, " springform pan", True),
        (23, " round cake tin", True),
        (20, " squares", False),
        (2, " dice in the pan", False),  # a piece, whatever vessel follows
        (30, " apart", False),
    ],
)
def test_what_names_a_pan(centimetre: int, following: str, pan: bool) -> None:
    assert is_pan((quantity(centimetre, units()["centimetre"]),), following) is pan
