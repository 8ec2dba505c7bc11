"""Allergens across the collection, one word each, from statements that name them by US or EU class.

An allergen that a statement doesn't list is just “not listed”: no page says that a recipe is free from it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache

from cardsmith.reference import table
from cardsmith.site.entry import Entry

# Where both laws mean much the same, one word stands for either; it covers what any of the two lists.
_SAME = {"nuts": "tree nuts", "soya": "soy", "crustaceans": "crustacean shellfish"}
_PERHAPS = "possibly "  # how a statement marks a class that depends on the brand bought


def listed(entry: Entry) -> tuple[str, ...]:
    """The words of all allergens that the recipe's statements list, including those only possible."""
    return tuple(dict.fromkeys((*sure(entry), *possible(entry))))


def sure(entry: Entry) -> tuple[str, ...]:
    """The words of the allergens that the recipe contains by either list."""
    return _words(entry.us_allergens, entry.eu_allergens, perhaps=False)


def possible(entry: Entry) -> tuple[str, ...]:
    """The words of those that depend on what is bought, or on which alternative is taken."""
    certain = sure(entry)
    found = _words(entry.us_allergens, entry.eu_allergens, perhaps=True)
    return tuple(word for word in found if word not in certain)


def words(entries: Iterable[Entry]) -> tuple[str, ...]:
    """Every allergen that any statement lists, in alphabetical order."""
    return tuple(sorted({word for entry in entries for word in listed(entry)}))


@cache  # a collection has many recipes and few statements
def _words(us: tuple[str, ...], eu: tuple[str, ...], *, perhaps: bool) -> tuple[str, ...]:
    lists = (("US", us), ("EU", eu))
    found = (
        _printed().get((market, name.removeprefix(_PERHAPS)), name.removeprefix(_PERHAPS))
        for market, names in lists
        for name in names
        if name.startswith(_PERHAPS) is perhaps
    )
    return tuple(sorted({_SAME.get(word, word) for word in found}))


@cache
def _printed() -> Mapping[tuple[str, str], str]:
    return {(row["jurisdiction"], row["class"]): row["printed"] for row in table("allergen_classes")}
