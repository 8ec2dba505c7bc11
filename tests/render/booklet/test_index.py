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
        "sesame seeds": [4, 8],
        "flour, whole-grain rye": [4],
    }


def test_salt_and_water_lead_nowhere_and_fruit_that_is_mostly_water_does() -> None:
    sorbet = recipe("5 g fine salt", "200 g water", "300 g raspberries")
    assert told((sorbet, card(4))) == {"raspberries": [4]}


def test_what_most_of_a_longer_booklet_has_is_left_out() -> None:
    sweet = [(recipe("100 g granulated sugar", f"{number} g honey"), card(number)) for number in (2, 4, 6, 8)]
    others = [(recipe("100 g butter"), card(number)) for number in (10, 12)]
    assert "sugar, granulated" in told(*sweet)
    assert "sugar, granulated" not in told(*sweet, *others)


def test_a_food_that_nobody_knows_is_listed_as_written() -> None:
    assert told((recipe("100 g zorblat"), card(4))) == {"zorblat": [4]}


def test_words_stand_under_their_first_letter_accents_aside() -> None:
    found = by_ingredient([(recipe("1 g éclair", "1 g egg white", "1 g apple"), card(4))])
    assert [letter for letter, _ in found] == ["A", "E"]


def test_a_noun_with_its_sorts_stands_before_longer_nouns() -> None:
    """Word by word, as readers look: mustard and its sorts, then mustard seeds."""
    rows = told((recipe("30 g mustard seeds", "30 g whole-grain mustard", "30 g Dijon mustard"), card(4)))
    assert list(rows) == ["mustard, Dijon", "mustard, whole-grain", "mustard seeds"]


def test_one_food_is_listed_once_in_the_plural_if_any_card_has_it() -> None:
    assert told((recipe("1 apple"), card(4)), (recipe("3 peeled and cored apples"), card(6))) == {
        "apples": [4, 6]
    }
    assert told((recipe("1 red onion"), card(4)), (recipe("2 yellow onions"), card(6))) == {
        "onions, red": [4],
        "onions, yellow": [6],
    }


def test_what_describes_stays_where_the_rest_is_another_food() -> None:
    assert list(told((recipe("3 spring onions", "200 g ground beef"), card(4)))) == [
        "beef, ground",
        "spring onions",
    ]


def test_kinds_are_in_the_order_of_the_alphabet() -> None:
    found = by_kind([("Pies", card(6)), ("Crackers", card(4)), ("Pies", card(2))])
    assert [(str(one.name), [to.page for to in one.cards]) for one in found] == [
        ("Crackers", [4]),
        ("Pies", [2, 6]),
    ]
