"""A recipe in another size: what follows the factor, and what is said to stay."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from cardsmith.finding import CardsmithError
from cardsmith.house.style import House
from cardsmith.language.spans import Draw
from cardsmith.measure.larder import Larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.rewrite.batches.batches import batches
from cardsmith.rewrite.batches.scale import kept_in_list, scale

MakeRecipe = Callable[..., Recipe]


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


def _line(recipe_of: MakeRecipe, line: str, factor: Fraction) -> Ingredient:
    (scaled,) = scale(recipe_of(line, "Mix all."), factor).recipe.ingredients
    return scaled


def _of(text: str, larder: Larder) -> Recipe:
    recipe, findings = read_recipe("x", text.encode(), "x.yaml", larder)
    assert recipe is not None, findings
    return recipe


@pytest.mark.parametrize("factor", [Fraction(0), Fraction(-1)])
def test_no_recipe_is_scaled_to_nothing(factor: Fraction, recipe_of: MakeRecipe) -> None:
    with pytest.raises(CardsmithError, match="more than nothing"):
        scale(recipe_of("200 g bread flour", "Mix."), factor)


@pytest.mark.parametrize(
    ("line", "factor", "low", "high"),
    [
        ("5 to 20 g fine salt", 3, 15, 60),
        ("2 eggs", 2, 4, 4),
        ("3 eggs", "1/2", 75, 75),  # part of an egg is beaten and measured: 50 g each (SR 28, 01123)
        ("3 egg whites", "1/2", Fraction(99, 2), Fraction(99, 2)),  # 33 g each (SR 28, 01124)
        ("3 onions", "1/2", Fraction(3, 2), Fraction(3, 2)),
    ],
)
def test_both_ends_follow_the_factor(
    line: str, factor: int | str, low: Fraction, high: Fraction, recipe_of: MakeRecipe
) -> None:
    scaled = _line(recipe_of, line, Fraction(factor))
    assert scaled.amount is not None
    assert (scaled.amount.low, scaled.amount.high) == (low, high)


@pytest.mark.parametrize(
    ("line", "prep"), [("1 egg, cold", "beaten and measured, cold"), ("1 egg", "beaten and measured")]
)
def test_part_of_an_egg_is_beaten_and_measured(line: str, prep: str, recipe_of: MakeRecipe) -> None:
    scaled = _line(recipe_of, line, Fraction(1, 2))
    assert scaled.prep == prep
    assert scaled.amount is not None
    assert (scaled.amount.unit.name, scaled.amount.low) == ("gram", 25)
    assert scaled.stated == ()


def test_what_has_no_amount_has_none_at_any_size(recipe_of: MakeRecipe) -> None:
    assert _line(recipe_of, "salt, to taste", Fraction(2)).amount is None


@pytest.mark.parametrize(
    ("factor", "cans"), [(Fraction(2), Fraction(4)), (Fraction(1, 2), Fraction(1)), (Fraction(3, 4), None)]
)
def test_containers_are_counted_while_they_are_whole(
    factor: Fraction, cans: Fraction | None, recipe_of: MakeRecipe
) -> None:
    scaled = _line(recipe_of, "2 (400 g) cans chopped tomatoes", factor)
    assert (scaled.container.count.low if scaled.container else None) == cans
    assert scaled.amount is not None
    assert scaled.amount.low == 800 * factor


@pytest.mark.parametrize(
    ("line", "factor", "stated"),
    [
        ("⅓ cup (79 g) water", Fraction(2), [Fraction("157.725491")]),  # ⅔ cup in ml
        ("200 g onions (about 2)", Fraction(2), [4]),
        ("200 g onions (about 2)", Fraction(1, 4), [Fraction(1, 2)]),
        ("200 g onions (about 2)", Fraction(1, 8), []),  # nobody has a quarter of a piece
    ],
)
def test_a_second_statement_follows_while_its_pieces_can_be_had(
    line: str, factor: Fraction, stated: list[Fraction], recipe_of: MakeRecipe
) -> None:
    assert [one.low for one in _line(recipe_of, line, factor).stated] == stated


def test_a_draw_follows_and_a_loose_measure_stays(recipe_of: MakeRecipe) -> None:
    recipe = recipe_of(
        "b# 200 g | unsalted butter", "Beat [120 g](#b) with 10 ml of water, then [the rest](#b)."
    )
    scaled = scale(recipe, Fraction(2))
    drawn = [span.amount for span in scaled.recipe.steps[0].spans if isinstance(span, Draw)]
    assert [one.low if one else None for one in drawn] == [240, None]
    assert any("10 ml is tied to no ingredient" in one for one in scaled.stays)


@pytest.mark.parametrize(
    ("written", "factor", "said", "count"),
    [
        ("{makes: 12 rolls}", Fraction(2), "24 rolls", Fraction(24)),
        ("{makes: 9 rolls}", Fraction(1, 2), "about 4 rolls", Fraction(9, 2)),
        ("{makes: 1 loaf}", Fraction(1, 2), "½ loaf", Fraction(1, 2)),
        ("{makes: 10 to 12 rolls}", Fraction(2), "20 to 24 rolls", Fraction(20)),
    ],
)
def test_a_yield_in_pieces_follows(
    written: str, factor: Fraction, said: str, count: Fraction, larder: Larder
) -> None:
    text = f"title: X\nyield: {written}\ningredients: [5 g fine salt]\nsteps: [Mix.]\n"
    yields = scale(_of(text, larder), factor).recipe.yields
    assert yields is not None
    assert yields.makes is not None
    assert (yields.makes.text, yields.makes_count) == (said, count)
    assert (yields.serves, yields.serves_low, yields.serves_high) == (None, None, None)


def test_what_stays_is_said_where_it_stands(recipe_of: MakeRecipe) -> None:
    recipe = recipe_of(
        "200 g bread flour; 10 g baking powder; 5 g fine salt",
        "Mix all.; Bake in a 20 cm square pan at 180 °C for 20 minutes.",
    )
    cook_it = "trial: nobody has made it at {} times yet; cook it once before it is printed"
    kept = [
        "step 2: 20 cm stays; see that pan and pieces still fit the batch",
        "step 2: 20 minutes is for the author's batch; go by the cue",
    ]
    large = [
        "baking powder: large batches often need less in proportion; try it first",
        "salt and spices: hold some back, and season to taste",
    ]
    assert list(scale(recipe, Fraction(3, 2)).stays) == [*kept, cook_it.format("1.5")]
    assert list(scale(recipe, Fraction(2)).stays) == [*kept, *large, cook_it.format("2")]
    assert scale(recipe, Fraction(1)).stays == ()
