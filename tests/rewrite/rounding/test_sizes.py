"""Lengths in inches and metric; pans, vessels, altitudes and pressures as each market says them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from cardsmith.language.spans import Kind
from cardsmith.measure.pans import INCH, edges
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import System, units
from cardsmith.reference import OURS
from cardsmith.rewrite.printed import Term, single
from cardsmith.rewrite.rounding.sizes import centimetres, inches, size, vessel
from cardsmith.rewrite.wording import long

NB = "\u00a0"
LENGTHS = st.fractions(min_value=Fraction(1, 2), max_value=20000, max_denominator=8)


def _text(term: Term) -> str:
    return long(single(term)).replace(NB, " ")


def test_an_inch_is_exact() -> None:
    assert float(INCH) == constants.inch * 1000  # international yard and pound agreement, 1959


@pytest.mark.parametrize(
    ("millimetres", "inch"),
    [
        (1, "1 mm"),  # 1⁄32 inch is a fifth less
        (2, "2 mm"),  # 1⁄16 inch a fifth less, 3⁄32 a fifth more
        (Fraction(3, 2), "1⁄16 inch"),
        (3, "⅛ inch"),
        (4, "5⁄32 inch"),
        (5, "3⁄16 inch"),
        (6, "¼ inch"),
        (8, "5⁄16 inch"),
        (10, "⅜ inch"),
        (12, "½ inch"),
        (20, "¾ inch"),
        (25, "1 inch"),
        (40, "1½ inches"),
        (50, "2 inches"),
        (100, "4 inches"),
        (300, "12 inches"),
        (2000, "79 inches"),
        (10000, "33 feet"),
    ],
)
def test_metric_lengths_in_inches_as_a_rule_shows_them(millimetres: int | Fraction, inch: str) -> None:
    assert _text(inches(Fraction(millimetres))) == inch


@pytest.mark.parametrize(
    ("inch", "metric"),
    [
        (Fraction(1, 32), "0.8 mm"),
        (Fraction(1, 16), "1.5 mm"),
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
        (Fraction(240), "6.1 m"),
    ],
)
def test_inches_in_metric(inch: Fraction, metric: str) -> None:
    assert _text(centimetres(inch * INCH)) == metric


@given(millimetres=LENGTHS)
def test_a_length_prints_within_a_tenth(millimetres: Fraction) -> None:
    for convert in (inches, centimetres):
        assert abs(convert(millimetres).value / millimetres - 1) <= Fraction(1, 10)


@given(low=LENGTHS, more=st.fractions(min_value=0, max_value=1000, max_denominator=2))
def test_a_longer_length_never_prints_shorter(low: Fraction, more: Fraction) -> None:
    for convert in (inches, centimetres):
        assert convert(low).value <= convert(low + more).value


@given(
    low=LENGTHS,
    more=st.fractions(min_value=Fraction(1, 2), max_value=50, max_denominator=2),
    unit=st.sampled_from(["millimetre", "centimetre", "inch", "foot"]),
    kind=st.sampled_from([Kind.LENGTH, Kind.VESSEL]),
)
def test_the_ends_of_a_range_stay_apart_in_one_system(
    low: Fraction, more: Fraction, unit: str, kind: Kind
) -> None:
    """A length that no rule in inches shows is metric in both columns; the metric column always is."""
    length = quantity(low, units()[unit], high=low + more)
    for system in ("us", "metric"):
        printed = size((length,), kind, system)
        assert printed.least < printed.most
        systems = {term.unit.system for term in (*printed.low, *printed.high)}
        assert len(systems) == 1
        assert system == "us" or systems == {System.METRIC}


@pytest.mark.parametrize("inch", sorted(edges()["us"]), ids=lambda inch: f"{float(inch / INCH):g}in")
def test_pan_edges_map_one_to_one(inch: Fraction) -> None:
    centimetre = edges()["us"][inch]
    assert centimetres(inch, OURS).value == centimetre
    assert inches(centimetre, OURS).value == inch
    assert abs(inch - centimetre) <= 10  # the market rounds; never by more than a centimetre


@pytest.mark.parametrize(
    ("number", "unit", "kind", "us", "metric"),
    [
        (9, "inch", Kind.VESSEL, "9 inches", "23 cm"),
        (23, "centimetre", Kind.VESSEL, "9 inches", "23 cm"),
        (28, "centimetre", Kind.VESSEL, "11 inches", "28 cm"),
        (1, "foot", Kind.LENGTH, "1 foot", "30 cm"),
        (2, "metre", Kind.LENGTH, "79 inches", "2 m"),
        (6, "fluid ounce", Kind.VESSEL, "6 fluid ounces", "180 ml"),
        (3, "quart", Kind.VESSEL, "3 quarts", "2.8 L"),
        (500, "millilitre", Kind.VESSEL, "2 cups", "500 ml"),
        (3000, "foot", Kind.ALTITUDE, "3,000 feet", "900 m"),
        (6000, "foot", Kind.ALTITUDE, "6,000 feet", "1,800 m"),  # 1,829 m, and never above
        (200, "foot", Kind.ALTITUDE, "200 feet", "60 m"),
        (900, "metre", Kind.ALTITUDE, "2,950 feet", "900 m"),
        (1000, "metre", Kind.ALTITUDE, "3,250 feet", "1,000 m"),
        (10, "pound per square inch", Kind.PRESSURE, "10 psi", "69 kPa"),
        (15, "pound per square inch", Kind.PRESSURE, "15 psi", "103 kPa"),
        (70, "kilopascal", Kind.PRESSURE, "10 psi", "70 kPa"),
        (1, "bar", Kind.PRESSURE, "14.5 psi", "1 bar"),
    ],
)
def test_a_size_in_both_markets(number: int, unit: str, kind: Kind, us: str, metric: str) -> None:
    given_ = (quantity(number, units()[unit]),)
    assert long(size(given_, kind, "us")).replace(NB, " ") == us
    assert long(size(given_, kind, "metric")).replace(NB, " ") == metric


def test_a_range_of_lengths_says_its_unit_once() -> None:
    length = quantity(2, units()["centimetre"], high=3)
    assert long(size((length,), Kind.LENGTH, "metric")) == f"2 to 3{NB}cm"
    assert long(size((length,), Kind.LENGTH, "us")) == f"¾ to 1¼{NB}inches"


@pytest.mark.parametrize(
    ("millilitres", "us", "metric"),
    [
        (40, "1¼ fluid ounces", "40 ml"),
        (75, "2½ fluid ounces", "75 ml"),
        (125, "4 fluid ounces", "120 ml"),
        (600, "2½ cups", "600 ml"),
        (1000, "1 quart", "1 L"),
        (1200, "1¼ quarts", "1.2 L"),
        (2000, "2 quarts", "2 L"),
        (3800, "4 quarts", "3.8 L"),
    ],
)
def test_a_vessel_is_sold_in_the_coarsest_size_that_comes_near(
    millilitres: int, us: str, metric: str
) -> None:
    assert _text(vessel(Fraction(millilitres), "us")) == us
    assert _text(vessel(Fraction(millilitres), "metric")) == metric


@pytest.mark.parametrize(
    ("low", "high", "unit", "us"),
    [
        (11, 12, "centimetre", "4⅜ to 4¾ inches"),
        (Fraction(12, 10), Fraction(13, 10), "litre", "1¼ to 1½ quarts"),
        (Fraction(1, 2), 1, "litre", "2 cups to 1 quart"),
    ],
)
def test_ends_that_lie_close_stay_apart(low: Fraction, high: Fraction, unit: str, us: str) -> None:
    printed = size((quantity(low, units()[unit], high=high),), Kind.VESSEL, "us")
    assert long(printed).replace(NB, " ") == us
