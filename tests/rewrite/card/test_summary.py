"""What stands around the lists."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from cardsmith.facts.dangers.cautions import cautions
from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.measure.quantity import Bound, quantity
from cardsmith.measure.units import units
from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.card.rewrite import rewrite
from cardsmith.rewrite.card.summary import duration_text

MakeRecipe = Callable[..., Recipe]


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


@pytest.mark.parametrize(
    ("bound", "text"),
    [
        (Bound.ABOUT, "about 1 to 2 hours"),
        (Bound.AT_LEAST, "at least 1 to 2 hours"),
        (Bound.AT_MOST, "up to 1 to 2 hours"),
    ],
)
def test_a_duration_keeps_its_bound(bound: Bound, text: str) -> None:
    assert duration_text(replace(quantity(1, units()["hour"], high=2), bound=bound)) == text


def test_no_duration_is_no_text() -> None:
    assert duration_text(None) == ""


@pytest.mark.parametrize(
    ("lines", "us", "eu", "unknown"),
    [
        ("200 g all-purpose flour; 3 large eggs", ("egg", "wheat"),
         ("cereals containing gluten", "eggs"), ()),
        ("100 g unsalted butter; 50 g almonds", ("milk", "tree nuts"), ("milk", "nuts"), ()),
        ("100 g unsalted butter; 50 g almonds, optional", ("milk", "possibly tree nuts"),
         ("milk", "possibly nuts"), ()),
        ("50 g olive oil or unsalted butter", ("possibly milk",), ("possibly milk",), ()),
        ("100 g quandary powder; 200 g white rice flour", (), (), ("quandary powder",)),
    ],
)  # fmt: skip
def test_allergens_of_both_markets(
    lines: str, us: tuple[str, ...], eu: tuple[str, ...], unknown: tuple[str, ...],
    recipe_of: MakeRecipe, larder: Larder, house: House,
) -> None:  # fmt: skip
    """FALCPA and FASTER (US), Annex II of Regulation (EU) 1169/2011."""
    card, _ = rewrite(recipe_of(lines), larder, house)
    assert (card.us_allergens, card.eu_allergens, card.unknown_foods) == (us, eu, unknown)


def test_under_the_law_of_the_eu_the_cereal_and_the_nut_are_named(
    recipe_of: MakeRecipe, larder: Larder, house: House
) -> None:
    """Regulation (EU) 1169/2011, Annex II, 1 and 8: “namely” these cereals and nuts."""
    one = recipe_of("200 g all-purpose flour; 60 g rolled oats; 50 g walnuts; 2 large eggs")
    card, _ = rewrite(one, larder, replace(house, language="en-GB", allergens=()))
    assert card.eu_allergens == ("cereals containing gluten (wheat, oats)", "eggs", "nuts (walnuts)")


def test_only_a_claim_that_holds_prints(recipe_of: MakeRecipe, larder: Larder, house: House) -> None:
    lines = "200 g carrots; 50 g Parmesan"
    card, _ = rewrite(recipe_of(lines, claims="[gluten-free, vegetarian, vegan]"), larder, house)
    assert card.claims == ("gluten-free",)


@pytest.mark.parametrize(
    ("given", "makes"),
    [
        ("{makes: 24 rolls}", "Makes 24 rolls"),
        ("{makes: 24 rolls, piece: 50 g}", "Makes 24 rolls (about 1¾ oz / 50 g each)"),
        ("{makes: 1 cake}", "Makes 1 cake"),
        ("{makes: ½ cake, piece: 880 g}", "Makes ½ cake (about 15½ oz / 440 g)"),
        ("{makes: 6 glasses, piece: 165 g}", "Makes 6 glasses (about 6 oz / 165 g each)"),
        ("{makes: 2 cups, piece: 165 g}", "Makes 2 cups (480 ml)"),
        ("{makes: 60 crackers, piece: 6.5 g}", "Makes 60 crackers (about 0.23 oz / 6.5 g each)"),
        ("{makes: 12 rounds, piece: 6 cm}", "Makes 12 rounds (about 2¼ inches / 6 cm each)"),
        ("{makes: 24 rolls, piece: at least 50 g}", "Makes 24 rolls (at least 1¾ oz / 50 g each)"),
        ("{makes: 24 rolls, piece: at most 50 g}", "Makes 24 rolls (up to 1¾ oz / 50 g each)"),
    ],
)
def test_yields(given: str, makes: str, recipe_of: MakeRecipe, larder: Larder, house: House) -> None:
    recipe = recipe_of("200 g bread flour; 130 g water", **{"yield": given})
    card, _ = rewrite(recipe, larder, house)
    assert card.yields[0].replace("\u00a0", " ") == makes


def test_an_own_caution_has_both_scales(recipe_of: MakeRecipe, larder: Larder, house: House) -> None:
    """And takes none away that the table asks for."""
    recipe = recipe_of("200 g rolled oats; 30 g honey", cautions="[The tin leaves the oven at 180 °C.]")
    card, _ = rewrite(recipe, larder, house, tuple(one.text for one in cautions(recipe, larder)))
    assert [text.replace("\u00a0", " ") for text in card.cautions] == [
        "Holds honey: not for babies under 1 year.",
        "The tin leaves the oven at 350 °F (180 °C).",
    ]
