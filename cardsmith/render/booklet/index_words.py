"""The word that an ingredient is listed under in an index: the card's own, its noun first.

>>> from cardsmith.measure.larder import load_larder
>>> def filed(item):
...     found = load_larder().find(item)
...     return indexed(item, found and found.food)
>>> filed("packed light brown sugar"), filed("yellow onion"), filed("freshly ground black pepper")
('sugar, light brown', 'onions, yellow', 'pepper, black')
>>> filed("peeled and cored apples"), filed("fresh dill"), filed("finely grated lemon zest")
('apples', 'dill', 'lemon zest')
>>> filed("spring onions"), filed("olive oil"), filed("chicken thighs")
('spring onions', 'olive oil', 'chicken thighs')
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from cardsmith.measure.food import Food
from cardsmith.measure.food_words import describing, words
from cardsmith.reference import table


def indexed(item: str, food: Food | None) -> str:
    """Where readers look for what a line of a list names.

    Left out is what only describes, as long as the rest is another of the food's names: a spring onion stays.
    """
    name_words = _undescribed(item.split(), food)
    for start in range(len(name_words)):
        noun = _nouns().get(words(" ".join(name_words[start:])))
        if noun:
            return f"{noun}, {' '.join(name_words[:start])}" if start else noun
    return " ".join(name_words)


def _undescribed(name_words: list[str], food: Food | None) -> list[str]:
    names = {words(name) for name in (food.name, *food.aliases, *food.generic)} if food else set()
    least = name_words
    for start in range(1, len(name_words)):
        if not set(words(name_words[start - 1])) <= set(describing()):
            break
        if words(" ".join(name_words[start:])) in names:
            least = name_words[start:]
    return least


@cache
def _nouns() -> Mapping[tuple[str, ...], str]:
    return {words(row["noun"]): row["noun"] for row in table("index_nouns")}
