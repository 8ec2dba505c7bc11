"""Temperatures by purpose, against published safety limits and sugar stages."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.language.spans import Purpose
from cardsmith.measure.oven import dials
from cardsmith.measure.quantity import Quantity, quantity
from cardsmith.measure.units import units
from cardsmith.reference import table
from cardsmith.rewrite.rounding.temperature import change, in_scale, nearest, point
from cardsmith.rewrite.wording import long

DATA = Path(__file__).parents[2] / "data"
NB = "\u00a0"


def temperature_text(temperature: Quantity, purpose: Purpose | None, system: str) -> str:
    return long(point(temperature, purpose, system))


def change_text(difference: Quantity, purpose: Purpose | None, system: str) -> str:
    return long(change(difference, purpose, system))


def _rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((DATA / f"{name}.csv").read_text(encoding="utf-8").splitlines()))


def _fahrenheit(low: Fraction | int, high: Fraction | int | None = None) -> Quantity:
    return quantity(low, units()["degree Fahrenheit"], high=high)


def _celsius(low: Fraction | int, high: Fraction | int | None = None) -> Quantity:
    return quantity(low, units()["degree Celsius"], high=high)


# --- doneness and holding -----------------------------------------------------------------------------

SAFE = [row for row in _rows("safe_internal_temperatures") if row["temp_f"]]


@pytest.mark.parametrize("row", SAFE, ids=lambda row: f"{row['temp_f']} {row['food'][:24]}")
def test_a_published_minimum_prints_as_the_safe_whole_degree(row: dict[str, str]) -> None:
    """FoodSafety.gov and USDA FSIS print °F; the whole °C that is not below it."""
    temperature = _fahrenheit(Fraction(row["temp_f"]))
    printed = in_scale(temperature, temperature.low, Purpose.CORE, "metric")
    assert printed == int(row["temp_c_safe_integer"])
    assert printed >= temperature.low


@pytest.mark.parametrize("row", table("safety_pairs"), ids=lambda row: row["fahrenheit"])
def test_safety_pairs_are_their_own_inverse(row: dict[str, str]) -> None:
    fahrenheit, celsius = int(row["fahrenheit"]), int(row["celsius"])
    purpose = Purpose.CORE if row["bound"] == "at least" else Purpose.HOLDING
    hot, cold = _fahrenheit(fahrenheit), _celsius(celsius)
    assert in_scale(hot, hot.low, purpose, "metric") == celsius
    assert in_scale(cold, cold.low, purpose, "us") == fahrenheit


@given(st.integers(min_value=100, max_value=250))
def test_a_minimum_in_fahrenheit_never_prints_cooler(fahrenheit: int) -> None:
    temperature = _fahrenheit(fahrenheit)
    assert in_scale(temperature, temperature.low, Purpose.CORE, "metric") >= temperature.low


@given(st.integers(min_value=45, max_value=110))
def test_a_minimum_in_celsius_prints_at_most_the_published_rounding_cooler(celsius: int) -> None:
    """74 °C prints 165 °F, as published, though 165.2 °F is exact; elsewhere never cooler."""
    temperature = _celsius(celsius)
    printed = in_scale(temperature, temperature.low, Purpose.CORE, "us")
    published = {(int(row["celsius"]), int(row["fahrenheit"])) for row in table("safety_pairs")}
    exact = units()["degree Fahrenheit"].from_base(Fraction(celsius))
    assert printed >= exact or (celsius, printed) in published


@given(st.integers(min_value=-20, max_value=112))
def test_a_cold_limit_in_fahrenheit_never_prints_warmer(fahrenheit: int) -> None:
    temperature = _fahrenheit(fahrenheit)
    printed = in_scale(temperature, temperature.low, Purpose.HOLDING, "metric")
    pairs = {(int(row["fahrenheit"]), int(row["celsius"])) for row in table("safety_pairs")}
    assert printed <= temperature.low or (fahrenheit, printed) in pairs


@given(st.integers(min_value=115, max_value=212))
def test_a_hot_limit_in_fahrenheit_never_prints_cooler(fahrenheit: int) -> None:
    temperature = _fahrenheit(fahrenheit)
    assert in_scale(temperature, temperature.low, Purpose.HOLDING, "metric") >= temperature.low


@pytest.mark.parametrize(
    ("fahrenheit", "celsius", "purpose"),
    [
        (165, 74, Purpose.CORE),
        (160, 72, Purpose.CORE),  # 71.1 exact: 71 would be below the minimum
        (145, 63, Purpose.CORE),
        (40, 4, Purpose.HOLDING),  # 4.4 exact
        (140, 60, Purpose.HOLDING),
        (0, -18, Purpose.HOLDING),  # -17.8 exact
    ],
)
def test_limits_a_cook_knows(fahrenheit: int, celsius: int, purpose: Purpose) -> None:
    temperature = _fahrenheit(fahrenheit)
    assert in_scale(temperature, temperature.low, purpose, "metric") == celsius


# --- sugar, frying, readings --------------------------------------------------------------------------

STAGES = [
    (row, end)
    for row in _rows("sugar_stages")
    if row["low_f"]
    for end in ("low", "high")
    # The textbook prints 188, 190 and 205 °C beside 375, 380 and 410 °F: coarser than a thermometer.
    if row["stage"] not in {"dark caramel", "black caramel", "light caramel", "medium caramel, spun sugar"}
]


@pytest.mark.parametrize(("row", "end"), STAGES, ids=lambda value: str(value)[:12])
def test_sugar_stages_print_the_published_pairs(row: dict[str, str], end: str) -> None:
    """McGee, and Colorado State University Extension, to the degree; 1 °C for how they rounded."""
    temperature = _fahrenheit(int(row[f"{end}_f"]))
    printed = in_scale(temperature, temperature.low, Purpose.SYRUP, "metric")
    assert abs(printed - int(row[f"{end}_c"])) <= 1
    assert abs(printed - float(row[f"{end}_c_exact"])) <= 0.55


@pytest.mark.parametrize("purpose", [Purpose.SYRUP, Purpose.FAT, Purpose.DOUGH, Purpose.ROOM, Purpose.OTHER])
@given(celsius=st.integers(min_value=-30, max_value=250))
def test_a_reading_is_never_more_than_half_a_degree_off(purpose: Purpose, celsius: int) -> None:
    temperature = _celsius(celsius)
    printed = in_scale(temperature, temperature.low, purpose, "us")
    exact = units()["degree Fahrenheit"].from_base(Fraction(celsius))
    assert abs(printed - exact) <= Fraction(1, 2)


@given(celsius=st.integers(min_value=-30, max_value=250))
def test_a_reading_in_celsius_survives_the_way_to_fahrenheit_and_back(celsius: int) -> None:
    """A degree Fahrenheit is the smaller one, so nothing is lost this way round."""
    there = _fahrenheit(in_scale(_celsius(celsius), Fraction(celsius), Purpose.SYRUP, "us"))
    assert in_scale(there, there.low, Purpose.SYRUP, "metric") == celsius


@given(degrees=st.integers(min_value=-40, max_value=600), purpose=st.sampled_from(Purpose))
def test_the_author_s_own_scale_keeps_the_author_s_figure(degrees: int, purpose: Purpose) -> None:
    hot, warm = _fahrenheit(degrees), _celsius(degrees)
    assert in_scale(hot, hot.low, purpose, "us") == degrees
    assert in_scale(warm, warm.low, purpose, "metric") == degrees


@pytest.mark.parametrize(
    ("value", "whole"),
    [("0.5", 1), ("-0.5", -1), ("1.49", 1), ("-17.8", -18), ("2.5", 3), ("3.5", 4)],
)
def test_halves_round_away_from_zero(value: str, whole: int) -> None:
    assert nearest(Fraction(value)) == whole


# --- the oven -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("row", dials(), ids=lambda row: f"{row.fahrenheit}F")
def test_oven_settings_print_as_on_the_dial(row: object) -> None:
    fahrenheit, celsius = row.fahrenheit, row.celsius  # type: ignore[attr-defined]
    hot, warm = _fahrenheit(fahrenheit), _celsius(celsius)
    assert temperature_text(hot, Purpose.OVEN, "metric") == f"{celsius}{NB}°C"
    assert temperature_text(warm, Purpose.OVEN, "us") == f"{fahrenheit}{NB}°F"
    assert temperature_text(hot, Purpose.OVEN, "us") == f"{fahrenheit}{NB}°F"


@pytest.mark.parametrize("purpose", [None, Purpose.OVEN, Purpose.OTHER])
def test_a_gas_mark_is_looked_up_whatever_the_purpose(purpose: Purpose | None) -> None:
    mark = quantity(4, units()["gas mark"])
    assert temperature_text(mark, purpose, "us") == f"350{NB}°F"
    assert temperature_text(mark, purpose, "metric") == f"180{NB}°C"


# --- text ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("temperature", "purpose", "us", "metric"),
    [
        (_celsius(20, 22), Purpose.ROOM, "68 to 72", "20 to 22"),
        (_fahrenheit(350, 375), Purpose.OVEN, "350 to 375", "180 to 190"),
        (_fahrenheit(300, 310), Purpose.SYRUP, "300 to 310", "149 to 154"),
        (_celsius(-18), Purpose.HOLDING, "0", "−18"),
        (_celsius(Fraction(41, 2)), Purpose.DOUGH, "69", "20.5"),
        (_celsius(-5, 5), Purpose.REFRIGERATOR, "23 to 41", "−5 to 5"),
        (_celsius(-5, 5), Purpose.OTHER, "23 to 41", "−5 to 5"),
        (_celsius(Fraction(125, 2)), Purpose.BATH, "145", "62.5"),  # 144.5 °F exact
        (_celsius(54), Purpose.BATH, "130", "54"),  # 129.2 °F exact
        (_celsius(57), Purpose.HOLDING, "135", "57"),  # 134.6 °F exact
        (_fahrenheit(185, 200), Purpose.HOLDING, "185 to 200", "85 to 93"),  # 93.3 °C exact, and no limit
        (_fahrenheit(34, 38), Purpose.REFRIGERATOR, "34 to 38", "1 to 3"),  # 1.1 and 3.3 °C exact
        (_fahrenheit(35, 38), Purpose.REFRIGERATOR, "35 to 38", "2 to 3"),  # 1.7 °C exact, and no limit
        (_celsius(3), Purpose.REFRIGERATOR, "37", "3"),  # 37.4 °F exact
        (_celsius(-20), Purpose.FREEZER, "−4", "−20"),
        (_fahrenheit(100, 101), Purpose.OTHER, "100 to 101", "37.8 to 38.3"),
        (_fahrenheit(350, 355), Purpose.OVEN, "350 to 355", "177 to 179"),
        (_celsius(175), Purpose.OVEN, "345", "175"),
        (_celsius(50), Purpose.OVEN, "122", "50"),
        (_celsius(90), Purpose.OVEN, "195", "90"),
        (_celsius(110), Purpose.OVEN, "225", "110"),
        (_celsius(300), Purpose.OVEN, "570", "300"),
        (_fahrenheit(345), Purpose.OVEN, "345", "175"),
        (_fahrenheit(140), Purpose.OVEN, "140", "60"),
    ],
)
def test_whole_texts(temperature: Quantity, purpose: Purpose, us: str, metric: str) -> None:
    assert temperature_text(temperature, purpose, "us") == f"{us}{NB}°F"
    assert temperature_text(temperature, purpose, "metric") == f"{metric}{NB}°C"


@given(
    low=st.integers(min_value=30, max_value=250),
    width=st.integers(min_value=0, max_value=60),
    purpose=st.sampled_from(Purpose),
)
def test_a_range_never_crosses(low: int, width: int, purpose: Purpose) -> None:
    temperature = _celsius(low, low + width)
    for system in ("us", "metric"):
        printed = point(temperature, purpose, system)
        assert printed.least < printed.most or not width


@pytest.mark.parametrize(
    ("degrees", "unit", "purpose", "us", "metric"),
    [  # NIST SP 811: a difference of 1 °F is 5/9 °C, without the 32
        (25, "degree Fahrenheit (difference)", Purpose.OVEN, "25", "15"),
        (25, "degree Fahrenheit (difference)", None, "25", "14"),
        (20, "degree Celsius (difference)", Purpose.OVEN, "35", "20"),
        (10, "degree Celsius (difference)", None, "18", "10"),
        (1, "degree Fahrenheit (difference)", None, "1", "0.6"),  # 1 °C would be nearly twice as much
        (3, "degree Celsius (difference)", None, "5", "3"),  # 5.4 exact
        (2, "degree Fahrenheit (difference)", None, "2", "1"),
    ],
)
def test_a_difference_converts_as_a_difference(
    degrees: int, unit: str, purpose: Purpose | None, us: str, metric: str
) -> None:
    change = quantity(degrees, units()[unit])
    assert change_text(change, purpose, "us") == f"{us}{NB}°F"
    assert change_text(change, purpose, "metric") == f"{metric}{NB}°C"


def test_a_point_is_no_difference() -> None:
    with pytest.raises(ValueError, match="not a difference"):
        change_text(_celsius(20), None, "us")
