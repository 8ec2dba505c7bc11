"""Allergens by both laws: certain, possible and why, unknown; one answer for card, page and statement."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.facts.foods.allergens import Because, allergens, classes, in_one_word
from cardsmith.recipe.model import Ingredient
from tests.facts.bench_of_facts import dish, larder, line

CASES = (  # the line, US names, EU names
    ("200 g all-purpose flour", ("wheat",), ("cereals containing gluten",)),
    ("200 g whole milk", ("milk",), ("milk",)),
    ("30 g oyster sauce", ("possibly wheat",), ("molluscs", "possibly cereals containing gluten")),
    (
        "30 g hoisin sauce",
        ("soybeans", "wheat", "possibly sesame"),
        ("cereals containing gluten", "soybeans", "possibly sesame seeds"),
    ),
    (
        "30 g Thai red curry paste",
        ("possibly crustacean shellfish", "possibly fish"),
        ("possibly crustaceans", "possibly fish", "possibly mustard"),
    ),
    ("10 g English mustard", ("possibly wheat",), ("mustard", "possibly cereals containing gluten")),
    ("100 g walnuts, optional", ("possibly tree nuts",), ("possibly nuts",)),
    ("100 g walnuts or almonds", ("tree nuts",), ("nuts",)),
    ("100 g sunflower seeds or walnuts", ("possibly tree nuts",), ("possibly nuts",)),
    ("100 ml whole milk or soy milk", ("milk", "possibly soybeans"), ("milk", "possibly soybeans")),
    ("2 celery stalks", (), ("celery",)),
    ("200 g cooked meatballs", ("possibly egg", "possibly milk", "possibly wheat"),
     ("possibly cereals containing gluten", "possibly eggs", "possibly milk")),
    ("200 g stone-ground toasted rye flour", (), ("cereals containing gluten",)),
    ("1 l water", (), ()),
)  # fmt: skip


@pytest.mark.parametrize(("text", "us", "eu"), CASES)
def test_the_names_of_a_line(text: str, us: tuple[str, ...], eu: tuple[str, ...]) -> None:
    lines = [line(text)]
    assert allergens(lines, "us", larder()).names == us
    assert allergens(lines, "eu", larder()).names == eu


def test_each_possible_class_says_why() -> None:
    lines = [line("100 g walnuts, optional"), line("30 g oyster sauce"), line("100 g seeds or almonds")]
    found = allergens(lines, "us", larder())
    why = {one.allergen.name: {source.because for source in one.sources} for one in found.possible}
    assert why == {"tree nuts": {Because.OPTIONAL, Because.ALTERNATIVE}, "wheat": {Because.LABEL}}


def test_the_kinds_are_named_where_the_law_wants_it() -> None:
    lines = [line("100 g walnuts"), line("50 g almonds"), line("200 g cod"), line("50 g unsalted butter")]
    told = {one.allergen.name: one.kinds for one in allergens(lines, "us", larder()).certain}
    assert told == {"milk": (), "fish": ("cod",), "tree nuts": ("walnut", "almond")}


def test_what_is_certain_in_one_line_is_not_possible_in_another() -> None:
    found = allergens([line("100 g walnuts"), line("50 g almonds, optional")], "us", larder())
    assert found.names == ("tree nuts",)


def test_an_unknown_food_is_said() -> None:
    found = allergens([line("5 g xanthine crystals"), line("20 g unsalted butter")], "eu", larder())
    assert found.unknown == ("xanthine crystals",)


def test_one_word_stands_for_both_laws() -> None:
    lines = [
        line("100 g walnuts"),
        line("200 g shrimp"),
        line("20 ml soy sauce"),
        line("50 g almonds, optional"),
    ]
    assert in_one_word(lines, larder()) == (
        ("crustacean shellfish", "gluten", "soy", "tree nuts", "wheat"),
        (),
    )


LISTED = st.lists(st.sampled_from([one[0] for one in CASES]), min_size=1, max_size=5)


@given(texts=LISTED, seed=st.randoms(use_true_random=False))
def test_the_order_of_lines_changes_nothing(texts: list[str], seed: object) -> None:
    lines = [line(text) for text in texts]
    turned = list(reversed(lines))
    for market in ("us", "eu"):
        assert allergens(lines, market, larder()).names == allergens(turned, market, larder()).names


@given(texts=LISTED, extra=st.sampled_from([one[0] for one in CASES]))
def test_an_optional_line_only_adds_what_is_possible(texts: list[str], extra: str) -> None:
    lines = [line(text) for text in texts]
    more: list[Ingredient] = [*lines, replace(line(extra), optional=True)]
    for market in ("us", "eu"):
        before, after = allergens(lines, market, larder()), allergens(more, market, larder())
        assert [one.allergen for one in after.certain] == [one.allergen for one in before.certain]
        assert {one.allergen for one in before.possible} <= {one.allergen for one in after.possible}


def test_the_classes_are_those_of_the_laws() -> None:
    assert (len(classes("us")), len(classes("eu"))) == (9, 14)


def test_a_whole_list_is_a_sum() -> None:
    recipe = dish("200 g all-purpose flour; 2 large eggs; 100 g unsalted butter")
    assert allergens(recipe.ingredients, "us", larder()).names == ("egg", "milk", "wheat")
