"""Allergens across the collection, one word each (`cardsmith.facts.foods.allergens.in_one_word`).

An allergen that a recipe doesn't list is just “not listed”: no page says that a recipe is free from it.
"""

from __future__ import annotations

from collections.abc import Iterable

from cardsmith.site.entry import Entry


def listed(entry: Entry) -> tuple[str, ...]:
    """The words of all allergens that a recipe holds, or may hold."""
    return (*entry.sure_allergens, *entry.possible_allergens)


def words(entries: Iterable[Entry]) -> tuple[str, ...]:
    """Every allergen that any recipe lists, in alphabetical order."""
    return tuple(sorted({word for entry in entries for word in listed(entry)}))
