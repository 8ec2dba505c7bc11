"""The names of each edition: pairs held again, each read by the larder as the same food."""

from __future__ import annotations

import pytest

from cardsmith.edition.markets import Market, markets
from cardsmith.edition.names import ASKED, IN_LIST, LISTED, always, asked_of, beside, names
from cardsmith.edition.spelling import spellings
from cardsmith.edition.words import Change, Wording
from cardsmith.house.own.fact_tables import KEYS
from cardsmith.measure.larder import load_larder
from cardsmith.measure.patterns import cell
from cardsmith.reference import OURS, Tables, table

# US → UK → AU: the list that the table was made by, each of its pairs held again.
SAME = (
    ("all-purpose flour", "plain flour", "plain flour"),
    ("cornstarch", "cornflour", "maize cornflour"),
    ("powdered sugar", "icing sugar", "pure icing sugar"),
    ("superfine sugar", "caster sugar", "caster sugar"),
    ("baking soda", "bicarbonate of soda", "bicarb soda"),
    ("eggplant", "aubergine", "eggplant"),
    ("zucchini", "courgette", "zucchini"),
    ("arugula", "rocket", "rocket"),
    ("bell pepper", "pepper", "capsicum"),
    ("scallion", "spring onion", "spring onion"),
    ("beet", "beetroot", "beetroot"),
    ("rutabaga", "swede", "swede"),
    ("ground beef", "minced beef", "beef mince"),
    ("shrimp", "prawns", "prawns"),
    ("broil", "grill", "grill"),
    ("skillet", "frying pan", "frypan"),
    ("parchment paper", "baking parchment", "baking paper"),
    ("plastic wrap", "cling film", "plastic wrap"),
    ("cookie", "biscuit", "biscuit"),
    ("baking sheet", "baking tray", "oven tray"),
    ("molasses", "black treacle", "treacle"),
    ("color", "colour", "colour"),
)
ASKS = (
    "heavy cream",
    "half-and-half",
    "self-rising flour",
    "light corn syrup",
    "kosher salt",
    "graham cracker",
)
# Names that stand for another food to a reader of the US: in the edition they mean this one.
HOMONYMS = {"pepper", "cider", "tomato purée", "tomato sauce", "lemonade"}
BY_STRENGTH = {"nitrite curing salt, 0.5 per cent"}  # no larder reads a cure by half its name
NEAR = {
    "demerara sugar": "turbinado-sugar",
    "raw sugar": "turbinado-sugar",
    "caster sugar": "granulated-sugar",
}  # the nearest that is sold


def _swaps(
    listed: tuple[str, ...], home: Market, market: Market, tables: Tables = OURS
) -> tuple[Change, ...]:
    """Each phrase with the one that stands in its place, for a recipe that lists foods of these keys."""
    return (*always(home, market, tables), *beside(listed, LISTED, home, market, tables))


@pytest.mark.parametrize(("american", "british", "australian"), SAME, ids=[row[0] for row in SAME])
def test_the_same_thing_has_its_word_in_each_edition(american: str, british: str, australian: str) -> None:
    for key, word in (("uk", british), ("au", australian)):
        home, market = markets()["us"], markets()[key]
        pairs = (*_swaps((), home, market), *spellings(home, market))
        assert Wording.of(pairs).told(american)[0] == word


@pytest.mark.parametrize("american", ASKS)
@pytest.mark.parametrize("key", ["uk", "au"])
def test_what_has_no_plain_swap_is_asked(american: str, key: str) -> None:
    found = load_larder().find(american)
    assert found
    home, market = markets()["us"], markets()[key]
    row = asked_of(found.food, home, market)
    assert row
    assert row.why
    assert Wording.of(_swaps((found.food.key,), home, market)).told(american)[1] == ()


def test_every_name_is_read_as_the_food_that_it_names() -> None:
    for row in table("edition_names"):
        assert row["source"], row
        if not row["foods"] or row["when"] in {"listed", "beaten"}:
            continue
        for column in ("us", "uk", "au"):
            for name in cell(row[column]):
                if name != ASKED and name not in HOMONYMS:
                    found = load_larder().find(name)
                    assert found, name
                    assert {found.food.key, NEAR.get(name)} & set(cell(row["foods"])), name


@pytest.mark.parametrize("key", ["uk", "au"])
def test_no_food_becomes_another_by_its_name_there(key: str) -> None:
    """Pomegranate molasses is no treacle, shrimp paste no prawns: every food is itself there."""
    home, market, larder = markets()["us"], markets()[key], load_larder()
    usual = (*always(home, market), *spellings(home, market))
    for food in larder.foods.values():
        if asked_of(food, home, market):
            continue
        own = (*beside((food.key,), IN_LIST, home, market), *beside((food.key,), LISTED, home, market))
        name = Wording.of((*own, *usual)).told(food.name, begins=False)[0]
        found = larder.find(name)
        assert name in HOMONYMS | BY_STRENGTH or (found and food.key in (found.food.key, NEAR.get(name))), (
            food.name,
            name,
        )


def test_an_edition_in_the_same_words_has_none_to_change() -> None:
    british, european = markets()["uk"], markets()["eu"]
    assert names(british, european) == ()
    assert list(_swaps((), british, european)) == []


def test_a_word_that_is_also_another_is_changed_only_beside_its_food() -> None:
    home, market = markets()["us"], markets()["uk"]
    assert Wording.of(_swaps((), home, market)).told("all-purpose")[0] == "all-purpose"
    assert Wording.of(_swaps(("all-purpose-flour",), home, market)).told("all-purpose")[0] == "plain"


def test_a_house_has_words_of_its_own_for_an_edition() -> None:
    row = {
        "foods": "zucchini",
        "us": "zucchini",
        "uk": "baby marrow",
        "au": "zucchini",
        "when": "",
        "why": "",
    }
    own = Tables.of({"edition_names": [row]}, {"edition_names": KEYS["edition_names"]})
    home, market = markets()["us"], markets()["uk"]
    assert Wording.of(_swaps((), home, market, own)).told("zucchini")[0] == "baby marrow"
    assert Wording.of(_swaps((), home, market, own)).told("eggplant")[0] == "aubergine"
