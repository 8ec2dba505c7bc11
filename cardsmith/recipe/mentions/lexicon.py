"""The larder's names by their first word, as steps are searched for them, and what a food is before all."""

from __future__ import annotations

from collections.abc import Mapping

from cardsmith.last_result import remembered
from cardsmith.measure.larder import Food, Larder, words
from cardsmith.recipe.mentions.naming import classes
from cardsmith.recipe.mentions.step_words import mixtures
from cardsmith.reference import table

RAW = frozenset("vegetable fruit meat legume fish poultry shellfish nut herb seed".split())  # roles
Lexicon = Mapping[str, tuple[tuple[tuple[str, ...], Food], ...]]


@remembered
def species(larder: Larder) -> Mapping[tuple[str, ...], Food]:
    """Nouns by which USDA SR 28 files raw foods, with what stands for each, but for names of the larder.

    Not those for a class (beans may be baking beans), nor for a cut, which many animals and plants have.
    """
    filed = {row["noun"] for row in table("filed_nouns")}  # those that SR 28 files foods by
    stands = ((row["noun"], row["stands_for"]) for row in table("head_nouns"))
    nouns = {words(noun): larder.foods[key] for noun, key in stands if noun in filed}
    return {
        noun: food
        for noun, food in nouns.items()
        if not larder.find(noun[0]) and noun[0] not in mixtures() | set(classes()) and kind(food) in RAW
    }


@remembered
def lexicon(larder: Larder) -> Lexicon:
    """Every larder name by its first word, the longest first, and nouns of raw foods that it has not."""
    by_first_word: dict[str, list[tuple[tuple[str, ...], Food]]] = {}
    for noun, food in species(larder).items():
        by_first_word.setdefault(noun[0], []).append((noun, food))
    for food in larder.foods.values():
        for name in {words(name) for name in (food.name, food.uk_name, *food.aliases, *food.generic)}:
            if name:
                by_first_word.setdefault(name[0], []).append((name, food))
    return {
        first: tuple(sorted(names, key=lambda entry: (-len(entry[0]), entry[1].key)))
        for first, names in by_first_word.items()
    }


def kind(food: Food) -> str:
    """What a food is first and foremost."""
    return next(iter(food.roles), "")
