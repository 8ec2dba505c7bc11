"""Every amount of every sort of food reads in print as it was written: none is refused for nothing."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.finding import Severity
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from cardsmith.readback.card import read_back
from cardsmith.recipe.load import read_recipe
from cardsmith.rewrite.card.rewrite import rewrite
from cardsmith.rewrite.wording import fraction_text

LARDER, HOUSE = load_larder(), load_house(Path(__file__).parents[2])
FOODS = (
    "bread flour", "whole milk", "granulated sugar", "unsalted butter", "fine salt", "kosher salt",
    "baking powder", "instant yeast", "honey", "olive oil", "water", "chopped walnuts", "grated Parmesan",
    "fresh basil leaves", "ground cumin", "cocoa powder", "chicken stock", "gelatine", "saffron threads",
    "chicken breast",
)  # fmt: skip
GRAMS = (Fraction(1, 5), Fraction(1, 2), 1, 2, 5, 7, 10, 18, 33, 60, 115, 170, 225, 350, 500, 750, 1500)
AMOUNTS = (
    *(f"{float(grams):g} g" for grams in GRAMS),
    *(f"{fraction_text(Fraction(eighths, 8))} tsp" for eighths in (1, 2, 3, 5, 8, 12, 20)),
    *(f"{fraction_text(Fraction(quarters, 4))} tbsp" for quarters in (2, 5, 8, 14)),
    *(f"{fraction_text(Fraction(twelfths, 12))} cups" for twelfths in (3, 4, 8, 15, 20, 28, 60)),
    *(f"{fraction_text(Fraction(quarters, 4))} oz" for quarters in (2, 5, 14, 24, 56)),
    *("½ lb", "1¼ lb", "3½ lb", "1 quart", "1 pint", "1.5 L", "2 dl", "15 ml", "120 ml", "330 ml", "750 ml"),
    *("1 to 2 tbsp", "100 to 150 g", "½ to 1 tsp", "1 to 1½ lb", "400 g to 1 kg", "12 oz to 1 lb"),
    *("about 100 g", "up to 2 cups", "at least 1 tbsp", "a scant cup", "1 heaping tbsp", "1 cup plus 2 tbsp"),
)


@pytest.mark.parametrize("food", FOODS)
def test_any_amount_of_a_food_reads_as_it_was_written(food: str) -> None:
    lines = "".join(f"  - {json.dumps(f'{amount} {food}', ensure_ascii=False)}\n" for amount in AMOUNTS)
    text = f"title: A trial\ningredients:\n{lines}steps: [Stir.]\n"
    recipe, read = read_recipe("a-trial", text.encode(), "recipe.yaml", LARDER)
    assert recipe is not None
    asked = {one.where.line for one in read if one.severity is Severity.ERROR}
    card, _ = rewrite(recipe, LARDER, HOUSE)
    found = [one.what for one in read_back(card, HOUSE, LARDER) if one.where.line not in asked]
    assert found == []
    assert len(asked) < len(AMOUNTS) / 4
