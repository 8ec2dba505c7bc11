"""What judging costs, in processor time, so that an editor can check on every save."""

from __future__ import annotations

from pathlib import Path
from statistics import median
from time import process_time

import pytest

from cardsmith.check.run import judge
from cardsmith.flow import prepare
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Recipe
from tests.check.bench import house
from tests.pace import pace

TWICE = 2.6  # as long, at most, for twice as much: a little of every recipe's work is the same for all
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
    assert median(min(cost(recipe) for _ in range(3)) for recipe in recipes) < MOST * pace()


def of_many_foods(lines: int, steps: int) -> bytes:
    """Each step speaks of three foods."""
    foods = [food.name for food in load_larder().foods.values()][:: len(load_larder().foods) // 100]
    listed = [f"{50 + place} g {food}" for place, food in enumerate(foods[:lines])]
    method = [
        f"Stir the {foods[place % lines]} and the {foods[7 * place % lines]} in a large bowl with the "
        f"{foods[13 * place % lines]} until smooth. Bake at 180 °C for {10 + place} minutes, until golden."
        for place in range(steps)
    ]
    return large(listed, method)


def of_one_food(lines: int, steps: int) -> bytes:
    """Each step speaks of every line, many times over."""
    step = "Add 10 g of the flour, until smooth, then more of the flour, the flour and the flour. "
    return large(["10 g all-purpose flour"] * lines, [step * 2] * steps)


def large(listed: list[str], method: list[str]) -> bytes:
    head = "title: A large cake\nkind: cake\nyield: {makes: 12 pieces}\ningredients:"
    return "\n".join(
        [head, *(f"  - {one}" for one in listed), "steps:", *(f"  - {one}" for one in method), ""]
    ).encode()


def flow(text: bytes) -> float:
    start = process_time()
    prepared = prepare("large", text, "large.yaml", load_larder(), house())
    assert prepared.card is not None
    return process_time() - start


@pytest.mark.parametrize(
    ("few", "many"),
    [(of_many_foods(48, 39), of_many_foods(96, 78)), (of_one_food(45, 20), of_one_food(90, 20))],
    ids=["many foods", "one food"],
)
def test_twice_as_much_takes_about_twice_as_long(few: bytes, many: bytes) -> None:
    flow(few)
    pairs = [(flow(few), flow(many)) for _ in range(3)]
    assert min(long for _, long in pairs) < TWICE * min(short for short, _ in pairs)
