"""What a booklet's contents and index list: cards with their pages, by ingredient and by kind."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from markupsafe import Markup

from cardsmith.frozen import frozen
from cardsmith.recipe.model import Recipe
from cardsmith.render.typeset import typeset

# Salt and water lead nobody to a recipe, nor does what most of the recipes have: common practice, no source.
_IN_MOST = Fraction(1, 2)
_ENOUGH = 6  # cards, from which on that is asked


@frozen
class BoundCard:
    """One card of a booklet and where it begins."""

    title: Markup
    page: int
    anchor: str  # of its first page, for links


@frozen
class IndexEntry:
    """A word of the index, and the cards it leads to by their pages."""

    name: Markup
    cards: tuple[BoundCard, ...]


Lettered = tuple[tuple[str, tuple[IndexEntry, ...]], ...]


def by_ingredient(recipes: Sequence[tuple[Recipe, BoundCard]]) -> Lettered:
    """Every food that tells recipes apart, under its first letter."""
    found: dict[str, dict[int, BoundCard]] = {}
    for recipe, card in recipes:
        for name in _foods(recipe):
            found.setdefault(name, {})[card.page] = card
    if len(recipes) >= _ENOUGH:
        found = {name: cards for name, cards in found.items() if len(cards) <= _IN_MOST * len(recipes)}
    lettered: dict[str, list[IndexEntry]] = {}
    for name, cards in sorted(found.items(), key=lambda one: _filed(one[0])):
        entry = IndexEntry(name=typeset(name), cards=_in_order(cards))
        lettered.setdefault(_filed(name)[:1].upper(), []).append(entry)
    return tuple((letter, tuple(entries)) for letter, entries in lettered.items())


def by_kind(recipes: Sequence[tuple[str, BoundCard]]) -> tuple[IndexEntry, ...]:
    """The cards under the words for their kinds, both by the alphabet."""
    found: dict[str, dict[int, BoundCard]] = {}
    for kind, card in recipes:
        found.setdefault(kind, {})[card.page] = card
    return tuple(
        IndexEntry(name=typeset(kind), cards=_in_order(found[kind])) for kind in sorted(found, key=_filed)
    )


def _foods(recipe: Recipe) -> Iterator[str]:
    for line in recipe.ingredients:
        if line.food is None:
            yield line.item
        elif not line.food.is_mainly("salt") and line.food.key != "water":
            yield line.food.name


def _in_order(cards: Mapping[int, BoundCard]) -> tuple[BoundCard, ...]:
    return tuple(cards[page] for page in sorted(cards))


def _filed(name: str) -> str:
    """As it is filed: without accents and case."""
    plain = unicodedata.normalize("NFKD", name).casefold()
    return "".join(letter for letter in plain if not unicodedata.combining(letter))
