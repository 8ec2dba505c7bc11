from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.facts.foods.allergens import classes
from cardsmith.measure.larder import load_larder
from cardsmith.portion.portion_file import NO_FACTS
from cardsmith.portion.statement import IngredientStatement, compounds, statement
from cardsmith.reference import table
from tests.portion.kitchen import batch, facts, recipe


def of(
    *lines: str, form: str = "EU", stated: str = "", title: str = "A dish", kind: str = "salad"
) -> IngredientStatement:
    one = recipe(*lines, title=title, kind=kind)
    parts, _, done = batch(one, facts(stated, one) if stated else NO_FACTS)
    return statement(one, parts, done, form, load_larder())


def test_the_heaviest_stands_first_and_one_food_once() -> None:
    found = of("5 g honey", "200 g oats", "10 g honey", "12 g fine salt", form="US")
    assert found.text == "rolled oats, honey, fine salt."


def test_small_amounts_follow_their_own_heading_in_the_us() -> None:
    """21 CFR 101.4(a)(2): 2 % or less by weight, in descending order behind the statement."""
    found = of("196 g olive oil", "4 g honey", form="US")
    assert found.text == "olive oil; contains 2% or less of: honey."
    found = of("195 g olive oil", "5 g honey", form="US")
    assert found.text == "olive oil, honey."


def test_compound_ingredients_are_opened() -> None:
    found = of("100 g Dijon mustard", form="US")
    assert found.text == "Dijon mustard (water, mustard seed, vinegar, salt)."


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("100 g all-purpose flour", "plain flour (WHEAT)."),
        ("100 g whole-grain rye flour", "dark RYE flour."),
        ("100 g rolled oats", "rolled OATS."),
        ("100 g unsalted butter", "unsalted butter (MILK)."),
        ("100 g buttermilk", "BUTTERMILK (cultured skimmed MILK)."),
        ("100 g haddock", "haddock (FISH)."),
        ("3 large eggs", "EGGS."),
        ("100 g hazelnuts", "HAZELNUTS."),
        ("100 g celery", "CELERY."),
        ("100 g soy sauce", "SOY sauce (water, SOYA beans, WHEAT, salt)."),
        ("100 g sesame seeds", "SESAME seeds."),
        ("100 g pine nuts", "pine nuts."),  # not in Annex II
        ("100 g coconut milk", "coconut milk."),
        ("100 g buckwheat flour", "buckwheat flour."),
    ],
)
def test_allergens_are_emphasised_as_annex_ii_names_them(line: str, told: str) -> None:
    text = of(line).text
    assert text.startswith(told.removesuffix("."))


@pytest.mark.parametrize(
    ("line", "us", "eu"),
    [
        ("100 g all-purpose flour", ("wheat",), ("gluten (wheat)",)),
        ("100 g whole-grain rye flour", (), ("gluten (rye)",)),  # the US list has no rye
        ("100 g celery", (), ("celery",)),
        ("100 g pine nuts", ("tree nuts (pine nut)",), ()),
        ("100 g haddock", ("fish (haddock)",), ("fish",)),
        ("100 g hazelnuts", ("tree nuts (hazelnut)",), ("nuts (hazelnuts)",)),
    ],
)
def test_each_law_has_its_own_list(line: str, us: tuple[str, ...], eu: tuple[str, ...]) -> None:
    """FALCPA with FASTER and FDA's 2025 tree nuts; Regulation (EU) 1169/2011, Annex II."""
    assert of(line, form="US").contains == us
    assert of(line, form="EU").contains == eu


def test_what_the_pack_decides_is_said_apart() -> None:
    found = of("100 g Worcestershire sauce", form="US")
    assert "fish" in "".join((*found.contains, *found.perhaps))
    chocolate = of("100 g semisweet chocolate", form="US")
    assert "semisweet chocolate: soy" in (
        *chocolate.perhaps,
        *(f"semisweet chocolate: {one}" for one in chocolate.contains),
    )


def test_a_food_the_larder_lacks_is_not_free_of_allergens() -> None:
    found = of("100 g glimmerroot")
    assert found.notes == ("the larder doesn't know glimmerroot: what allergens are in it is unknown",)


@pytest.mark.parametrize(
    ("finished", "told"),
    [
        (1500, "lentils, water"),  # 500 g of water are left: behind 1 kg of lentils
        (2100, "water, lentils"),
        (1050, "lentils"),  # 50 g of 1,050 g are 4.8 %: may stay out
        (1060, "lentils, water"),  # 60 g of 1,060 g are 5.7 %
        (900, "lentils"),
    ],
)
def test_added_water_counts_by_what_is_left_of_it(finished: int, told: str) -> None:
    """Regulation (EU) 1169/2011, Annex VII, A 1: the finished food less all else; 5 % may stay out."""
    found = of("1 kg brown lentils", "2 kg water", stated=f"finished: {finished} g")
    assert [word.split()[-1] for word in found.text.removesuffix(".").split(", ")] == told.split(", ")


def test_water_is_declared_in_meat_and_fish_whatever_it_is() -> None:
    lines, stated = ("1 kg ground beef", "100 g water"), "finished: 1030 g"
    assert "water" not in of(*lines, stated=stated, kind="soup").text
    assert "water" in of(*lines, stated=stated, kind="sausage").text


def test_the_us_form_has_water_as_it_was_mixed() -> None:
    assert of("1 kg brown lentils", "2 kg water", stated="finished: 900 g", form="US").text.startswith(
        "water, "
    )


def test_ice_is_water() -> None:
    assert of("100 g ice", "200 g water", form="US").text == "water."


def test_what_the_title_names_has_its_percentage_in_the_eu_form_only() -> None:
    lines, stated = ("800 g plain flour", "200 g sultanas"), "finished: 800 g"
    assert "sultanas (25 %)" in of(*lines, stated=stated, title="Sultana cake").text
    assert "%" not in of(*lines, stated=stated, title="Sultana cake", form="US").text


def test_what_has_no_weight_stands_at_the_end() -> None:
    found = of("100 g olive oil", "black pepper, to taste", "salt, to taste", "chives (optional)")
    assert found.text == "olive oil, ground black pepper, fine salt."
    assert found.notes


@given(st.lists(st.integers(1, 900), min_size=2, max_size=5, unique=True))
def test_order_is_by_weight_whatever_the_list(grams: list[int]) -> None:
    foods = ("bread flour", "olive oil", "honey", "granulated sugar", "whole milk")
    lines = [f"{mass} g {food}" for mass, food in zip(grams, foods, strict=False)]
    for form in ("US", "EU"):
        found = of(*lines, form=form)
        masses = [one.grams for one in (*found.entries, *found.small)]
        assert masses == sorted(masses, reverse=True)
        assert sum(masses, start=Fraction(0)) == sum(grams)


def test_every_class_of_the_larder_has_its_row() -> None:
    for food in load_larder().foods.values():
        assert {name.removeprefix("?") for name in food.us_allergens} <= set(classes("us")), food.key
        assert {name.removeprefix("?") for name in food.eu_allergens} <= set(classes("eu")), food.key
    assert (len(classes("us")), len(classes("eu"))) == (9, 14)


def test_compounds_are_foods_of_the_larder_and_name_known_classes() -> None:
    foods = load_larder().foods
    for row in table("compounds"):
        assert row["food"] in foods
    for form in ("US", "EU"):
        for key, one in compounds(form).items():
            assert set(one.allergens) <= set(classes(form.lower())), key
            own = foods[key].us_allergens if form == "US" else foods[key].eu_allergens
            for name in set(one.allergens) - set(own):
                assert classes(form.lower())[name].naming.search(one.text), (key, name)
