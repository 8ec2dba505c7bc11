"""What governs a formula, and what each draw takes of its line."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.rounding.variables import draws, formulas, governors, loose_draws, variables

MakeRecipe = Callable[..., Recipe]
MILK = Fraction("236.5882365") / 244  # ml a gram: SR 28, 01077, 244 g a cup


@pytest.mark.parametrize(
    ("lines", "formula"),
    [
        ("200 g bread flour; 120 g water", True),
        ("180 g bread flour; 120 g water; 200 g carrots", True),  # 300 of 500 g: three fifths
        ("179 g bread flour; 120 g water; 201 g carrots", False),
        ("20 g bread flour; 50 g unsalted butter; 500 g beef chuck", False),
        ("500 g beef chuck", False),
    ],
)
def test_a_part_is_a_formula_where_most_of_it_governs(
    lines: str, formula: bool, recipe_of: MakeRecipe
) -> None:
    assert formulas(recipe_of(lines)) == (frozenset({0}) if formula else frozenset())


@pytest.mark.parametrize(
    ("lines", "governing"),
    [
        ("200 g bread flour; 120 g water; 4 g fine salt", ["bread flour", "water"]),
        ("95 g bread flour; 5 g honey", ["bread flour", "honey"]),  # a twentieth of it governs
        ("96 g bread flour; 4 g honey", ["bread flour"]),
        ("200 g bread flour; 100 g honey, optional", ["bread flour"]),
        ("200 g bread flour; 100 g water, for the pot", ["bread flour"]),
        ("200 g bread flour; 100 to 120 g water", ["bread flour"]),
    ],
)
def test_a_line_governs_by_its_share_of_what_does(
    lines: str, governing: list[str], recipe_of: MakeRecipe
) -> None:
    (part,) = recipe_of(lines).parts
    found = governors(part)
    assert [line.item for line in part.ingredients if line.where in found] == governing


@pytest.mark.parametrize(
    ("line", "step", "taken"),
    [
        ("b# 200 g | unsalted butter", "Beat [120 g](#b), then [the rest](#b).", [120, 80]),
        ("b# 200 g | unsalted butter", "Beat [half](#b), then [a quarter](#b), then [the rest](#b).",
         [100, 50, 50]),
        ("b# 200 g | whole milk", "Add [½ cup](#b), then [the rest](#b).", [122, 78]),
        ("b# 488 g | whole milk", "Add [100 g](#b), then [the milk](#b) as it boils.", [100]),
        ("b# 2 cups | whole milk", "Add [100 g](#b).", [100 * MILK]),
        ("b# 200 g | unsalted butter", "Beat [200 g](#b), then [the rest](#b).", [200]),  # there is none
        ("b# 1 pinch | saffron", "Add [the rest](#b).", None),
    ],
)  # fmt: skip
def test_a_draw_takes_its_amount_its_share_or_what_is_left(
    line: str, step: str, taken: list[Fraction] | None, recipe_of: MakeRecipe
) -> None:
    """In grams or millilitres, as the list has it."""
    found = draws(recipe_of(line, step))
    assert [one.subject.amount.low for one in found.get("b", ())] == (taken or [])
    assert ("b" in found) is (taken is not None)


def test_a_line_without_a_key_is_drawn_from_by_none(recipe_of: MakeRecipe) -> None:
    assert draws(recipe_of("200 g bread flour", "Mix 100 g of the flour.")) == {}


@pytest.mark.parametrize(
    ("line", "step", "loose"),
    [
        ("b# 180 to 200 g | unsalted butter", "Beat [120 g](#b), then [the rest](#b).", 2),
        ("b# 200 g | unsalted butter", "Beat [110 to 120 g](#b), then [the rest](#b).", 2),
        ("b# 200 g | unsalted butter", "Beat [120 g](#b), then [the rest](#b).", 0),
    ],
)
def test_draws_of_a_range_need_not_add_up(line: str, step: str, loose: int, recipe_of: MakeRecipe) -> None:
    recipe = recipe_of(line, step)
    assert len(list(loose_draws(recipe))) == loose
    assert sum(len(one.draws) for one in variables(recipe)) == (0 if loose else 2)


def test_one_amount_of_one_food_is_one_number_in_all_parts(recipe_of: MakeRecipe) -> None:
    recipe = recipe_of(("200 g bread flour", "Mix."), ("200 g bread flour; 100 g water", "Mix."))
    flour, water = variables(recipe)
    assert len(flour.lines) == 2
    assert (flour.parts, water.parts) == (frozenset({0, 1}), frozenset({1}))
    assert flour.governing
    assert flour.times(Fraction(3)).subject.amount.low == 600


def test_divided_lines_stay_numbers_of_their_own(recipe_of: MakeRecipe) -> None:
    divided = ("b# 200 g | unsalted butter", "Beat [120 g](#b), then [the rest](#b).")
    recipe = recipe_of(divided, ("200 g unsalted butter", "Melt."))
    drawn, whole = variables(recipe)
    assert [len(one.draws) for one in (drawn, whole)] == [2, 0]
    assert [one.subject.amount.low for one in drawn.times(Fraction(2)).draws] == [240, 160]


def test_what_a_line_adds_for_a_use_of_its_own_is_another_number(recipe_of: MakeRecipe) -> None:
    recipe = recipe_of(
        "b# 200 g | 'unsalted butter, plus 10 g for the tin'",
        "Grease with [10 g](#b), then beat [200 g](#b).",
    )
    listed, added = variables(recipe)
    assert [one.subject.amount.low for one in listed.draws] == [200]
    assert (added.subject.amount.low, added.governing, added.draws) == (10, False, ())
