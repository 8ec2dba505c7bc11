"""What an edition's shops have: eggs, cans, packs and pans, and that no amount moves for it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from cardsmith.edition.lines import Editing, LineThere, line_there
from cardsmith.edition.markets import EDITIONS, markets
from cardsmith.edition.sold import egg_size, egg_sizes, unsold_pans
from cardsmith.edition.swaps import swapped
from cardsmith.finding import Where
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.recipe.fields.lines import read_lines
from cardsmith.recipe.model import EditionAnswer
from cardsmith.reference import table
from tests.facts.bench_of_facts import dish

WITHIN = Fraction(5, 100)
# 7 CFR 56.218: dozens of 18, 21, 24, 27, 30 oz; Regulation (EC) 589/2008; Australian labelling guide.
LEAST = {
    "us": {"small": 42.5, "medium": 49.6, "large": 56.7, "extra-large": 63.8, "jumbo": 70.9},
    "uk": {"medium": 53, "large": 63, "very large": 73},
    "au": {"large": 50, "extra-large": 58.3, "jumbo": 66.7},
}


@cache
def _larder() -> Larder:
    return load_larder()


def _there(line: str, key: str, home: str = "us") -> LineThere:
    read, _ = read_lines(line, Where(file="recipe.yaml"), _larder())
    by = Editing(larder=_larder(), home=markets()[home], market=markets()[key], within=WITHIN)
    return line_there(read[0], (), by)


@pytest.mark.parametrize("key", LEAST)
def test_a_size_class_begins_where_its_rule_says(key: str) -> None:
    told = {row["size"]: float(row["least"]) for row in table("egg_sizes") if row["edition"] == key}
    assert {size: told[size] for size in LEAST[key]} == LEAST[key]
    assert set(markets()[key].eggs) <= set(egg_sizes(key))


@pytest.mark.parametrize(
    ("size", "home", "key", "there"),
    [
        ("large", "us", "uk", "medium"),
        ("large", "us", "eu", "medium"),
        ("large", "us", "au", "extra-large"),
        ("medium", "us", "au", "large"),
        ("medium", "us", "uk", None),
        ("extra-large", "us", "uk", "large"),
        ("medium", "uk", "us", "large"),
        ("medium", "uk", "eu", "medium"),
    ],
)
def test_an_egg_stands_for_one_that_weighs_nearly_as_much(
    size: str, home: str, key: str, there: str | None
) -> None:
    assert egg_size(size, markets()[home], markets()[key], WITHIN) == there


def test_a_house_whose_shops_have_one_size_gets_weights_for_the_others() -> None:
    market = replace(markets()["au"], eggs=("large",))
    assert egg_size("large", markets()["us"], market, WITHIN) is None
    assert egg_size("large", markets()["us"], market, Fraction(11, 100)) == "large"


def test_a_can_has_the_label_of_the_shops_there_and_none_of_ours() -> None:
    there = _there("1 (14-oz/397 g) can chopped tomatoes", "uk")
    (line,) = there.lines
    assert line.container is not None
    assert line.container.each is not None
    assert (line.container.each.middle, line.container.said) == (400, ())


def test_eggs_of_no_size_near_enough_go_by_weight() -> None:
    there = _there("2 medium eggs, beaten", "uk")
    (line,) = there.lines
    assert line.amount is not None
    assert (line.amount.low, line.amount.unit.name, line.size) == (88, "gram", "")
    assert line.prep == "weighed without shells, beaten"
    assert there.changes == (("medium eggs", "eggs by weight"),)


@pytest.mark.parametrize(
    ("line", "key", "grams", "word", "each"),
    [
        ("1 envelope (7 g) active dry yeast", "uk", 7, "sachet", 7),
        ("1 packet instant yeast", "au", 7, "sachet", 7),
        ("1 stick unsalted butter", "uk", 113, "", None),
        ("1 cake (17 g) fresh yeast", "uk", 17, "", None),
        ("1 cube (42 g) fresh yeast", "eu", 42, "", None),
        ("1 (28 oz) can whole tomatoes", "uk", Fraction(28 * 45359237, 16 * 100000), "can", 800),
    ],
)
def test_packs_are_those_of_the_market_and_hold_what_the_author_has(
    line: str, key: str, grams: Fraction, word: str, each: int | None
) -> None:
    (one,) = _there(line, key).lines
    assert one.amount is not None
    assert abs(one.amount.low / grams - 1) < Fraction(1, 100)
    box = one.container
    assert (box.word if box else "") == word
    assert (box.each.low if box and box.each else None) == each


def test_gelatine_by_the_envelope_is_weighed_where_sachets_hold_more() -> None:
    (line,) = _there("2 (¼ oz) envelopes unflavored gelatin", "uk").lines
    assert line.container is None
    assert line.amount is not None
    assert line.amount.unit.name == "gram"


@pytest.mark.parametrize(
    ("line", "home", "key", "told"),
    [
        (
            "1 (15 oz) can chickpeas, drained",
            "us",
            "uk",
            "some 480 g drained; say how many",
        ),
        ("4 gelatin sheets", "us", "uk", "sold by strength, bronze, silver, gold or platinum"),
        ("4 platinum gelatine leaves", "uk", "us", "powder comes in envelopes of 7 g"),
        ("20 g fresh yeast", "uk", "us", "a third of its weight"),
    ],
)
def test_what_the_market_has_otherwise_is_asked(line: str, home: str, key: str, told: str) -> None:
    assert [told in one.what for one in _there(line, key, home).findings] == [True]


def test_a_can_of_a_size_of_the_market_is_not_asked() -> None:
    assert not _there("1 (15 oz) can chickpeas", "au").findings


@pytest.mark.parametrize(
    ("pan", "found"),
    [
        ("9-inch round cake pan", {"uk": 0, "au": 0}),
        ("9.5-inch springform pan", {"uk": 1, "au": 0}),
        ("9 by 13-inch baking pan", {"uk": 0, "au": 0}),
        ("8-inch square baking pan", {"uk": 0, "au": 0}),
        ("12-inch round cake pan", {"uk": 1, "au": 1}),
        ("12-inch frying pan", {"uk": 0, "au": 0}),
        ("9-inch pie plate", {"uk": 0, "au": 0}),
    ],
)
def test_a_pan_that_no_shop_has_is_told_with_the_nearest(pan: str, found: dict[str, int]) -> None:
    recipe = dish("200 g all-purpose flour", f"Bake in a {pan} for 20 minutes.")
    assert {key: len(list(unsold_pans(recipe, markets()[key]))) for key in found} == found


def test_every_row_of_what_is_sold_has_a_source_and_an_edition() -> None:
    for name in ("edition_cans", "edition_packs", "edition_pans", "egg_sizes"):
        assert all(row["source"] and row["edition"] in EDITIONS for row in table(name)), name


@pytest.mark.parametrize(
    ("line", "instead", "told"),
    [
        ("7 g powdered gelatin", "4 platinum gelatine leaves", ""),
        ("7 g powdered gelatin", "4 bronze gelatine leaves", "gelatine 17 % stronger"),
        ("7 g powdered gelatin", "2 gold gelatine leaves", "gelatine 49 % weaker"),
        ("7 g instant yeast", "21 g fresh yeast", ""),
        ("7 g instant yeast", "14 g fresh yeast", "yeast 33 % weaker"),
        ("7 g active dry yeast", "1 sachet fast-action dried yeast", "yeast 20 % stronger"),
    ],
)
def test_what_sets_or_raises_is_held_by_its_strength(line: str, instead: str, told: str) -> None:
    read, _ = read_lines(line, Where(file="recipe.yaml"), _larder())
    answer = EditionAnswer(where=Where(file="recipe.yaml"), name=line, instead=instead)
    found = swapped(read[0], answer, _larder(), markets()["uk"]).findings
    assert [told in one.what for one in found] == ([True] if told else [])
