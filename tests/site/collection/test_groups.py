from __future__ import annotations

import csv
import io
import json

import pytest

from cardsmith.site.collection.allergens import words
from cardsmith.site.collection.groups import by_allergen, by_course, by_kind, by_time
from cardsmith.site.collection.redirects import moved, moved_table
from cardsmith.site.collection.search import search_data
from cardsmith.words import fixed_words
from tests.site.entries import entry

SAY = fixed_words("en-US")


def test_parts_of_the_meal_stand_as_on_a_menu_then_the_author_s_own_then_the_rest() -> None:
    found = [
        entry(str(place), course=course)
        for place, course in enumerate(("Other recipes", "Dessert", "Tiffin", "Bread"))
    ]
    headings = [group.heading for group in by_course(found, SAY)]
    assert headings == [
        "Bread",
        "Dessert",
        "Tiffin",
        "Other recipes",
    ]


def test_within_a_group_titles_are_in_alphabetical_order_whatever_their_case() -> None:
    (group,) = by_kind([entry("b", title="beta"), entry("c", title="Gamma"), entry("a", title="Alpha")], SAY)
    assert [one.title for one in group.entries] == ["Alpha", "beta", "Gamma"]


@pytest.mark.parametrize(
    ("seconds", "heading"),
    [
        (1800, "30 minutes or less"),
        (1801, "Up to 1 hour"),
        (3600, "Up to 1 hour"),
        (7201, "Up to 4 hours"),
        (14401, "Longer, or overnight"),
        (None, "Other recipes"),
    ],
)
def test_by_time(seconds: int | None, heading: str) -> None:
    assert [group.heading for group in by_time([entry("soup", total_seconds=seconds)], SAY)] == [heading]


CRACKERS = entry("crackers", sure_allergens=("gluten", "sesame", "wheat"))
STEW = entry("stew", sure_allergens=("tree nuts",), possible_allergens=("celery",))
PESTO = entry("pesto", sure_allergens=("milk", "tree nuts"))
SOUP = entry("soup")
ODD = entry("odd", unknown_foods=("sea grapes",))


def test_what_is_not_listed_is_only_what_is_wholly_known() -> None:
    every = (CRACKERS, STEW, PESTO, SOUP, ODD)
    groups = {group.word: group for group in by_allergen(every)}
    assert tuple(groups) == words(every) == ("celery", "gluten", "milk", "sesame", "tree nuts", "wheat")
    celery = groups["celery"]
    assert (celery.contains, celery.perhaps) == ((), (STEW,))
    assert celery.not_listed == (CRACKERS, PESTO, SOUP)
    for group in groups.values():
        assert ODD not in group.not_listed
        together = (*group.contains, *group.perhaps, *group.not_listed)
        assert sorted(one.name for one in together) == ["crackers", "pesto", "soup", "stew"]


def test_the_search_knows_what_the_filters_go_by() -> None:
    text = search_data([STEW, ODD, entry("line", title="A\u2028B </script>")], ("US",)).decode()
    recipes, spoken = text.split(";\nglobalThis.spoken = ")
    told = json.loads(recipes.removeprefix("globalThis.searchable = "))
    assert json.loads(spoken.rstrip().removesuffix(";"))["allergen"]["dairy"] == ["milk"]
    by_name = {one["name"]: one for one in told}
    assert by_name["stew"]["allergens"] == ["tree nuts", "celery"]
    assert (by_name["stew"]["known"], by_name["odd"]["known"]) == (True, False)
    assert by_name["line"]["title"] == "A\u2028B </script>"


def test_former_names_lead_to_the_recipe_as_it_is_called_now() -> None:
    every = (
        entry("pea-soup", formerly=("green-soup", "spring-soup")),
        entry("spring-soup"),  # the name is in use again
        entry("oat-cakes", formerly=("../../escape", "oats"), published="2026-02-01"),
        entry("oat-bread", formerly=("oats",), published="2026-03-01"),  # claims a name twice given
    )
    assert {former: one.name for former, one in moved(every).items()} == {
        "green-soup": "pea-soup",
        "oats": "oat-bread",
    }
    rows = list(csv.reader(io.StringIO(moved_table(every).decode())))
    assert rows[:2] == [["from", "to"], ["recipes/green-soup/", "recipes/pea-soup/"]]
