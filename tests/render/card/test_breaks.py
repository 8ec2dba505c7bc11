"""No line ends within a measure, a range or a size, in any size of card; made-up recipes are searched."""

from __future__ import annotations

import pytest

from cardsmith.flow import prepare
from cardsmith.measure.larder import load_larder
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.typesetter import Typesetter
from tests.benchmarks.breaks import END, RECIPES, SIZES, WRONG, divided, search
from tests.demo import house_of_one_edition


@pytest.mark.parametrize(
    "wrong",
    [
        "bake for 10¶to 14 minutes",
        "bake for 10 to¶14 minutes",
        "a 9-¶inch pan",
        "about¶5 pots",
        "150¶g",
        "1¶½ cups",
        "2 (14-ounce¶) cans",
        "5 ×¶8 cm",
        "½ cup +¶1 tbsp",
        "3 (150 g in¶all)",
        "3 (150 g¶in all)",
        "4 (150 g¶each)",
        "vegan, gluten-¶free",
        "a half-¶inch border",
    ],
)
def test_a_break_within_a_measure_is_found(wrong: str) -> None:
    assert WRONG.search(wrong.replace("¶", END))


@pytest.mark.parametrize(
    "right",
    [
        "40 minutes¶to 2 hours",
        "350 °F¶(180 °C)",
        "½ cup¶+ 1 tbsp",
        "3 stalks¶(150 g in all)",
        "2 (14-ounce)¶cans",
        "all-¶purpose flour",
    ],
)
def test_a_break_between_terms_systems_and_words_is_none(right: str) -> None:
    assert not WRONG.search(right.replace("¶", END))


@pytest.mark.parametrize(
    ("text", "halves"),
    [
        ("rice vin¶egar and salt", [("vin", "egar")]),
        ("½ table‐¶spoon", [("table‐", "spoon")]),
        ("rice¶vinegar", []),
        ("so that vine‐¶gar runs", []),  # a hyphen may divide running text
    ],
)
def test_a_word_divided_without_a_hyphen_is_found_and_a_measure_with_one(
    text: str, halves: list[tuple[str, str]]
) -> None:
    words = {"rice", "vinegar", "ricevinegar", "tablespoon"}
    assert list(divided(text.replace("¶", END), words, {("rice", "vinegar")}, {"tablespoon"})) == halves


@pytest.mark.parametrize("start", [0, pytest.param(10, marks=pytest.mark.nightly)])
def test_no_line_ends_within_a_measure(start: int, typesetter: Typesetter) -> None:
    """Two recipes; by night, all that are made up."""
    seeds = range(start, RECIPES) if start else range(0, 4, 3)
    tried = list(search(house_of_one_edition(), typesetter, seeds))
    assert {one.size for one in tried} <= set(SIZES)
    assert [one.refused for one in tried if one.refused] == []
    assert [(one.seed, one.size, *one.broken) for one in tried if one.broken] == []


def test_a_number_with_words_before_it_stands_where_units_begin(typesetter: Typesetter) -> None:
    house = house_of_one_edition()
    text = (
        "title: Crackers\nyield: {makes: 24 pieces}\ntime: {active: 10 min, total: 1 h}\ningredients:\n"
        "  - 200 g all-purpose flour\n  - about 120 g water\n  - scant 1 cup whole milk\n"
        "steps:\n  - Mix the flour, water and milk, and bake at 180 °C for 20 minutes, until gold.\n"
    )
    card = prepare("crackers", text.encode(), "recipe.yaml", load_larder(), house).card
    assert card is not None
    layout = lay_out_card(card_view(card, house), typesetter, house.card, {})
    assert layout.fits  # no word over another
