"""The history of each line: heat reaches what it is given to, and nothing else."""

from __future__ import annotations

import pytest

from cardsmith.facts.foods.foods import identities
from cardsmith.facts.method.heat import histories, most
from cardsmith.recipe.model import Recipe
from tests.facts.bench_of_facts import larder
from tests.facts.heat_cases import CASES


def reached(recipe: Recipe, item: str) -> str:
    place = next(place for place, line in enumerate(recipe.ingredients) if item in line.item)
    told = histories(recipe, larder())
    food = identities(recipe, larder())[place].food
    return most(told.lines[place], food, thickness=told.thickness)


@pytest.mark.parametrize(
    ("item", "recipe", "expected"), [one[1:] for one in CASES], ids=[one[0] for one in CASES]
)
def test_how_far_heat_gets_a_food(item: str, recipe: Recipe, expected: str) -> None:
    assert reached(recipe, item) == expected
