"""What the built-in editions are, beside the sources that their rows name."""

from __future__ import annotations

from dataclasses import fields, replace
from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.edition.markets import EDITIONS, Can, markets
from cardsmith.finding import CardsmithError
from cardsmith.house.editions import EditionStyle
from cardsmith.house.style import House, load_house, read_house
from cardsmith.measure.units import units
from cardsmith.reference import table

ROOT = Path(__file__).parents[2]
HOUSE = (ROOT / "templates/house.yaml").read_text(encoding="utf-8")
# NSW Health, metric conversion chart: what an Australian cup and spoons hold; modern British spoon sets.
MILLILITRES = {
    "metric teaspoon": 5,
    "Australian tablespoon": 20,
    "metric cup": 250,
    "imperial teaspoon": 5,
    "imperial tablespoon": 15,
}


def _house(editions: str) -> House:
    without = "\n".join(line for line in HOUSE.split("\n") if not line.startswith("editions:"))
    return read_house(f"{without}\neditions: {editions}\n")


def test_every_value_of_every_edition_has_a_source() -> None:
    assert tuple(markets()) == EDITIONS
    assert all(row["source"] for row in table("editions"))
    keys = [{row["key"] for row in table("editions") if row["edition"] == one} for one in EDITIONS]
    assert all(one == keys[0] for one in keys)


def test_cups_and_spoons_hold_what_their_market_says() -> None:
    assert {row["unit"]: units()[row["unit"]].size for row in table("household_measures")} == MILLILITRES


def test_the_first_edition_is_the_house_as_its_file_has_it() -> None:
    house = _house("{us: {}, uk: {}}")
    assert (house.home, house.further) == ("us", ("uk",))
    assert house.in_edition("us") is house


def test_a_further_edition_is_as_usual_in_its_market_less_what_the_house_says() -> None:
    british = _house("{us: {}, uk: {}}").in_edition("uk")
    assert (british.language, british.order, british.oven) == ("en-GB", ("metric",), {"fan", "gas"})
    assert (british.card.size.name, british.allergen_lists, british.declares) == ("a5", ("EU",), "EU")
    own = _house("{us: {}, uk: {card: a6, oven: [], order: [metric, us]}}").in_edition("uk")
    assert (own.card.size.name, own.oven, own.order) == ("a6", frozenset(), ("metric", "us"))
    assert (_house("{us: {}, uk: {}}").tagline, british.tagline) == (
        "Plain cooking from a small harbor",
        "Plain cooking from a small harbour",
    )
    assert (british.household, own.household) == ("imperial", "")  # beside US cups no other cup


@pytest.mark.parametrize(
    ("editions", "told"),
    [
        ("{us: {}}", "one edition is the house itself; write two at least: editions: {us: {}, uk: {}}"),
        ("{us: {}, fr: {}}", "there is no key “fr” in editions"),
        ("{us: {}, uk: {order: []}}", "order: it takes each system once at most, and one at least"),
        ("{us: {}, uk: {card: a9}}", "a9"),
        ("{us: {}, uk: {allergens: [UK]}}", "“UK” is not a choice for allergens"),
        ("{us: {}, uk: {paper: a99}}", "a99"),
        ("{us: {}, uk: {safety: {refrigerator: 10 °C}}}", "refrigerator at 10 °C is milder than 8 °C"),
        ("{us: {}, uk: {safety: {poultry: 60}}}", "“60” is not a temperature"),
        ("{us: {card: a5}, uk: {}}", "us is the house itself, so its card stands elsewhere in this file"),
    ],
)
def test_what_is_no_edition_is_refused(editions: str, told: str) -> None:
    with pytest.raises(CardsmithError) as refused:
        _house(editions)
    assert told in str(refused.value)


def test_every_key_of_an_edition_can_be_said_by_the_house() -> None:
    house = _house(
        "{us: {nutrition: EU, dates: day-first}, uk: {language: en-IE, order: [metric, us], household: none, "
        "oven: [gas], ladders: {gram: [{to: 1000, step: 10}], teaspoon: [1/2, 1]}, allergens: [US, EU], "
        "nutrition: US, safety: {refrigerator: 4 °C}, card: 5x7, paper: letter, cans: [410], eggs: [large], "
        "dates: month-first, quotes: double, endings: ize, issue: {date: Winter}, recipes: named}}"
    )
    british, market = house.in_edition("uk"), house.market("uk")
    assert (house.declares, house.dated_in) == ("EU", "en-GB")
    assert (british.language, british.order, british.household) == ("en-IE", ("metric", "us"), "")
    assert (british.ladders.gram[0].step, british.ladders.cup) == (10, house.ladders.cup)
    assert british.scoops == (("teaspoon", (Fraction(1, 2), Fraction(1))),)
    assert (british.allergen_lists, british.declares, british.dated_in) == (("US", "EU"), "US", "en-US")
    assert (british.card.size.name, british.proof.paper.name) == ("5x7", "letter")
    assert (market.cans, market.eggs) == ((Can(grams=Fraction(410)),), ("large",))
    assert (market.quotes, market.endings, market.stricter) == ("double", "ize", (("refrigerator", 4),))
    keys = {one.name for one in fields(EditionStyle)}
    assert dict(house.editions)["uk"].given == keys


def test_an_edition_that_is_not_declared_is_refused() -> None:
    with pytest.raises(CardsmithError, match="no edition 'au'; it has us, uk"):
        _house("{us: {}, uk: {}}").in_edition("au")
    with pytest.raises(CardsmithError, match=r"write in house\.yaml: editions: \{us"):
        replace(_house("{us: {}, uk: {}}"), editions=()).in_edition("uk")


def test_an_issue_keeps_its_name_unless_an_edition_has_its_own() -> None:
    house = _house("{us: {}, uk: {}, au: {issue: {date: Winter 2026}}}")
    told = {key: house.in_edition(key).issue for key in ("us", "uk", "au")}
    assert {key: (one.name, one.date) for key, one in told.items()} == {
        "us": ("Issue 31", "Summer 2026"),
        "uk": ("Issue 31", "Summer 2026"),
        "au": ("Issue 31", "Winter 2026"),
    }


def test_a_publication_without_a_style_of_its_own_has_no_editions(tmp_path: Path) -> None:
    assert load_house(tmp_path).editions == ()
    assert load_house(ROOT).further == ("uk", "au")
