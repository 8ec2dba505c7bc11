"""A sound recipe from whose list one line was struck: the steps still use it, and that must be found."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Ingredient, Recipe
from tests.check.bench import found

BASES = sorted((Path(__file__).parents[1] / "twins/bases").glob("*.yaml"))
WHOSE_NAME_IS_FREE = ("water", "ice")
MISSED = {  # where the words fit what is left
    ("cured-pork", "fine salt"),  # the curing salt
    ("lime-curd", "eggs"),  # "the eggs and yolks"
    ("lime-curd", "egg yolks"),
}


@cache
def sound(path: Path) -> Recipe:
    recipe, _ = read_recipe(path.stem, path.read_bytes(), path.name, load_larder())
    assert recipe is not None
    return recipe


def without(recipe: Recipe, line: Ingredient) -> Recipe:
    parts = (
        replace(part, ingredients=tuple(one for one in part.ingredients if one is not line))
        for part in recipe.parts
    )
    return replace(recipe, parts=tuple(parts))


@pytest.mark.parametrize("path", BASES, ids=lambda path: path.stem)
def test_struck_line_is_missed(path: Path) -> None:
    recipe = sound(path)
    for line in recipe.ingredients:
        if line.for_use or line.food is None or line.food.key in WHOSE_NAME_IS_FREE:
            continue
        struck = without(recipe, line)
        told = found("used-not-listed", struck) + found("title-food-missing", struck)
        assert bool(told) != ((path.stem, line.item) in MISSED), line.item
