"""Every dish with all the hazards it holds, and no other; their order; what an author may add."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardsmith.facts.dangers.cautions import OUTDONE, cautions, hazards
from cardsmith.facts.dangers.eaters import for_babies
from cardsmith.facts.method.dish import dish as known
from cardsmith.recipe.model import Recipe, Text
from tests.facts.bench_of_facts import HERE, dish, larder
from tests.facts.caution_cases import CASES
from tests.facts.dish_cases import CASES as DISHES

ALL = (*CASES, *DISHES)


def names(recipe: Recipe) -> set[str]:
    return {one.found.hazard.name for one in cautions(recipe, larder()) if one.found}


@pytest.mark.parametrize(("recipe", "expected"), [one[1:] for one in ALL], ids=[one[0] for one in ALL])
def test_the_hazards_of_a_dish(recipe: Recipe, expected: set[str]) -> None:
    assert names(recipe) == expected


def test_none_is_dropped_and_the_gravest_comes_first() -> None:
    recipe = next(recipe for name, recipe, _ in CASES if name == "sugar boiled and deep fat in one dish")
    more = dish(
        "400 g granulated sugar; 1 l vegetable oil; 60 g honey; 2 egg yolks; 60 ml dark rum;"
        " 100 g alfalfa sprouts; 300 g tuna steak",
        "Whisk the yolks with the honey.",
        "Boil the sugar until the syrup reads 150 °C.",
        "Heat the oil to 180 °C. Pour over the rum and set it alight.",
        "Slice the tuna and top with the sprouts and the yolks.",
    )
    assert [one.rank for one in cautions(recipe, larder())] == [1, 3, 3]
    found = cautions(more, larder())
    assert len(found) == 7
    assert [one.rank for one in found] == sorted(one.rank for one in found)


def test_each_says_where_it_comes_from() -> None:
    recipe = dish("2 egg yolks; 200 g sunflower oil", "Whisk the yolks with the oil.", "Ask the mandoline.")
    told = {one.found.hazard.name: one.found for one in cautions(recipe, larder()) if one.found}
    assert told["raw egg"].line == 0
    assert told["mandoline"].step == 1
    assert all(one.source for one in cautions(recipe, larder()))


def test_every_outdone_name_is_in_the_table() -> None:
    known = {one.name for one in hazards()}
    assert set(OUTDONE) <= known
    assert set().union(*OUTDONE.values()) <= known


def test_the_kind_changes_nothing() -> None:
    for _, recipe, expected in CASES:
        for kind in ("brittle", "quick-bread", "custard"):
            assert names(replace(recipe, kind=Text(text=kind, where=HERE))) == expected


@pytest.mark.parametrize("place", ["steps", "storage", "notes"])
def test_nor_does_the_field_in_which_a_sentence_stands(place: str) -> None:
    told = "Shave it on a mandoline."
    recipe = dish(
        "1 fennel bulb; 20 ml olive oil",
        "Toss the fennel with the oil.",
        *([told] if place == "steps" else []),
    )
    if place == "storage":
        recipe = replace(recipe, storage=told)
    if place == "notes":
        recipe = replace(recipe, notes=(Text(text=told, where=HERE),))
    assert names(recipe) == {"mandoline"}


def test_an_abbreviation_parts_no_warning_from_whom_it_is_about() -> None:
    told = [
        replace(dish("100 g honey; 1 banana", "Mash the banana with the honey."), headnote=headnote)
        for headnote in ("Not for those under approx. 12 months old.", "For those of approx. 8 months old.")
    ]
    assert [for_babies(known(recipe, larder()), 0) for recipe in told] == [False, True]
