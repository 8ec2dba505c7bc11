"""What a reader is told of a card in another size."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.recipe.model import Recipe
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
