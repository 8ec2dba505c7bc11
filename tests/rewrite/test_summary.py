"""What stands around the lists."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cardsmith.house import House
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import units
from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.rewrite import rewrite
from cardsmith.rewrite.summary import duration_text

MakeRecipe = Callable[..., Recipe]
LARDER = load_larder()


@pytest.mark.parametrize(
    ("low", "high", "unit", "text"),
    [
        (35, None, "minute", "35 minutes"),
        (1, None, "minute", "1 minute"),
        (100, None, "minute", "1 hour 40 minutes"),
        (2, None, "hour", "2 hours"),
        (36, None, "hour", "1 day 12 hours"),
        (30, None, "second", "30 seconds"),
        (25, 30, "minute", "25 to 30 minutes"),
        (1, 2, "hour", "1 to 2 hours"),
        (45, 60, "minute", "45 minutes to 1 hour"),
        (90, 120, "minute", "1 hour 30 minutes to 2 hours"),
        (1, 2, "second", "1 to 2 seconds"),
    ],
)
def test_durations_in_words(low: int, high: int | None, unit: str, text: str) -> None:
    assert duration_text(quantity(low, units()[unit], high=high)) == text


def test_no_duration_is_no_text() -> None:
    assert duration_text(None) == ""


@pytest.mark.parametrize(
    ("lines", "us", "eu"),
    [
        ("200 g all-purpose flour; 3 large eggs", ("egg", "wheat"), ("cereals containing gluten", "eggs")),
        ("200 g white rice flour; 100 g water", (), ()),
        ("100 g unsalted butter; 50 g almonds", ("milk", "tree nuts"), ("milk", "nuts")),
        ("100 ml soy sauce", ("soybeans", "wheat"), ("cereals containing gluten", "soybeans")),
        ("200 g coconut milk; 20 g sesame seeds", ("sesame",), ("sesame seeds",)),
        ("10 g Dijon mustard; 2 stalks celery", (), ("celery", "mustard")),
    ],
)
def test_allergens_of_both_markets(
    lines: str, us: tuple[str, ...], eu: tuple[str, ...], recipe_of: MakeRecipe
) -> None:
    """FALCPA and FASTER (US), Annex II of Regulation (EU) 1169/2011."""
    recipe = recipe_of(lines)
    sure = [
        tuple(
            name for name in allergens(recipe.ingredients, market, LARDER) if not name.startswith("possibly")
        )
        for market in ("us", "eu")
    ]
    assert sure == [us, eu]


def test_what_only_a_label_settles_is_said_to_be_possible(recipe_of: MakeRecipe) -> None:
    found = allergens(recipe_of("100 g bittersweet chocolate").ingredients, "us", LARDER)
    assert "possibly milk" in found


def test_a_sure_allergen_is_not_possible_as_well(recipe_of: MakeRecipe) -> None:
    found = allergens(
        recipe_of("100 g bittersweet chocolate; 50 g unsalted butter").ingredients, "us", LARDER
    )
    assert "milk" in found
    assert "possibly milk" not in found


def test_an_alternative_may_bring_an_allergen(recipe_of: MakeRecipe) -> None:
    """Named by Annex II and FALCPA whichever is bought, so the reader is told of both."""
    lines = recipe_of("50 g olive oil or unsalted butter; 250 ml soy milk").ingredients
    assert allergens(lines, "us", LARDER) == ("soybeans", "possibly milk")


def test_a_food_nobody_knows_is_not_free_of_allergens(recipe_of: MakeRecipe) -> None:
    assert unknown_foods(recipe_of("100 g quandary powder; 200 g white rice flour").ingredients) == (
        "quandary powder",
    )


@pytest.mark.parametrize(
    ("given", "makes"),
    [
        ("{makes: 24 rolls}", "Makes 24 rolls"),
        ("{makes: 24 rolls, piece: 50 g}", "Makes 24 rolls (about 1¾ oz / 50 g each)"),
        ("{makes: 1 cake}", "Makes 1 cake"),
        ("{makes: 60 crackers, piece: 6.5 g}", "Makes 60 crackers (about 0.23 oz / 6.5 g each)"),
        ("{makes: 12 rounds, piece: 6 cm}", "Makes 12 rounds (about 2¼ inches / 6 cm each)"),
    ],
)
def test_yields(given: str, makes: str, recipe_of: MakeRecipe, larder: Larder, house: House) -> None:
    recipe = recipe_of("200 g bread flour; 130 g water", **{"yield": given})
    card, _ = rewrite(recipe, larder, house)
    assert card.yields[0].replace("\u00a0", " ") == makes
