"""What a single list is told apart into by its steps."""

from __future__ import annotations

import pytest

from cardsmith.check.components import components
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.model import Recipe
from tests.check.bench import found, part, recipe

SLAB = (
    "125 g butter, softened; 220 g caster sugar; 3 eggs; 260 g self-raising flour; 125 g whole milk; "
    "640 g icing sugar; 35 g cocoa; 20 g butter, extra; 180 g whole milk, extra; 240 g desiccated coconut"
)
DIPPED = (
    "Beat the butter and sugar. Beat in the eggs. Fold in the flour and milk.",
    "Spoon into a 20 cm square cake tin and bake for 35 minutes, until a skewer comes out clean.",
    "Stir the icing sugar, cocoa, extra butter and extra milk over hot water until smooth.",
    "Dip the squares and roll in coconut.",
)
PANCAKES = "250 g all-purpose flour; 5 g baking powder; 300 g whole milk; 2 eggs; 20 g sunflower oil"
GRIDDLED = (
    "Whisk the flour and baking powder. Whisk in the milk and eggs.",
    "Brush a griddle with the oil and cook the pancakes for 2 minutes a side.",
)
BARS = "200 g flour; 100 g butter; 300 g plums; 80 g oats; 60 g brown sugar"
TWICE = (
    "Rub the butter into the flour, press into a tin and bake for 15 minutes.",
    "Lay on the plums, scatter with the oats and sugar, and bake for 30 minutes more.",
)
SAUCED = (
    "200 g flour; 150 g dark brown sugar; 150 g butter; 200 g dark brown sugar (for the sauce); "
    "300 g heavy cream"
)
POURED = (
    "Beat the butter and sugar, fold in the flour and bake for 30 minutes.",
    "Boil the cream with the remaining sugar and pour it over.",
)


def listed(lines: str, steps: tuple[str, ...], kind: str = "") -> Recipe:
    return recipe([one.strip() for one in lines.split(";")], list(steps), kind=kind)


@pytest.mark.parametrize(
    ("lines", "steps", "apart"),
    [
        (SLAB, DIPPED, ["icing sugar", "cocoa", "butter, extra", "whole milk, extra", "desiccated coconut"]),
        (SAUCED, POURED, ["dark brown sugar (for the sauce)", "heavy cream"]),
        (PANCAKES, GRIDDLED, []),  # baking powder bakes nothing
        (BARS, TWICE, []),  # the topping is baked too
    ],
)
def test_what_dresses_the_baked_mixture_is_apart(
    lines: str, steps: tuple[str, ...], apart: list[str]
) -> None:
    one = listed(lines, steps)
    core, *dressing = components(one, load_larder())
    told = [line.text.partition(" g ")[2] for trimming in dressing for line in trimming.ingredients]
    assert told == apart
    assert {*core.ingredients, *(line for trimming in dressing for line in trimming.ingredients)} == {
        *one.ingredients
    }


def test_a_recipe_with_parts_keeps_them() -> None:
    parts = (part("Cake", ["200 g flour"], ["Bake."]), part("Icing", ["200 g icing sugar"], ["Beat."]))
    one = recipe(parts=parts)
    assert components(one, load_larder()) == one.parts


@pytest.mark.parametrize("name", ["high-sugar", "pan-too-small"])
def test_an_icing_in_the_same_list_is_not_judged_as_batter(name: str) -> None:
    assert found(name, listed(SLAB, DIPPED, "butter-cake")) == ()
    in_it = (f"{DIPPED[0]} Fold in the icing sugar, cocoa, extra butter, extra milk and coconut.", DIPPED[1])
    assert found(name, listed(SLAB, in_it, "butter-cake"))
