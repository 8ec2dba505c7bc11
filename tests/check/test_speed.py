"""What judging costs, in processor time, so that an editor can check on every save."""

from __future__ import annotations

from pathlib import Path
from statistics import median
from time import process_time

from bench import house

from cardsmith.check.run import judge
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Recipe

MOST = 0.060  # seconds a recipe; about 0.020 on a plain machine of 2025, so that only a blunder fails
ROOT = Path(__file__).parents[2]


def demo() -> list[Recipe]:
    paths = sorted((ROOT / "recipes").glob("*/recipe.yaml"))
    read = (read_recipe(path.parent.name, path.read_bytes(), str(path), load_larder()) for path in paths)
    return [recipe for recipe, _ in read if recipe is not None]


def cost(recipe: Recipe) -> float:
    start = process_time()
    judge(recipe, load_larder(), house())
    return process_time() - start


def test_judging_is_quick() -> None:
    recipes = demo()
    assert len(recipes) >= 12
    for recipe in recipes:  # the tables are read once
        cost(recipe)
    assert median(min(cost(recipe) for _ in range(3)) for recipe in recipes) < MOST
