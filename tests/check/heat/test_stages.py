from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.check.heat.stages import FAHRENHEIT, stages
from cardsmith.recipe.model import Text
from tests.check.bench import HERE, found, recipe, steps

# Published tables (McGee; Colorado State University Extension), each row with its source.
with (Path(__file__).parents[2] / "data/sugar_stages.csv").open(encoding="utf-8", newline="") as file:
    PUBLISHED = [row for row in csv.DictReader(file) if row["altitude_ft"] == "0"]


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: f"{row['stage']} {row['low_f']}")
def test_published_temperature_of_a_stage_is_not_questioned(row: dict[str, str]) -> None:
    if row["stage"] not in stages():
        return
    low, high = (FAHRENHEIT.from_base(end) for end in stages()[row["stage"]])
    assert low <= Fraction(row["low_f"]) <= Fraction(row["high_f"]) <= high
    for end in ("low_f", "high_f"):
        told = steps("stage-temperature-disagree", f"Boil the syrup to {row['stage']}, {row[end]} °F.")
        assert told == ()


def test_stages_are_among_the_published() -> None:
    assert set(stages()) - {"amber"} <= {row["stage"] for row in PUBLISHED}


@pytest.mark.parametrize(
    ("step", "usual"),
    [
        ("Boil the syrup until it reads 118 °C, the hard-ball stage.", "121 to 130 °C"),
        ("Boil the syrup until it reads 300 °F, the soft-ball stage.", "234 to 240 °F"),
        ("Boil the syrup until amber, 120 °C.", "146 to 196 °C"),
    ],
)
def test_usual_temperature_is_told_in_the_scale_of_the_author(step: str, usual: str) -> None:
    (told,) = steps("stage-temperature-disagree", step)
    assert told.what.endswith(f"which is {usual}")


@pytest.mark.parametrize(
    ("note", "asked"),
    [
        ("Good with tea.", 1),
        ("Above 3,000 feet take 2 °F off for each 1,000 feet.", 0),
        ("See the note on altitude.", 0),
    ],
)
def test_a_height_in_a_note_is_a_word_on_altitude(note: str, asked: int) -> None:
    sweet = recipe(
        ["400 g granulated sugar", "100 g water"],
        ["Boil the sugar and water until the syrup reaches 118 °C."],
        notes=(Text(text=note, where=HERE),),
    )
    assert len(found("altitude-note-missing", sweet)) == asked


@pytest.mark.parametrize(
    ("title", "step", "severity"),
    [
        ("Condensed milk fudge", "Boil until the thermometer reads 150 °C, then beat.", "error"),
        ("Colombo milk toffee", "Boil until the thermometer reads 116 °C, then beat.", ""),
        ("Condensed milk fudge", "Boil until the thermometer reads 116 °C, then beat.", ""),
        ("Fudge", "Boil to 240 °F. Cool to 110 °F, then beat.", ""),
        ("Scottish tablet", "Boil to 125 °C, then beat.", "warning"),
        ("Peanut brittle with salt", "Boil the sugar to 116 °C and pour it out.", "error"),
        ("Sea-salt caramels", "Cook the sugar to 175 °C, add the cream and cook on to 121 °C.", ""),
        ("Salted caramel", "Cook the sugar to 180 °C and stir in the cream.", ""),
        ("Chocolate fudge cake", "Heat the oven to 180 °C. Boil the syrup to 150 °C.", ""),
        ("Almond nougat", "Boil the honey to 121 °C, and the sugar to 150 °C.", ""),
        ("Strawberry jam", "Boil hard until it reaches 120 °C.", "error"),
        ("Strawberry jam", "Boil hard until it reaches 104.5 °C.", ""),
        ("English toffee", "Boil to 245 °F and pour it out.", "error"),
    ],
)
def test_sweet_is_boiled_to_a_stage_of_its_own(title: str, step: str, severity: str) -> None:
    told = found("boiled-to-another-stage", recipe(["500 g granulated sugar"], [step], title=title))
    assert [one.severity.value for one in told] == [severity] * bool(severity)
