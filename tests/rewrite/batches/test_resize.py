"""`cardsmith scale`: which factor is meant, and what it prints."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from cardsmith.finding import CardsmithError
from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.batches.resize import Resized, resize

MakeRecipe = Callable[..., Recipe]
Scale = Callable[..., Resized]


@pytest.fixture
def at_size(recipe_of: MakeRecipe, larder: Larder, house: House) -> Scale:
    """Flour and salt for 12 rolls, resized."""
    recipe = recipe_of(
        "200 g bread flour, sifted; 4 g fine salt; 1 pinch saffron",
        "Bake the flour, salt and saffron for 20 minutes.",
        **{"yield": "{makes: 12 rolls, serves: 4}"},
    )

    def scaled(
        times: str | None = None, makes: str | None = None, pans: tuple[str | None, str | None] = (None, None)
    ) -> Resized:
        return resize(recipe, larder, house, times=times, makes=makes, pans=pans)

    return scaled


@pytest.mark.parametrize(
    ("way", "factor"),
    [
        ({"times": "1.5"}, Fraction(3, 2)),
        ({"times": "3/4"}, Fraction(3, 4)),
        ({"times": "1 1/2"}, Fraction(3, 2)),
        ({"times": "1000"}, Fraction(1000)),
        ({"makes": "18"}, Fraction(3, 2)),
        ({"pans": ("20 cm square", "40 cm square")}, Fraction(4)),
        ({"pans": ("10 cm round", "20 cm round")}, Fraction(4)),
        ({"pans": ("9x13 inch", "9x26 inch")}, Fraction(2)),
        ({"pans": ("20 cm square", "20 cm round")}, Fraction(355, 452)),  # a circle in its square: π/4
    ],
)
def test_a_size_is_said_as_a_factor_a_yield_or_two_pans(
    way: dict[str, str], factor: Fraction, at_size: Scale
) -> None:
    assert at_size(**way).scaled.factor == factor


@pytest.mark.parametrize(
    ("way", "told"),
    [
        ({}, "say one of"),
        ({"times": "2", "makes": "24"}, "say one of"),
        ({"times": "2", "pans": ("20 cm square", "30 cm square")}, "say one of"),
        ({"times": "two"}, "'two' is not a number; write 1.5, 3/4 or 1 1/2"),
        ({"times": "1/0"}, "is not a number"),
        ({"times": "0"}, "out of reach"),
        ({"times": "-2"}, "out of reach"),
        ({"makes": "1001"}, "out of reach"),
        ({"pans": ("20 cm square", None)}, "--to is missing"),
        ({"pans": (None, "20 cm square")}, "--from is missing"),
        ({"pans": ("20 cm square", "a big one")}, "--to 'a big one' names no pan"),
    ],
)
def test_what_is_no_size_is_refused(way: dict[str, str], told: str, at_size: Scale) -> None:
    with pytest.raises(CardsmithError, match=told):
        at_size(**way)


def test_a_recipe_that_does_not_say_how_many_it_makes_has_no_other_yield(
    recipe_of: MakeRecipe, larder: Larder, house: House
) -> None:
    recipe = recipe_of("200 g bread flour", "Mix the flour.")
    with pytest.raises(CardsmithError, match="does not say how many it makes"):
        resize(recipe, larder, house, times=None, makes="12", pans=(None, None))


PRINTED = """\
2 times the author's amounts

A trial
Makes 24 rolls · Serves 8

US       metric\x20

Part 1
3¼ cups  400 g    bread flour, sifted
1¼ tsp   8 g      fine salt
1 pinch  1 pinch  saffron

1. Bake the flour, salt and saffron for 20 minutes.

What does not scale:
- step 1: 20 minutes is for the author's batch; go by the cue
- salt and spices: hold some back, and season to taste
- trial: nobody has made it at 2 times yet; cook it once before it is printed"""


def test_the_list_stands_in_both_columns_above_what_does_not_scale(at_size: Scale, house: House) -> None:
    assert at_size(times="2").text(house).replace("\xa0", " ") == PRINTED


def test_a_record_holds_what_is_printed(at_size: Scale) -> None:
    record = at_size(times="2").record()
    assert (record["factor"], record["makes"], record["serves"]) == ("2", "Makes 24 rolls", "Serves 8")
    flour, salt, saffron = record["ingredients"]
    assert flour["item"] == "bread flour"
    assert flour["prep"] == "sifted"
    assert flour["metric"].replace("\xa0", " ") == "400 g"
    assert salt["metric"].replace("\xa0", " ") == "8 g"
    assert saffron["us"] == saffron["metric"]
    assert record["findings"] == []
    assert any("20 minutes" in one for one in record["does_not_scale"])


def test_at_its_own_size_all_stays_and_nothing_is_said(at_size: Scale, house: House) -> None:
    same = at_size(times="1")
    assert same.scaled.stays == ()
    assert "What does not scale:" not in same.text(house)
