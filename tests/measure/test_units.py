"""Unit sizes against NIST's values and against scipy's constants; the words for them against each other."""

from __future__ import annotations

import csv
import math
from fractions import Fraction
from pathlib import Path

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import Dimension, System, temperature_words, unit_words, units
from cardsmith.reference import table

# One row a unit, each with its source: NIST Handbook 44, SP 430 and SP 811; UK Weights and Measures Act.
PUBLISHED = {
    (row["system"], row["unit"]): row
    for row in csv.DictReader((Path(__file__).parents[1] / "data/units.csv").read_text().splitlines())
}
NIST = "US customary"
BRITISH = "imperial (UK)"
KITCHEN = "metric kitchen"
SPOONS = "informal (customary)"
PAIRS = [  # ours, the published row's
    ("gallon", (NIST, "gallon")),
    ("quart", (NIST, "quart")),
    ("pint", (NIST, "pint")),
    ("dry pint", (NIST, "dry pint")),
    ("dry quart", (NIST, "dry quart")),
    ("cup", (NIST, "cup")),
    ("gill", (NIST, "gill")),
    ("fluid ounce", (NIST, "fluid ounce")),
    ("tablespoon", (NIST, "tablespoon")),
    ("teaspoon", (NIST, "teaspoon")),
    ("ounce", (NIST, "avoirdupois ounce")),
    ("pound", (NIST, "avoirdupois pound")),
    ("inch", (NIST, "inch")),
    ("foot", (NIST, "foot")),
    ("imperial gallon", (BRITISH, "gallon")),
    ("imperial quart", (BRITISH, "quart")),
    ("imperial pint", (BRITISH, "pint")),
    ("imperial gill", (BRITISH, "gill")),
    ("imperial fluid ounce", (BRITISH, "fluid ounce")),
    ("imperial cup", (BRITISH, "cup (old British recipes)")),
    ("metric cup", (KITCHEN, "metric cup")),
    ("metric teaspoon", (KITCHEN, "teaspoon")),
    ("imperial teaspoon", (KITCHEN, "teaspoon")),
    ("metric tablespoon", (KITCHEN, "tablespoon (UK, Canada, New Zealand)")),
    ("imperial tablespoon", (KITCHEN, "tablespoon (UK, Canada, New Zealand)")),
    ("Australian tablespoon", (KITCHEN, "tablespoon (Australia)")),
    ("dessertspoon", (KITCHEN, "dessertspoon")),
    ("Japanese cup", (KITCHEN, "Japanese cup")),
    ("litre", (KITCHEN, "litre")),
    ("decilitre", (KITCHEN, "decilitre")),
    ("kilogram", ("SI", "kilogram")),
    ("kilocalorie", (NIST, "kilocalorie")),
    ("peck", (NIST, "peck")),
    ("bar", ("SI", "bar")),
    ("tola", ("SI", "tola")),
]
# SI Brochure: prefixes, and units of time accepted for use with the SI.
BY_DEFINITION = [
    ("millilitre", 1),
    ("centilitre", 10),
    ("milligram", Fraction(1, 1000)),
    ("gram", 1),
    ("millimetre", 1),
    ("centimetre", 10),
    ("metre", 1000),
    ("second", 1),
    ("minute", 60),
    ("hour", 3600),
    ("day", 24 * 3600),
    ("week", 7 * 24 * 3600),
    ("fortnight", 14 * 24 * 3600),
    ("month", Fraction("365.25") * 24 * 3600 / 12),  # common practice, no source: storage times only
    ("pav", 250),  # common practice, no source: asked about
    ("etto", 100),
    ("continental tablespoon", 15),  # common practice, no source
    ("continental teaspoon", 5),  # common practice, no source
    ("fifth", 750),  # 27 CFR 5.203
    ("year", Fraction("365.25") * 24 * 3600),  # common practice, no source: storage times only
    ("kilopascal", 1),
    ("watt", 1),
    ("kilowatt", 1000),
    ("kilojoule", 1),
    ("percent", Fraction(1, 100)),
]
PRINTED = [("pound per square inch", (NIST, "pound-force per square inch"))]  # to seven digits
INFORMAL = [("tad", "tad"), ("dash", "dash"), ("pinch", "pinch"), ("smidgen", "smidgen"), ("drop", "drop")]
SCALES = {"degree Celsius", "degree Fahrenheit", "degree", "gas mark"}


@pytest.mark.parametrize(("name", "row"), PAIRS)
def test_size_is_the_published_one_to_the_last_digit(name: str, row: tuple[str, str]) -> None:
    assert PUBLISHED[row]["exact"] == "yes"
    assert units()[name].size == Fraction(PUBLISHED[row]["value"])


@pytest.mark.parametrize(("name", "size"), BY_DEFINITION)
def test_metric_sizes_and_times_follow_the_si(name: str, size: Fraction) -> None:
    assert units()[name].size == size


@pytest.mark.parametrize(("name", "row"), PRINTED)
def test_size_is_the_printed_one_to_its_last_digit(name: str, row: tuple[str, str]) -> None:
    printed = PUBLISHED[row]["value"]
    places = len(printed.partition(".")[2])
    assert round(units()[name].size, places) == Fraction(printed)


@pytest.mark.parametrize(("name", "row"), [*INFORMAL, ("jigger", "jigger")])
def test_informal_measures_are_near_the_rounded_published_ones(name: str, row: str) -> None:
    assert float(units()[name].size) == pytest.approx(float(PUBLISHED[SPOONS, row]["value"]), rel=1e-5)


def test_a_saltspoon_is_a_quarter_teaspoon() -> None:
    assert units()["saltspoon"].size == units()["teaspoon"].size / 4  # common practice, no source


def test_every_unit_with_a_size_is_checked_here() -> None:
    checked = {name for name, _ in (*PAIRS, *BY_DEFINITION, *PRINTED, *INFORMAL)} | SCALES
    checked |= {"jigger", "saltspoon"}
    changes = {unit.name for unit in units().values() if unit.dimension is Dimension.TEMPERATURE_CHANGE}
    counted = {unit.name for unit in units().values() if unit.dimension is Dimension.COUNT}
    assert set(units()) - changes - counted == checked
    assert {units()[name].size for name in counted} == {1}


@pytest.mark.parametrize(
    ("name", "second_opinion"),
    [  # scipy.constants is in SI units (CODATA and NIST SP 811); a millilitre is 1e-6 m3
        ("inch", constants.inch / constants.milli),
        ("foot", constants.foot / constants.milli),
        ("pound", constants.pound / constants.gram),
        ("ounce", constants.oz / constants.gram),
        ("gallon", constants.gallon_US * 1e6),
        ("quart", constants.gallon_US / 4 * 1e6),
        ("pint", constants.gallon_US / 8 * 1e6),
        ("cup", constants.gallon_US / 16 * 1e6),
        ("gill", constants.gallon_US / 32 * 1e6),
        ("fluid ounce", constants.fluid_ounce_US * 1e6),
        ("tablespoon", constants.fluid_ounce_US / 2 * 1e6),
        ("teaspoon", constants.fluid_ounce_US / 6 * 1e6),
        ("jigger", constants.fluid_ounce_US * 1.5 * 1e6),
        ("imperial gallon", constants.gallon_imp * 1e6),
        ("imperial pint", constants.gallon_imp / 8 * 1e6),
        ("imperial fluid ounce", constants.fluid_ounce_imp * 1e6),
        ("litre", constants.liter * 1e6),
        ("minute", constants.minute),
        ("hour", constants.hour),
        ("day", constants.day),
        ("week", constants.week),
        ("pound per square inch", constants.psi / constants.kilo),
        ("kilocalorie", constants.calorie_th),
        ("bar", constants.bar / constants.kilo),
        ("year", constants.Julian_year),
        ("tola", 180 * constants.grain / constants.gram),
        ("degree Fahrenheit", constants.degree_Fahrenheit),
    ],
)
def test_size_agrees_with_scipy(name: str, second_opinion: float) -> None:
    assert float(units()[name].size) == pytest.approx(second_opinion, rel=1e-12)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    [  # NIST SP 811, B.8: t/°C = (t/°F - 32) / 1.8
        (-40, -40),
        (0, Fraction(-160, 9)),
        (32, 0),
        (212, 100),
        (350, Fraction(530, 3)),
    ],
)
def test_fahrenheit_converts_exactly(fahrenheit: int, celsius: Fraction) -> None:
    unit = units()["degree Fahrenheit"]
    assert unit.to_base(Fraction(fahrenheit)) == celsius
    assert unit.from_base(Fraction(celsius)) == fahrenheit
    assert float(celsius) == pytest.approx(
        constants.convert_temperature(fahrenheit, "Fahrenheit", "Celsius"), abs=1e-10
    )


def test_a_difference_of_temperature_has_no_offset() -> None:
    change = units()["degree Fahrenheit (difference)"]
    assert change.to_base(Fraction(25)) == Fraction(125, 9)  # NIST SP 811, B.8: 1 °F difference is 5/9 °C
    assert units()["degree Celsius (difference)"].to_base(Fraction(25)) == 25


def test_amounts_stay_exact() -> None:
    third = quantity(Fraction(1, 3), units()["cup"])
    assert third.low == Fraction(157725491, 2000000)  # 231/48 cubic inches of 2.54 cm each
    assert third.low == Fraction("2.54") ** 3 * 231 / 16 / 3


@given(
    name=st.sampled_from(sorted(units())),
    number=st.fractions(min_value=-500, max_value=10**6, max_denominator=1000),
)
def test_there_and_back_loses_nothing(name: str, number: Fraction) -> None:
    unit = units()[name]
    assert unit.from_base(unit.to_base(number)) == number


# --- pint ---------------------------------------------------------------------------------------------

# Its own definitions, exact on fractions: NIST SP 811 and Handbook 44, by their names in default_en.txt.
PINT = pint.UnitRegistry(non_int_type=Fraction)
BASES = {
    Dimension.MASS: "gram",
    Dimension.VOLUME: "milliliter",
    Dimension.LENGTH: "millimeter",
    Dimension.DURATION: "second",
    Dimension.PRESSURE: "kilopascal",
    Dimension.POWER: "watt",
    Dimension.ENERGY: "kilojoule",
    Dimension.RATIO: "dimensionless",
}
# What pint lacks, or means otherwise (a pico-inch by a pinch), by the definition that the row's source gives.
DEFINED = {
    "jigger": "3/2 fluid_ounce",
    "pinch": "1/16 teaspoon",
    "dash": "1/8 teaspoon",
    "smidgen": "1/32 teaspoon",
    "tad": "1/4 teaspoon",
    "saltspoon": "1/4 teaspoon",
    "drop": "1/20 milliliter",
    "dessertspoon": "10 milliliter",
    "imperial teaspoon": "5 milliliter",
    "imperial tablespoon": "15 milliliter",
    "metric teaspoon": "5 milliliter",
    "metric tablespoon": "15 milliliter",
    "metric cup": "1/4 liter",
    "Australian tablespoon": "20 milliliter",
    "Japanese cup": "200 milliliter",
    "tola": "180 grain",
    "pav": "1/4 kilogram",
    "etto": "1 hectogram",
    "continental tablespoon": "15 milliliter",
    "continental teaspoon": "5 milliliter",
    "fifth": "3/4 liter",
    "percent": "1/100",
}
ROUNDED = {"pound per square inch": ("pound_force / inch ** 2", Fraction(1, 10**12))}


def _by_pint(said: str, dimension: Dimension) -> Fraction:
    """One of a unit in base units; pint raises where it measures something else."""
    return Fraction(PINT(said).to(BASES[dimension]).magnitude)


@pytest.mark.parametrize("name", sorted(unit.name for unit in units().values() if unit.dimension in BASES))
def test_a_size_is_what_pint_works_out_from_the_definition(name: str) -> None:
    unit = units()[name]
    said, digits = ROUNDED.get(name, (DEFINED.get(name, name.replace(" ", "_")), Fraction(0)))
    assert abs(_by_pint(f"1 * {said}", unit.dimension) - unit.size) <= digits


@given(
    name=st.sampled_from(sorted(set(BASES) - {Dimension.RATIO})),
    other=st.sampled_from(sorted(set(BASES) - {Dimension.RATIO})),
)
def test_units_of_two_dimensions_never_convert(name: Dimension, other: Dimension) -> None:
    one = PINT.Quantity(Fraction(1), BASES[name])
    assert one.is_compatible_with(BASES[other]) == (name is other)


@given(st.fractions(min_value=-500, max_value=1000, max_denominator=100))
def test_temperatures_convert_as_pint_converts_them(fahrenheit: Fraction) -> None:
    by_pint = PINT.Quantity(fahrenheit, "degree_Fahrenheit").to("degree_Celsius").magnitude
    assert units()["degree Fahrenheit"].to_base(fahrenheit) == by_pint


# --- the words ----------------------------------------------------------------------------------------


def test_every_row_says_where_it_is_from() -> None:
    for row in table("units"):
        assert row["source"], row["name"]
        assert row["how_known"] in {"stored copy", "memory", "common practice", "definition"}, row["name"]
        assert ("no source" in row["source"]) == (row["how_known"] == "common practice"), row["name"]


def test_one_spelling_means_one_unit_within_a_measuring_set() -> None:
    seen: dict[tuple[str, str], str] = {}
    for row in table("units"):
        group = "temperature" if row["dimension"] == "temperature" else "amount"
        for word in filter(None, (*row["words"].split("|"), *row["doubtful_words"].split("|"))):
            place = (f"{group} {row['system']}", word)
            assert place not in seen, f"{word!r} is both {seen.get(place)} and {row['name']}"
            seen[place] = row["name"]


@pytest.mark.parametrize("measures", [System.US, System.IMPERIAL, System.AUSTRALIAN])
def test_only_the_measuring_set_decides_between_units(measures: System) -> None:
    """A spelling that two units share belongs to one of the three sets in each: no other rule is needed."""
    sets = {System.US, System.IMPERIAL, System.AUSTRALIAN}
    claims: dict[str, set[str]] = {}
    for row in table("units"):
        if row["dimension"] == "temperature":
            continue
        for word in filter(None, (*row["words"].split("|"), *row["doubtful_words"].split("|"))):
            claims.setdefault(word, set()).add(row["name"])
    assert set(unit_words(measures)) == set(claims)
    for word, names in claims.items():
        if len(names) > 1:
            assert {units()[name].system for name in names} <= sets, word
        own = [name for name in names if units()[name].system is measures]
        if own:
            assert unit_words(measures)[word].unit.name == own[0]


@pytest.mark.parametrize(
    ("measures", "like", "millilitres"),
    [
        (System.US, "cup", Fraction("236.5882365")),
        (System.US, "tablespoon", Fraction("14.78676478125")),
        (System.US, "teaspoon", Fraction("4.92892159375")),
        (System.IMPERIAL, "tablespoon", 15),
        (System.IMPERIAL, "teaspoon", 5),
        (System.IMPERIAL, "pint", Fraction("568.26125")),
        (System.IMPERIAL, "fluid ounce", Fraction("28.4130625")),
        (System.AUSTRALIAN, "cup", 250),
        (System.AUSTRALIAN, "tablespoon", 20),
        (System.AUSTRALIAN, "teaspoon", 5),
    ],
)
def test_all_spellings_of_a_measure_follow_the_set(
    measures: System, like: str, millilitres: Fraction
) -> None:
    """``T`` in an Australian recipe is 20 ml as ``tbsp`` is: no spelling falls back to the US spoon."""
    (row,) = (row for row in table("units") if row["name"] == like)
    for word in filter(None, (*row["words"].split("|"), *row["doubtful_words"].split("|"))):
        assert unit_words(measures)[word].unit.size == millilitres, word


@pytest.mark.parametrize("word", ["t", "t."])
@pytest.mark.parametrize("measures", [System.US, System.IMPERIAL, System.AUSTRALIAN])
def test_a_small_t_is_asked_about_in_every_set(word: str, measures: System) -> None:
    assert unit_words(measures)[word].doubtful


@pytest.mark.parametrize(
    ("word", "name"),
    [("°C", "degree Celsius"), ("F", "degree Fahrenheit"), ("°", "degree"), ("gas mark", "gas mark")],
)
def test_words_for_temperatures(word: str, name: str) -> None:
    assert temperature_words()[word].unit.name == name


def test_c_is_a_cup_in_a_list_and_a_scale_in_a_step() -> None:
    assert unit_words()["C"].unit.name == "cup"
    assert temperature_words()["C"].unit.name == "degree Celsius"


def test_no_unit_is_without_size_or_sign() -> None:
    for unit in units().values():
        assert unit.size > 0
        assert math.isfinite(float(unit.size))
        assert unit.symbol
