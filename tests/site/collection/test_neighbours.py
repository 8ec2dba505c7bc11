"""Where a recipe's page leads on: three others, each for a reason that a reader is told."""

from __future__ import annotations

import json

import pytest

from cardsmith.site.collection.neighbours import neighbour_files, neighbours
from cardsmith.site.entry import Entry
from cardsmith.words import fixed_words
from tests.site.entries import entry

SAY = fixed_words("en-US")
CURD = entry("curd", foods=("lemon", "egg yolk", "butter"), course="Preserves", group="Curds")
SHELLS = entry(
    "shells",
    foods=("egg white", "sugar"),
    ingredients=("large egg whites, cold",),
    course="Dessert",
    group="Meringues",
)
CUSTARD = entry("custard", foods=("egg yolk", "egg white", "cream"), course="Dessert", group="Custards")
MOUSSE = entry("mousse", foods=("cream", "chocolate"), course="Dessert", group="Mousses")
SODA = entry("soda-bread", foods=("flour", "buttermilk"), course="Bread", group="Quick breads")
SCONES = entry("scones", foods=("flour", "butter"), course="Bread", group="Quick breads")
LOAF = entry("loaf", foods=("flour", "yeast"), course="Bread", group="Yeast breads")
PANNA = entry("panna", foods=("buttermilk", "cream"), course="Dessert", group="Set desserts")
DRAFT = entry("draft", foods=("buttermilk", "lemon"), course="Bread", group="Quick breads", published="")
EVERY = (CURD, SHELLS, CUSTARD, MOUSSE, SODA, SCONES, LOAF, PANNA, DRAFT)


def leads(name: str) -> list[tuple[str, str]]:
    found = {one.name: others for one, others in neighbours(EVERY, SAY, "en-US")}
    return [(one.name, why) for one, why in found[name]]


def test_first_comes_what_takes_what_is_left_then_a_rare_food_then_its_own_kind() -> None:
    assert leads("curd") == [
        ("shells", "Takes the egg whites left over"),
        ("custard", "Also with egg yolk"),
        ("scones", "Also with butter"),
    ]
    assert leads("soda-bread") == [
        ("panna", "Also with buttermilk"),
        ("scones", "Quick breads"),
        ("loaf", "Bread"),
    ]


def test_a_food_that_many_take_leads_nowhere() -> None:
    assert ("loaf", "Also with flour") not in leads("scones")


@pytest.mark.parametrize("one", EVERY, ids=lambda one: one.name)
def test_it_leads_to_three_others_that_are_published(one: Entry) -> None:
    names = [name for name, _ in leads(one.name)]
    assert len(set(names)) == 3
    assert not {one.name, "draft"} & set(names)


def test_where_nothing_is_alike_the_newest_are_left() -> None:
    days = {"tea": "2026-01-01", "pie": "2026-03-01", "rye": "2026-06-20", "jam": "2026-02-28"}
    lone = [entry(name, course=name, group=name, published=day) for name, day in days.items()]
    ((_, found), *_) = neighbours(lone, SAY, "en-US")
    assert [(one.name, why) for one, why in found] == [
        ("rye", "Newest"),
        ("pie", "March 1, 2026"),
        ("jam", "February 28, 2026"),
    ]


def test_each_page_has_its_file_in_the_language_of_the_house() -> None:
    made = neighbour_files(EVERY, fixed_words("de"), "de")
    assert set(made) == {f"recipes/{one.name}/neighbours.js" for one in EVERY}
    text = made["recipes/soda-bread/neighbours.js"].decode()
    told = json.loads(text.removeprefix("globalThis.neighbours = ").removesuffix(";\n"))
    assert [one["why"] for one in told] == ["Auch mit buttermilk", "Brote ohne Hefe", "Brot"]
