"""What must hold of any dish: a raw egg at the end is seen, and the order of the list is nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.facts.dangers.cautions import cautions
from cardsmith.facts.dangers.exposure import exposures
from cardsmith.facts.foods.foods import identities
from cardsmith.facts.method.heat import histories, most
from cardsmith.recipe.model import Recipe, Text
from tests.facts.bench_of_facts import larder, part
from tests.facts.caution_cases import CASES
from tests.facts.dish_cases import CASES as DISHES

ALL = {name: recipe for name, recipe, _ in (*CASES, *DISHES)}
ENDINGS = (
    ("Top with the raw yolk and serve.", "1 raw egg yolk"),
    ("Drop an egg yolk onto each bowl.", "4 egg yolks"),
    ("Whisk the duck egg with a little water and spoon it over at the table.", "1 duck egg"),
)


def _with(recipe: Recipe, listed: str, step: str) -> Recipe:
    """The recipe with one more line and one more step, in a last part of its own."""
    return replace(recipe, parts=(*recipe.parts, part("To serve", listed, step)))


def names(recipe: Recipe) -> set[str]:
    return {one.found.hazard.name for one in cautions(recipe, larder()) if one.found}


@pytest.mark.parametrize("name", sorted(ALL))
@pytest.mark.parametrize(("step", "listed"), ENDINGS)
def test_a_raw_egg_at_the_end_always_brings_its_caution(name: str, step: str, listed: str) -> None:
    assert "raw egg" in names(_with(ALL[name], listed, step))


@pytest.mark.parametrize("name", sorted(ALL))
def test_raw_fish_at_the_end_too(name: str) -> None:
    dish = _with(ALL[name], "100 g swordfish", "Lay thin slices of the swordfish over the top.")
    assert "raw fish" in names(dish)


@pytest.mark.parametrize("name", sorted(ALL))
def test_a_step_that_cooks_no_line_changes_nothing(name: str) -> None:
    recipe = ALL[name]
    first = recipe.parts[0]
    heated = part("", "", "Heat the oven to 180 °C with a rack in the middle.").steps
    told = replace(recipe, parts=(replace(first, steps=(*heated, *first.steps)), *recipe.parts[1:]))
    assert names(told) == names(recipe)


@given(name=st.sampled_from(sorted(ALL)), seed=st.randoms(use_true_random=False))
def test_the_order_of_the_list_changes_nothing(name: str, seed: object) -> None:
    recipe = ALL[name]
    turned = replace(
        recipe,
        parts=tuple(replace(one, ingredients=tuple(reversed(one.ingredients))) for one in recipe.parts),
    )
    assert _reached(turned) == _reached(recipe)


def _reached(recipe: Recipe) -> dict[str, str]:
    told, foods = histories(recipe, larder()), identities(recipe, larder())
    return {
        one.item: most(told.lines[place], foods[place].food, thickness=told.thickness)
        for place, one in enumerate(recipe.ingredients)
    }


@given(name=st.sampled_from(sorted(ALL)))
def test_an_author_adds_a_caution_and_takes_none_away(name: str) -> None:
    recipe = ALL[name]
    own = Text(text="Wear an apron.", where=recipe.where)
    told = _telling(recipe, (own,))
    assert [one.text for one in cautions(told, larder())] == [
        *(one.text for one in cautions(recipe, larder())),
        "Wear an apron.",
    ]


def _telling(recipe: Recipe, own: tuple[Text, ...]) -> Recipe:
    return replace(recipe, cautions=own)


def test_exposures_name_the_line() -> None:
    recipe = ALL["tartare"]
    assert {(recipe.ingredients[one.line].item, one.sort) for one in exposures(recipe, larder())} == {
        ("beef tenderloin", "meat"),
        ("egg yolk", "egg"),
    }
