from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.measure.larder import load_larder
from cardsmith.portion.shares import LineShare, shares, trim_of, uptakes
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Recipe
from tests.portion.kitchen import facts, recipe


def one(line: str, stated: str = "") -> LineShare:
    of = recipe(line)
    (found,) = shares(of, facts(stated, of)) if stated else shares(of)
    return found


def test_amount_to_buy_is_that_of_the_food_buying_guide() -> None:
    """USDA Food Buying Guide, Appendix B: 1 lb of watermelon gives 0.61 lb diced; 2 lb need 3.28 lb."""
    of = recipe("2 lb diced watermelon")
    (found,) = shares(of, facts("trim: {watermelon: 39 %}", of))
    pound = Fraction("453.59237")
    assert found.edible == 2 * pound
    assert round(float(found.bought / pound), 2) == 3.28


def test_edible_part_is_that_of_the_open_textbook() -> None:
    """Basic Kitchen and Food Service Management (BCcampus), Yield Testing: 1 kg of carrots leaves 800 g."""
    found = one("1 kg carrots, sliced", "trim: {carrots: 20 %}")
    assert (found.bought, found.edible) == (1000, 800)


@pytest.mark.parametrize(
    ("line", "bought", "edible"),
    [
        ("600 g carrots, sliced", 600, 534),  # SR 28, food 11124: 11 % crown, tops and scrapings
        ("534 g sliced carrots", 600, 534),  # weighed sliced, so it was bought whole
        ("700 g peeled and cored apples", Fraction(7000, 9), 700),  # SR 28, food 09003: 10 % core and stem
        ("50 g hazelnuts, chopped", 50, 50),  # weighed shelled, though SR 28 has 59 % shells
        ("3 large eggs (150 g)", 150, 150),
        ("600 g waxy potatoes, sliced", 600, 600),
        ("600 g waxy potatoes, peeled", 600, 450),  # SR 28, food 11354: 25 % parings and trimmings
        ("200 g rye flour", 200, 200),
    ],
)
def test_trim_follows_what_was_weighed(line: str, bought: Fraction, edible: Fraction) -> None:
    found = one(line)
    assert (found.bought, found.edible) == (bought, edible)


def test_a_household_measure_is_of_the_edible_part() -> None:
    """SR 28 weighs its cups and pieces edible: one large onion is bought heavier."""
    found = one("1 large yellow onion, chopped")
    assert found.listed == found.edible == 150
    assert found.bought == Fraction(150) / Fraction(9, 10)


def test_trim_names_who_says_so() -> None:
    assert trim_of(recipe("600 g carrots").ingredients[0]) == (
        Fraction(11, 100),
        "crown, tops and scrapings: USDA SR 28, food 11124",
    )


@pytest.mark.parametrize(
    ("line", "low", "likely", "high"),
    [
        ("2 (400 g) cans cannellini beans, drained and rinsed", 440, 496, 560),
        ("10 g butter, for the pan", 0, 10, 10),
        ("40 g honey", 40, 40, 40),
    ],
)
def test_what_is_eaten_is_said_in_bounds(line: str, low: int, likely: int, high: int) -> None:
    found = one(line).eaten
    assert (found.low, found.likely, found.high) == (low, likely, high)


def test_frying_oil_is_taken_up_by_the_weight_of_the_food() -> None:
    of = recipe("500 g potatoes, peeled", "1 litre sunflower oil, for deep-frying")
    food, oil = shares(of)
    assert food.edible == 375
    assert oil.eaten.likely == Fraction(375, 10)
    assert oil.eaten.high == 375 * Fraction(15, 100)


def test_no_more_frying_oil_is_eaten_than_there_is() -> None:
    of = recipe("2 kg rye flour", "50 g sunflower oil, for frying")
    assert shares(of)[1].eaten.high == 50


MARINADE = """
title: Skewers
kind: meat
yield: {serves: 4}
parts:
  - name: Marinade
    ingredients: [100 g soy sauce, 20 g honey]
    steps: ["STEP"]
  - name: Skewers
    ingredients: [600 g beef chuck]
    steps: [Grill them.]
"""


def marinade(step: str) -> Recipe:
    text = MARINADE.replace("STEP", step)
    found, _ = read_recipe("skewers", text.encode(), "recipe.yaml", load_larder())
    assert found is not None
    return found


def test_a_marinade_that_is_thrown_away_is_mostly_not_eaten() -> None:
    sauce = shares(marinade("Soak the beef, then drain and discard the marinade."))[0]
    assert sauce.eaten.likely == 15
    assert sauce.eaten.high == 40
    kept = shares(marinade("Soak the beef; boil the marinade down to a glaze."))[0]
    assert kept.eaten.is_exact


def test_what_the_kitchen_states_counts_before_what_is_usual() -> None:
    of = recipe("500 g potatoes", "1 litre sunflower oil, for deep-frying")
    oil = shares(of, facts("eaten: {sunflower oil: 4 %}", of))[1]
    assert oil.eaten.is_exact
    assert oil.eaten.likely == oil.edible * Fraction(4, 100)


def test_what_has_no_weight_or_is_optional_is_left_out_and_named() -> None:
    salt, nuts, pepper = shares(
        recipe("salt, to taste", "40 g hazelnuts (optional)", "black pepper, to taste")
    )
    assert [one.is_counted for one in (salt, nuts, pepper)] == [False, False, False]
    assert [one.spoils_sums for one in (salt, nuts, pepper)] == [True, False, False]
    assert salt.notes == ("no weight: left out",)


def test_usual_uptakes_are_in_order() -> None:
    for usual in uptakes().values():
        assert usual.share.low <= usual.share.likely <= (usual.share.high or 0) <= 1
        assert usual.of in ("line", "food")


@pytest.mark.parametrize(
    ("line", "listed"),
    [
        ("200 g unsalted butter, plus 10 g for the tin", 210),
        ("200 g unsalted butter, softened, plus 2 tbsp (28 g) for the top", 228),
        ("200 g unsalted butter, plus more for the tin", 200),
        ("200 g unsalted butter, reserving 50 g for the glaze", 200),  # a part of it
        ("200 g unsalted butter, 50 g reserved for the glaze", 200),
    ],
)
def test_what_a_line_adds_for_a_use_of_its_own_counts_beside_it(line: str, listed: int) -> None:
    assert one(f'"{line}"').listed == listed
