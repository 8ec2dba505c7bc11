"""What a reader is told of a card in another size."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.recipe.model import Recipe, Text
from cardsmith.rewrite.batches.batches import batches

MakeRecipe = Callable[..., Recipe]


@pytest.mark.parametrize(
    ("lines", "step", "told"),
    [
        ("200 g bread flour", "Simmer the flour in 150 ml of water.",
         "Step 1 keeps its ⅔ cup (150 ml)."),
        ("200 g bread flour", "Stir the flour in a 5-quart pot.", "Step 1 keeps its 5-quart (4.7 L) pot."),
        ("200 g bread flour, plus 10 g or so for the board", "Stir the flour.", ""),
        ("20 g fresh thyme, or 2 tsp dried", "Stir the thyme.",
         "In the list, “or 2 teaspoons (10 ml) dried” beside the fresh thyme is for one batch."),
    ],
)  # fmt: skip
def test_what_stays_as_it_is_is_told_in_both_systems(
    lines: str, step: str, told: str, recipe_of: MakeRecipe, larder: Larder, house: House
) -> None:
    made = batches(recipe_of(lines, step), larder, house, (Fraction(2),))
    (batch,) = made.offered
    notes = [note.replace("\xa0", " ") for note in batch.notes]
    assert told in notes if told else not any("keeps" in note or "list" in note for note in notes)


def test_a_large_batch_asks_for_care_with_what_raises_and_salts(
    recipe_of: MakeRecipe, larder: Larder, house: House
) -> None:
    recipe = recipe_of("200 g bread flour; 10 g baking powder; 2 g baking soda; 5 g fine salt", "Mix all.")
    half, twice = batches(recipe, larder, house, (Fraction(3, 2), Fraction(1), Fraction(2))).offered
    assert (half.factor, twice.factor) == (Fraction(3, 2), 2)
    assert len(half.notes) == 1
    assert twice.notes[1:] == (
        "Baking powder and baking soda: a large batch often needs less in proportion.",
        "Salt: hold some back, and season to taste.",
    )
    flour = twice.card.parts[0].ingredients[0].amount
    assert flour is not None
    assert flour.exact[0].low == 400


def test_a_size_that_no_spoon_measures_is_refused_and_says_why(
    recipe_of: MakeRecipe, larder: Larder, house: House
) -> None:
    recipe = recipe_of("200 g bread flour; ⅛ tsp cayenne", "Mix all.")
    found = batches(recipe, larder, house, (Fraction(1, 8),))
    assert found.offered == ()
    (refused,) = found.refused
    assert refused.factor == Fraction(1, 8)
    assert "cayenne" in refused.why


@pytest.mark.parametrize(
    ("thing", "factor", "told"),
    [
        ("9-inch round cake pan", "2", "2 of the 9-inch (23 cm) round cake pans"),
        ("9-inch round cake pan", "3/2", "1½ times the room of the 9-inch (23 cm) round cake pan"),
        ("9-inch deep pie plate", "1/2", "half the room of the 9-inch (23 cm) deep pie plate"),
        ("six 150 ml ramekins", "1/2", "3 of the 5-fluid-ounce (150 ml) ramekins"),
        ("two half-sheet pans", "1/2", "1 half-sheet pan"),
        ("half-sheet pan", "1/2", ""),
        ("heavy saucepan", "2", "twice the room of the heavy saucepan"),
        ("heavy saucepan", "1/2", ""),
        ("stand mixer", "2", ""),
    ],
)
def test_the_pans_of_a_batch_are_told(
    thing: str, factor: str, told: str, recipe_of: MakeRecipe, larder: Larder, house: House
) -> None:
    recipe = recipe_of("200 g bread flour", "Stir the flour.")
    spot = Text(text=thing, where=recipe.where)
    (batch,) = batches(replace(recipe, equipment=(spot,)), larder, house, (Fraction(factor),)).offered
    notes = [note.replace("\xa0", " ") for note in batch.notes]
    assert notes[1:] == ([f"Have {told}."] if told else [])
    assert ("see that the pans still fit" in notes[0]) != bool(told)
