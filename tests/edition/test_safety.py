"""What authorities ask in each edition, and cautions that lose no figure in other words."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest

from cardsmith.edition.markets import markets
from cardsmith.edition.safety import caution_in, limits, too_mild
from cardsmith.facts.dangers.cautions import hazards
from cardsmith.measure.published_heats import published
from cardsmith.measure.units import System
from cardsmith.reference import table
from tests.facts.bench_of_facts import dish

# USDA FSIS 165 and 160 °F; UK FSA 70 °C for 2 minutes; FSANZ 75 °C; 40 °F, 8, 5 °C; hot 140 °F, 63, 60 °C.
ASKED = {
    "us": {
        "poultry": Fraction(665, 9),
        "ground meat": Fraction(640, 9),
        "refrigerator": Fraction(40, 9),
        "hot holding": 60,
    },
    "uk": {"poultry": 70, "ground meat": 70, "pork": 70, "refrigerator": 8, "hot holding": 63},
    "au": {"poultry": 75, "ground meat": 75, "refrigerator": 5, "hot holding": 60},
}
BIRD = "8 chicken thighs (1.4 kg), bone-in"
CASES = (
    (BIRD, "Roast until the thickest part of a thigh reads 165 °F.", "", {"us": 0, "uk": 0, "au": 0}),
    (BIRD, "Roast until the thickest part of a thigh reads 166 °F.", "", {"us": 0, "uk": 0, "au": 0}),
    (BIRD, "Roast until the thickest part of a thigh reads 74 °C.", "", {"us": 0, "uk": 0, "au": 1}),
    (BIRD, "Roast until the thickest part of a thigh reads 70 °C.", "", {"us": 1, "uk": 0, "au": 1}),
    (BIRD, "Roast until the thickest part of a thigh reads 75 °C.", "", {"us": 0, "uk": 0, "au": 0}),
    # The UK lets whole cuts of beef and lamb be rare, no pork.
    ("1.4 kg pork loin", "Roast until the middle reads 145 °F.", "", {"us": 0, "uk": 1, "au": 0}),
    ("1.4 kg beef tenderloin", "Roast until the middle reads 130 °F.", "", {"us": 0, "uk": 0, "au": 0}),
    ("1 kg ground beef", "Fry until the middle reads 160 °F.", "", {"us": 0, "uk": 0, "au": 1}),
    (BIRD, "Hold at 65 °C inside for 12 minutes.", "", {"us": 1, "uk": 0, "au": 1}),
    (BIRD, "Hold at 65 °C inside for 5 minutes.", "", {"us": 1, "uk": 1, "au": 1}),
    # The time on the way to a heat is no time at it, and neither is a rest behind it.
    (BIRD, "Roast for 1 hour, until a thigh reads 65 °C.", "", {"us": 1, "uk": 1, "au": 1}),
    (BIRD, "Roast until a thigh reads 65 °C, then rest for 15 minutes.", "", {"us": 1, "uk": 1, "au": 1}),
    ("1 kg beef sirloin", "Roast until the middle reads 54 °C.", "", {"us": 0, "uk": 0, "au": 0}),
    ("200 g whole milk", "Warm the milk.", "Keep in the refrigerator at 8 °C.", {"us": 1, "uk": 0, "au": 1}),
    ("200 g whole milk", "Warm the milk.", "Keep in the refrigerator at 4 °C.", {"us": 0, "uk": 0, "au": 0}),
)


@pytest.mark.parametrize("key", ASKED)
def test_an_edition_asks_what_its_authority_asks(key: str) -> None:
    assert {one.name: one.celsius for one in limits(key) if not one.seconds} == ASKED[key]
    assert all(one.source and one.said for one in limits(key))


@pytest.mark.parametrize(("lines", "step", "storage", "found"), CASES)
def test_a_figure_too_mild_for_an_edition_is_told(
    lines: str, step: str, storage: str, found: dict[str, int]
) -> None:
    recipe = dish(lines, step, storage=storage)
    assert {key: len(list(too_mild(recipe, markets()[key]))) for key in found} == found


def test_a_figure_of_the_house_is_asked_where_it_is_stricter() -> None:
    market = replace(markets()["uk"], stricter=(("refrigerator", Fraction(4)),))
    recipe = dish("200 g whole milk", "Warm the milk.", storage="Keep in the refrigerator at 5 °C.")
    assert not list(too_mild(recipe, markets()["uk"]))
    assert ["the house's own figure" in one.what for one in too_mild(recipe, market)] == [True]


def test_a_stricter_house_takes_no_milder_heat_however_long_it_is_held() -> None:
    market = replace(markets()["uk"], stricter=(("poultry", Fraction(74)),))
    recipe = dish(BIRD, "Hold at 65 °C inside for 12 minutes.")
    assert not list(too_mild(recipe, markets()["uk"]))
    assert len(list(too_mild(recipe, market))) == 1


def test_a_milder_heat_held_is_as_the_authority_says() -> None:
    """UK Food Standards Agency: 65 °C for 10 minutes and 60 °C for 45 do as 70 °C for 2."""
    held = {one.celsius: one.seconds for one in limits("uk") if one.seconds}
    assert held == {65: 600, 60: 2700}


def test_a_caution_of_the_tables_keeps_its_figures_or_has_stricter_ones() -> None:
    ours = {one.text for one in hazards()}
    for row in table("edition_cautions"):
        assert row["us"] in ours
        assert row["source"]
        for column in ("uk", "au"):
            assert "°F" not in row[column]
            celsius = re.findall(r"−?\d+ °C", row["us"])
            told = re.findall(r"−?\d+ °C", row[column])
            assert len(celsius) == len(told)
            for one, other in zip(celsius, told, strict=True):
                assert int(other.split()[0].replace("−", "-")) >= int(one.split()[0].replace("−", "-"))


def test_every_caution_in_degrees_has_its_words_in_each_edition() -> None:
    printed = [one.text for one in hazards() if one.action in ("caution", "review")]
    for text in printed:
        for key in ("uk", "eu", "au"):
            assert "°F" not in caution_in(text, key)


def test_a_stricter_limit_never_leads_back_to_a_milder_one() -> None:
    """165 °F is 75 °C in Britain; 75 °C is 167 °F, of which 165 would fall short."""
    pairs = published("uk")
    assert pairs[System.US][Fraction(165)] == 75
    assert Fraction(75) not in pairs[System.METRIC]
