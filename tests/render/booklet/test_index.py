"""Contents and index: where a word leads, and which words are listed."""

from __future__ import annotations

from markupsafe import Markup

from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Recipe
from cardsmith.render.booklet.index import BoundCard, by_ingredient, by_kind


def recipe(*lines: str) -> Recipe:
    text = "title: A dish\ningredients:\n" + "".join(f"  - {line}\n" for line in lines)
    found, _ = read_recipe("dish", text.encode(), "recipe.yaml", load_larder())
    assert found is not None
    return found


def card(page: int) -> BoundCard:
    return BoundCard(title=Markup("A dish"), page=page, anchor=f"card-{page}")


def told(*bound: tuple[Recipe, BoundCard]) -> dict[str, list[int]]:
    found = by_ingredient(bound)
    return {str(one.name): [to.page for to in one.cards] for _, entries in found for one in entries}


def test_a_food_leads_to_every_card_that_has_it_once_and_in_order() -> None:
    rye = recipe(
        "100 g whole-grain rye flour", "20 g whole-grain rye flour, for dusting", "70 g sesame seeds"
    )
    assert told((recipe("30 g sesame seeds"), card(8)), (rye, card(4))) == {
        "sesame seed": [4, 8],
        "whole-grain rye flour": [4],
    }


def test_salt_and_water_lead_nowhere_and_fruit_that_is_mostly_water_does() -> None:
    assert told((recipe("5 g fine salt", "200 g water", "300 g raspberries"), card(4))) == {"raspberry": [4]}


def test_what_most_of_a_longer_booklet_has_is_left_out() -> None:
    sweet = [(recipe("100 g granulated sugar", f"{number} g honey"), card(number)) for number in (2, 4, 6, 8)]
    others = [(recipe("100 g butter"), card(number)) for number in (10, 12)]
    assert "granulated sugar" in told(*sweet)
    assert "granulated sugar" not in told(*sweet, *others)


def test_a_food_that_nobody_knows_is_listed_as_written() -> None:
    assert told((recipe("100 g zorblat"), card(4))) == {"zorblat": [4]}


def test_words_stand_under_their_first_letter_accents_aside() -> None:
    found = by_ingredient([(recipe("1 g éclair", "1 g egg noodle", "1 g apple"), card(4))])
    assert [letter for letter, _ in found] == ["A", "E"]


def test_kinds_are_in_the_order_of_the_alphabet() -> None:
    found = by_kind([("Pies", card(6)), ("Crackers", card(4)), ("Pies", card(2))])
    assert [(str(one.name), [to.page for to in one.cards]) for one in found] == [
        ("Crackers", [4]),
        ("Pies", [2, 6]),
    ]
