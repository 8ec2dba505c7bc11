"""What of a recipe stands where on its card."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.card.model import CardIngredient, plain
from cardsmith.rewrite.card.rewrite import rewrite
from cardsmith.rewrite.wording import short

MakeRecipe = Callable[..., Recipe]


def test_each_step_says_which_lines_it_uses(recipe_of: MakeRecipe, larder: Larder, house: House) -> None:
    recipe = recipe_of(
        ("200 g bread flour; 120 g water", "Mix the flour and water.; Rest.; Dust with flour."),
        ("50 g honey", "Warm the honey.; Brush it over the bread."),
    )
    card, findings = rewrite(recipe, larder, house)
    steps = [step for part in card.parts for step in part.steps]
    assert findings == ()
    assert [part.name for part in card.parts] == ["Part 1", "Part 2"]
    assert [step.number for step in steps] == [1, 2, 3, 4, 5]
    assert [step.uses for step in steps][:4] == [(0, 1), (), (0,), (2,)]


@pytest.mark.parametrize(
    ("line", "item", "prep"),
    [
        ("200 g bread flour, sifted", "bread flour", "sifted"),
        ("200 g bread flour", "bread flour", ""),
        ("5 g fine salt, optional", "fine salt", "optional"),
        ("fine salt, to taste", "fine salt", "to taste"),
        ("200 g carrots, cut into 1 cm dice", "carrots", "cut into ⅜-inch (1 cm) dice"),
        ("1 onion or 2 shallots", "onion", "or 2 shallots"),
        ("2 large eggs, beaten", "large eggs", "beaten"),
        ("100 g unsalted butter, cold, divided", "unsalted butter", "cold, divided"),
    ],
)
def test_a_line_is_its_food_then_what_is_done_with_it(
    line: str, item: str, prep: str, recipe_of: MakeRecipe, larder: Larder, house: House
) -> None:
    (printed,) = _lines(recipe_of(line), larder, house)
    told = (printed.item.replace("\xa0", " "), printed.prep.replace("\xa0", " "))
    assert told == (item, prep)


def _lines(recipe: Recipe, larder: Larder, house: House) -> tuple[CardIngredient, ...]:
    card, _ = rewrite(recipe, larder, house)
    return card.parts[0].ingredients


def test_a_pinch_is_a_pinch_in_both_columns_and_nothing_is_nothing(
    recipe_of: MakeRecipe, larder: Larder, house: House
) -> None:
    pinch, none = _lines(recipe_of("1 pinch saffron; fine salt, to taste"), larder, house)
    assert pinch.amount is not None
    assert {short(pinch.amount.us), short(pinch.amount.metric)} == {"1 pinch"}
    assert none.amount is None


def test_a_line_whose_cup_is_uncertain_says_so_where_a_cup_prints(
    recipe_of: MakeRecipe, larder: Larder, house: House
) -> None:
    recipe = recipe_of("200 g bread flour; 400 g beef chuck")
    risks = {line.where: "cups differ" for line in recipe.ingredients}
    card, _ = rewrite(recipe, larder, house, (), risks)
    assert [line.weigh for line in card.parts[0].ingredients] == ["cups differ", ""]
    assert {line.weigh for line in _lines(recipe, larder, house)} == {""}


def test_cautions_print_in_both_systems_where_the_author_wrote_them(
    recipe_of: MakeRecipe, larder: Larder, house: House
) -> None:
    recipe = recipe_of("200 g bread flour", cautions="[Keep it below 5 °C.]")
    card, _ = rewrite(recipe, larder, house, ("Keep it below 5 °C.", "Serve at 60 °C."))
    own, table = (text.replace("\xa0", " ") for text in card.cautions)
    assert "°F" in own
    assert "5 °C" in own
    assert table == "Serve at 60 °C."


@pytest.mark.parametrize(
    ("line", "written", "printed"),
    [
        (
            "b# 200 g | unsalted butter",
            "Beat [120 g](#b) of the unsalted butter, then add [the rest](#b) of the butter to the pan.",
            "Beat ½ cup (120 g) of the unsalted butter, "
            "then add the rest of the butter (6 tablespoons / 80 g) to the pan.",
        ),
        (  # the words behind a draw name another thing
            "b# 200 g | unsalted butter",
            "Beat [the rest](#b) of the batter.",
            "Beat the rest (14 tablespoons / 200 g) of the batter.",
        ),
        (
            "b# 200 g | unsalted butter",
            "Beat [half](#b) of the butter well, then [half](#b).",
            "Beat half of the butter (7 tablespoons / 100 g) well, then half (7 tablespoons / 100 g).",
        ),
        ("b# 3 | eggs", "Beat [2 eggs](#b), then [the rest](#b).", "Beat 2 eggs, then the rest (1)."),
        (
            "b# 200 g | unsalted butter",
            "Beat (with [120 g](#b)), then [the rest](#b).",
            "Beat (with ½ cup / 120 g), then the rest (6 tablespoons / 80 g).",
        ),
        ("b# 1 pinch | saffron", "Add [the rest](#b) of the saffron.", "Add the rest of the saffron."),
        (
            "b# 200 g | unsalted butter",
            "Beat [120 g butter](#b), then [the rest](#b).",
            "Beat ½ cup (120 g) butter, then the rest (6 tablespoons / 80 g).",
        ),
    ],
)
def test_a_draw_prints_what_it_takes(
    line: str, written: str, printed: str, recipe_of: MakeRecipe, larder: Larder, house: House
) -> None:
    card, _ = rewrite(recipe_of(line, written), larder, house)
    assert plain(card.parts[0].steps[0].spans).replace("\xa0", " ") == printed


def test_a_cell_without_an_amount_says_so_once(recipe_of: MakeRecipe, larder: Larder, house: House) -> None:
    salt, oil, flour = _lines(
        recipe_of("fine salt, crushed, to taste; olive oil, warm; 200 g bread flour, sifted"), larder, house
    )
    assert (salt.in_place, salt.remarks(), salt.words) == (
        "to taste",
        "crushed",
        "fine salt, crushed, to taste",
    )
    assert (oil.in_place, oil.remarks()) == ("as needed", "warm")
    assert (flour.in_place, flour.remarks()) == ("", "sifted")
