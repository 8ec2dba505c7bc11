"""What a recipe makes in another size: every number follows, and its noun is declined."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.readback.card import read_back
from cardsmith.recipe.load import read_recipe
from cardsmith.rewrite.batches.scale import scale
from cardsmith.rewrite.card.model import Card
from cardsmith.rewrite.card.rewrite import rewrite


def card_of(yields: str, factor: str, larder: Larder, house: House) -> Card:
    """The card of a recipe with these yields, at so many times its size."""
    text = f"title: X\nyield: {{{yields}}}\ningredients: [500 g bread flour]\nsteps: [Knead the flour.]\n"
    recipe, _ = read_recipe("x", text.encode(), "x.yaml", larder)
    assert recipe is not None
    card, _ = rewrite(scale(recipe, Fraction(factor)).recipe, larder, house)
    assert read_back(card, house, larder) == ()
    return card


@pytest.mark.parametrize(
    ("written", "factor", "made"),
    [
        ("2 cups", "3", "6 cups (1.44 L)"),
        ("2 cups", "1/2", "1 cup (240 ml)"),
        ("9 tablespoons", "3", "1½ cups plus 3 tablespoons (405 ml)"),
        ("840 ml", "2", "7 cups (1.68 L)"),
        ("about 1.8 kg", "2", "about 8 pounds (3.6 kg)"),
        ("about 2 quarts (1.9 L)", "2", "about 4 quarts (3.8 L)"),
        ("1 loaf", "3", "3 loaves"),
        ("1 loaf", "3/2", "1½ loaves"),
        ("2 loaves", "1/2", "1 loaf"),
        ("1 loaf", "1/2", "½ loaf"),
        ("1 cake", "2", "2 cakes"),
        ("1 large bowl", "2", "2 large bowls"),
        ("60 crackers", "1/2", "30 crackers"),
        ("12 kofta", "2", "24 kofta"),
        ("6 glasses", "2", "12 glasses"),
        ("9 scoops", "3", "27 scoops"),
        ("4 to 6 jars", "3", "12 to 18 jars"),
        ("about 15 biscuits", "3/2", "about 22 biscuits"),
        ("15 biscuits", "3/2", "about 22 biscuits"),
        ("a dozen rolls", "2", "24 rolls"),
        ("one 9-inch pie", "2", "two 9-inch (23 cm) pies"),
        ("about 24 (3-inch) biscuits", "2", "about 48 (3-inch / 7.5 cm) biscuits"),
        ("8 jars (250 ml each)", "2", "16 jars (8 fluid ounces / 250 ml each)"),
        ("about 450 ml (9 portions of 50 ml)", "2",
         "2 times about 2 cups (450 ml) (9 portions of 3 tablespoons plus 1 teaspoon / 50 ml)"),
    ],
)  # fmt: skip
def test_what_it_makes_follows_the_size(
    written: str, factor: str, made: str, larder: Larder, house: House
) -> None:
    assert card_of(f"makes: '{written}'", factor, larder, house).makes.replace("\xa0", " ") == made


@pytest.mark.parametrize(
    ("written", "factor", "fed"),
    [
        ("4", "1/2", "2"),
        ("5", "1/2", "about 2"),
        ("4 to 6", "3/2", "6 to 9"),
        ("5 to 7", "3/2", "about 8 to 10"),
    ],
)
def test_people_are_whole(written: str, factor: str, fed: str, larder: Larder, house: House) -> None:
    assert card_of(f"serves: {written}", factor, larder, house).serves == fed


def test_the_size_of_one_stays(larder: Larder, house: House) -> None:
    made = card_of("makes: 1 loaf, piece: 820 g", "2", larder, house).makes.replace("\xa0", " ")
    assert made == "2 loaves (about 1¾ lb / 820 g each)"
