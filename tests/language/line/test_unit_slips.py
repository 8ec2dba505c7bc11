"""Misspelled units: found where they are, and only there."""

from __future__ import annotations

import pytest

from cardsmith.language.line.unit_slips import PLAIN_WORDS, misspelled
from cardsmith.measure.larder import load_larder
from cardsmith.measure.units import Dimension, System, unit_words


def slip(text: str) -> str | None:
    found = misspelled(text, load_larder(), System.US)
    return found[1] if found else None


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("cps flour", "“cups”"),
        ("cpus flour", "“cups”"),
        ("tbps sugar", "“tbls” or “tbsp”"),
        ("tpsp sugar", "“tbsp” or “tsp”"),
        ("grms sugar", "“gms” or “grams”"),
        ("teasponn salt", "“teaspoon”"),
        ("tabelspoons salt", "“tablespoons”"),
        ("onces butter", "“ounces”"),
        ("punds potatoes", "“pounds”"),
        ("litters milk", "“liters”"),
    ],
)
def test_one_slip(text: str, instead: str) -> None:
    assert slip(text) == instead


@pytest.mark.parametrize(
    "text",
    ["cut lemons", "dill pickle", "pink grapefruit", "pears", "beets", "figs", "leeks", "pinto beans",
     "limes", "g flour", "xyz flour", "", "ground beef", "plums", "dates", "ham", "cod", "quinces"],
)  # fmt: skip
def test_no_slip(text: str) -> None:
    assert slip(text) is None


def test_no_food_of_the_larder_passes_for_a_slip() -> None:
    larder = load_larder()
    foods = [name for food in larder.foods.values() for name in (food.name, *food.aliases)]
    assert [name for name in foods if slip(name) and larder.find(name) is not None] == []


def test_plain_words_hide_no_unit_that_is_weighed() -> None:
    weighed = {Dimension.MASS, Dimension.VOLUME}
    assert not {
        word for word in PLAIN_WORDS & set(unit_words()) if unit_words()[word].unit.dimension in weighed
    }
