"""What stands before a food's noun: modifiers that leave it what it is, words that make it another."""

from __future__ import annotations

import pytest

from cardsmith.measure.larder import load_larder
from cardsmith.measure.modifiers import plainer_names
from cardsmith.reference import table

LARDER = load_larder()

SORTS = [  # text, food, the words that the larder has no food for
    ("Thai red curry paste", "curry-paste", ("Thai",)),
    ("thai red curry paste", "curry-paste", ("thai",)),
    ("low-sodium beef broth", "beef-stock", ()),
    ("hot unsalted vegetable stock", "vegetable-stock", ()),
    ("Sichuan chilli bean paste", "doubanjiang", ("Sichuan",)),
    ("Nicola potatoes", "potato", ("Nicola",)),
    ("Moroccan mint leaves", "fresh-mint", ("Moroccan",)),
    ("Ligurian extra-virgin olive oil", "olive-oil", ("Ligurian",)),
    ("line-caught cod", "cod", ()),
    ("pasture-raised eggs", "egg", ()),
    ("undyed smoked trout", "smoked-trout", ()),
    ("celery-free chicken stock", "chicken-stock", ()),
    ("carefully chopped onions", "onion", ("carefully",)),
    ("Kentish strawberries", "strawberry", ("Kentish",)),
]
OTHERS = [  # a food, a claim or a process in the name makes another food of it, or a sort of who knows what
    "quince milk",  # a food
    "dairy-free butter cream",  # a claim that the food breaks
    "nut-free pesto",
    "egg-free lemon curd",
    "sugar-free maple syrup",  # what is left of it?
    "zero-alcohol beer",
    "Ruritanian oil",  # of what?
    "Ruritanian flour",
    "Danish butter",  # salted or not?
    "squelm potatoes",  # a word that nobody knows
    "malted potatoes",  # a process
    "Squelm Potatoes",  # where all is capital, nothing is a name
]


@pytest.mark.parametrize(("text", "key", "without"), SORTS)
def test_a_sort_is_the_food_it_is_a_sort_of(text: str, key: str, without: tuple[str, ...]) -> None:
    match = LARDER.find(text)
    assert match is not None
    assert (match.food.key, match.without) == (key, without)


@pytest.mark.parametrize("text", OTHERS)
def test_another_food_is_never_taken_for_its_noun(text: str) -> None:
    match = LARDER.find(text)
    assert match is None or "vegan" in match.food.key


def test_what_a_maker_took_out_has_no_published_composition() -> None:
    less, plain = LARDER.find("low-sodium beef broth"), LARDER.find("beef broth")
    assert less is not None
    assert plain is not None
    assert plain.food.ndb_no
    assert not less.food.ndb_no
    assert less.food.measures == plain.food.measures


def test_the_fewest_modifiers_go_first() -> None:
    told = [one.text for one in plainer_names("hot Thai unsalted stock", lambda word: False)]
    assert told[:3] == ["Thai unsalted stock", "hot unsalted stock", "hot Thai stock"]
    assert told[-1] == "stock"


def test_the_table_names_each_part_once() -> None:
    rows = [(row["part"], row["place"]) for row in table("modifiers")]
    assert len(set(rows)) == len(rows)
    assert {row["effect"] for row in table("modifiers")} == {"same", "sort"}
    assert {row["place"] for row in table("modifiers")} == {"word", "first", "last", "ending"}
