"""Draws of what a line adds for a use of its own."""

from __future__ import annotations

import pytest

from cardsmith.finding import Where
from cardsmith.language.spans import Draw
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.fields.steps import read_step
from cardsmith.recipe.mentions.extras import drawn_extras

HERE = Where(file="recipe.yaml", line=1, column=1)
TIN = "200 g unsalted butter, plus 10 g for the tin"


@pytest.mark.parametrize(
    ("line", "step", "drawn"),
    [
        (TIN, "Grease with [10 g](#b). Beat [200 g](#b).", ["10 g"]),
        (TIN, "Grease with [10 g](#b). Beat [120 g](#b), then [the rest](#b).", ["10 g"]),
        (TIN, "Beat [210 g](#b).", []),
        (TIN, "Grease with [10 g](#b). Beat [190 g](#b).", []),  # the 10 g are of the 200
        (TIN, "Grease with [10 g](#b), again with [10 g](#b). Beat [200 g](#b).", ["10 g"]),
        ("200 g unsalted butter, plus 200 g for the tin", "Beat [200 g](#b).", []),
        ("200 g unsalted butter, plus 200 g for the tin", "Beat [200 g](#b), later [200 g](#b).", ["200 g"]),
        ("1 cup milk, plus 2 tbsp for the top", "Stir in [1 cup](#b). Brush with [2 tbsp](#b).", ["2 tbsp"]),
        ("1 cup milk, reserving 2 tbsp for the top", "Brush with [2 tbsp](#b).", []),  # a part of the cup
        ("1 cup milk, plus more for the top", "Stir in [1 cup](#b).", []),
    ],
)
def test_what_a_draw_takes_beyond_the_line(line: str, step: str, drawn: list[str]) -> None:
    ingredient, _ = read_line(line, HERE, load_larder())
    spans = [one for one in read_step(step, HERE)[0].spans if isinstance(one, Draw)]
    found = drawn_extras(ingredient, spans)
    assert [one.text for one in spans if one.where in found] == drawn
