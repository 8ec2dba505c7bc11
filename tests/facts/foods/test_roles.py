from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.facts.foods.roles import role_class
from cardsmith.house.style import load_house
from tests.facts.bench_of_facts import larder


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("all-purpose-flour", "governing"),
        ("granulated-sugar", "governing"),
        ("unsalted-butter", "governing"),
        ("water", "governing"),
        ("egg", "governing"),
        ("egg-white", "governing"),
        ("honey", "governing"),
        ("fine-salt", "salt"),
        ("baking-soda", "leavener"),
        ("baking-powder", "leavener"),
        ("instant-yeast", "yeast"),
        ("gelatine-powder", "setting"),
        ("powdered-pectin", "setting"),
        ("curing-salt-1", "cure"),
        ("cream-of-tartar", "acid"),
        ("citric-acid", "acid"),
        ("ground-cinnamon", "seasoning"),
        ("vanilla-extract", "seasoning"),
        ("carrot", "other"),
        ("walnut", "other"),
        ("cheddar", "other"),
        ("dijon-mustard", "other"),
        ("almond-paste", "other"),  # half nut
        ("meringue-powder", "governing"),  # half egg white
    ],
)
def test_class_of_tolerance(key: str, name: str) -> None:
    assert role_class(larder().foods[key]) == name


def test_every_food_has_a_class_the_house_knows() -> None:
    house = load_house(Path(__file__).parents[3])
    assert {role_class(food) for food in larder().foods.values()} <= set(house.tolerances)
    assert role_class(None) in house.tolerances
