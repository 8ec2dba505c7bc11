"""The demo collection, looked at one by one: what each card warns of, and that no sound one warns of more."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.facts.dangers.cautions import cautions
from cardsmith.facts.foods.diets import printable
from cardsmith.facts.foods.foods import unknown
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Recipe
from tests.facts.bench_of_facts import larder

RECIPES = sorted((Path(__file__).parents[2] / "recipes").glob("*/recipe.yaml"))
WARNED = {
    "mustard-dressing": {"honey for infants"},  # stirred in raw
    "seeded-crackers": {"honey for infants"},  # baked; heat does not destroy the spores
    "peanut-brittle": {"hot sugar", "choking on whole nuts"},
}


def read(path: Path) -> Recipe:
    recipe, _ = read_recipe(path.parent.name, path.read_bytes(), str(path), larder())
    assert recipe is not None
    return recipe


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.parent.name)
def test_a_card_warns_of_what_its_dish_holds(path: Path) -> None:
    found = {one.found.hazard.name for one in cautions(read(path), larder()) if one.found}
    assert found == WARNED.get(path.parent.name, set())


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.parent.name)
def test_its_foods_are_known_and_its_claims_hold(path: Path) -> None:
    recipe = read(path)
    assert unknown(recipe, larder()) == ()
    assert printable(recipe, larder()) == tuple(one.text for one in recipe.claims)
