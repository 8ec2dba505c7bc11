"""Ounces on the labels of what is poured, against the net contents that US labels print in both systems."""

from __future__ import annotations

import pytest

from cardsmith.finding import Where
from cardsmith.measure.larder import load_larder
from cardsmith.measure.units import System
from cardsmith.recipe.fields.lines import read_line

LARDER = load_larder()


@pytest.mark.parametrize(
    ("line", "holds"),
    [  # 21 CFR 101.7: liquid foods in fluid measure; the metric figures as labels print them, from memory
        ("1 (12-ounce) bottle lager", (355, "ml")),
        ("2 (12-oz) cans evaporated milk", (354, "ml")),
        ("1 can (13.5 oz) coconut milk", (399, "ml")),
        ("a 12-ounce bottle of beer", (355, "ml")),
        ("1 (46-oz) can tomato juice", (1360, "ml")),
        ("1 (14.5-ounce) can chicken broth", (411, "g")),  # sold by weight
        ("1 (5-ounce) bottle hot sauce", (142, "g")),
        ("1 (16-oz) carton liquid egg whites", (454, "g")),
        ("1 (15-oz) can black beans", (425, "g")),  # no drink
        ("1 (14-oz) can sweetened condensed milk", (397, "g")),
        ("1 (12 oz / 340 g) bottle beer", (340, "g")),  # its author says which
    ],
)
def test_ounces_of_a_drink_are_fluid(line: str, holds: tuple[int, str]) -> None:
    box = read_line(line, Where(file="recipe.yaml"), LARDER)[0].container
    assert box is not None
    assert box.each is not None
    said, unit = holds
    assert float(box.each.low) == pytest.approx(said, rel=0.004)
    assert box.each.dimension.value == {"ml": "volume", "g": "mass"}[unit]


def test_outside_the_us_nobody_is_told_which_ounce_it_is() -> None:
    line, _ = read_line("1 (12-ounce) bottle lager", Where(file="recipe.yaml"), LARDER, System.IMPERIAL)
    assert line.container is not None
    assert line.container.each is not None
    assert line.container.each.unit.name == "ounce"


def test_an_amount_of_a_drink_in_no_bottle_stays_what_it_says() -> None:
    line, _ = read_line("12 oz lager", Where(file="recipe.yaml"), LARDER)
    assert line.amount is not None
    assert line.amount.unit.name == "ounce"
