"""A recipe in another size: what follows the factor, and what is said to stay."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.batches.batches import batches
from cardsmith.rewrite.batches.scale import kept_in_list, scale


@pytest.mark.parametrize(
    ("line", "kept"),
    [
        ("200 g bread flour, plus 50 g for dusting", ""),
        ("50 g granulated sugar, sifted, plus 1 tbsp for the top", ""),
        ("1 tbsp fresh thyme leaves or 1 tsp dried thyme", "or 1 tsp dried thyme"),
        ("1 onion or 2 shallots", "or 2 shallots"),
        ("100 g unsalted butter, cut into 12 pieces", ""),
        ("200 g carrots, cut into 1 cm dice", ""),
        ("2 tbsp bread flour, plus more for dusting", ""),
    ],
)
def test_a_second_amount_in_the_list_is_said_to_stay(
    line: str, kept: str, recipe_of: Callable[..., Recipe], house: House, larder: Larder
) -> None:
    recipe = recipe_of(line, "Mix all.")
    assert [words for _, words in kept_in_list(recipe)] == ([kept] if kept else [])
    twice = next(one for one in batches(recipe, larder, house).offered if one.factor == 2)
    assert any("” beside" in note for note in twice.notes) == bool(kept)  # in both systems: test_batches.py
    assert (f"“{kept}” beside" in " ".join(scale(recipe, Fraction(2)).stays)) == bool(kept)


@pytest.mark.parametrize(
    ("written", "twice"),
    [("5 or 6 with rice", "10 to 12 with rice"), ("4 as a main", "8 as a main"), ("3", "6")],
)
def test_who_is_fed_keeps_its_words(written: str, twice: str, larder: Larder) -> None:
    text = f"title: X\nyield: {{serves: {written}}}\ningredients: [5 g fine salt]\nsteps: [Mix.]\n"
    recipe, _ = read_recipe("x", text.encode(), "x.yaml", larder)
    assert recipe is not None
    yields = scale(recipe, Fraction(2)).recipe.yields
    assert yields is not None
    assert yields.serves is not None
    assert yields.serves.text == twice
