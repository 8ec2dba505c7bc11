"""A cup filled by another hand: which lines must be weighed."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.flow import prepare
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder

ROOT = Path(__file__).parents[3]
BREAD = """\
title: Cup bread
kind: yeast-bread
ingredients:
  - {flour}
  - {water}
  - 2 tsp fine salt
  - 1 1/2 tsp instant yeast
steps:
  - Mix the flour, water, salt and yeast.
"""


def weighed(flour: str, water: str) -> dict[str, str]:
    text = BREAD.format(flour=flour, water=water).encode()
    prepared = prepare("bread", text, "bread", load_larder(), load_house(ROOT))
    assert prepared.card
    return {line.item: line.weigh for part in prepared.card.parts for line in part.ingredients if line.weigh}


def test_a_dough_near_the_edge_of_its_band_asks_for_weighed_flour() -> None:
    # 113 to 150 g a cup: USDA Team Nutrition (4 cups to the pound) and SR 28's own spread.
    told = weighed("4 cups all-purpose flour", "1 2/3 cups water")
    assert list(told) == ["all-purpose flour"]
    assert "holds 113 to 150 g" in told["all-purpose flour"]


@pytest.mark.parametrize("water", ["330 g water", "1 1/4 cups water"])
def test_a_formula_outside_its_band_is_left_to_the_ratio_checks(water: str) -> None:
    told = weighed("900 g all-purpose flour", water)
    assert "water would" not in told.get("all-purpose flour", "")


def test_water_needs_no_scale() -> None:
    assert "water" not in weighed("4 cups all-purpose flour", "1 2/3 cups water")
