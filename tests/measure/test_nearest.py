"""What a name that no larder has comes nearest to."""

from __future__ import annotations

import pytest

from cardsmith.measure.larder import load_larder
from cardsmith.measure.nearest import is_misspelt, is_strange, nearest

LARDER = load_larder()


@pytest.mark.parametrize(
    ("text", "key", "name", "is_class", "beside"),
    [
        ("pork loin chops", "bone-in-pork-chop", "pork chop", False, ["pork-loin"]),
        ("frozen squelm berries", "frozen-mixed-berries", "frozen berry", False, []),
        ("hake steaks", "hake", "hake", False, []),  # the animal it is cut from
        ("elk tenderloin", "venison", "elk", True, []),  # that only stands for its class
        ("zander fillet with skin", "white-fish", "zander", True, []),
        ("bison chops (from the leg)", "venison", "bison", True, []),
        ("venison sausages", "pork-sausage", "sausage", False, ["venison"]),
        ("cod roe", "fish-roe", "roe", False, ["cod", "white-fish"]),  # no allergen is lost
        ("tiger-nut flour", "all-purpose-flour", "flour", True, ["walnut"]),
        ("stone-ground wheat flour", "all-purpose-flour", "wheat flour", True, []),
        ("chestnut ravioli", "spaghetti", "ravioli", True, ["chestnut"]),
    ],
)
def test_a_name_is_what_its_noun_names(
    text: str, key: str, name: str, is_class: bool, beside: list[str]
) -> None:
    found = nearest(text, LARDER)
    assert found is not None
    told = (found.food.key, found.name, found.is_class, [one.key for one in found.beside])
    assert told == (key, name, is_class, beside)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "squelm",
        "vegan sausages",  # called after an animal food
        "hazelnut milk",
        "oat milk",
        "cashew cream",
        "duck sauce",  # made with who knows what
        "frozen",  # no single adjective makes a food
    ],
)
def test_what_nobody_knows_or_is_only_called_so_is_nothing(text: str) -> None:
    assert nearest(text, LARDER) is None


def test_a_class_holds_what_its_foods_may_hold() -> None:
    found = nearest("almond cake (large)", LARDER)
    assert found is not None
    assert "?milk" in found.us_allergens
    assert "?tree nuts" in found.us_allergens
    assert "?nuts" in found.eu_allergens
    assert [one.key for one in found.beside] == ["almond"]


@pytest.mark.parametrize(
    ("text", "strange", "slip"),
    [
        ("chicken breast", False, False),
        ("chiken breast", True, True),
        ("tumeric", True, True),
        ("flourr", True, True),
        ("squelm", True, False),
        ("xhicken", True, False),  # a slip seldom changes the first letter
        ("sald", True, False),  # too short to tell
        ("flour 00", False, False),
    ],
)
def test_a_slip_of_the_pen_is_nearly_a_word_of_some_food(text: str, strange: bool, slip: bool) -> None:
    assert (is_strange(text, LARDER), is_misspelt(text, LARDER)) == (strange, slip)
