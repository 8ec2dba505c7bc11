"""What a booklet's contents and index list: cards with their pages, by ingredient and by kind."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from markupsafe import Markup

from cardsmith.frozen import frozen
from cardsmith.measure.food_words import words
from cardsmith.recipe.model import Recipe
from cardsmith.render.booklet.index_words import indexed
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
    cards_of: dict[tuple[str, ...], dict[int, BoundCard]] = {}
    written: dict[tuple[str, ...], str] = {}
    for recipe, card in recipes:
        for name in _foods(recipe):
            key = words(name)
            cards_of.setdefault(key, {})[card.page] = card
            written[key] = max(name, written.get(key, ""), key=len)  # apples rather than apple
    if len(recipes) >= _ENOUGH:
        cards_of = {food: cards for food, cards in cards_of.items() if len(cards) <= _IN_MOST * len(recipes)}
    lettered: dict[str, list[IndexEntry]] = {}
    for food, cards in sorted(cards_of.items(), key=lambda pair: filed(written[pair[0]]).split(", ")):
        entry = IndexEntry(name=typeset(written[food]), cards=_in_order(cards))
        lettered.setdefault(filed(written[food])[:1].upper(), []).append(entry)
    return tuple((letter, tuple(entries)) for letter, entries in lettered.items())


def by_kind(recipes: Sequence[tuple[str, BoundCard]]) -> tuple[IndexEntry, ...]:
    """The cards under the words for their kinds, both by the alphabet."""
    cards_of: dict[str, dict[int, BoundCard]] = {}
    for kind, card in recipes:
        cards_of.setdefault(kind, {})[card.page] = card
    return tuple(
        IndexEntry(name=typeset(kind), cards=_in_order(cards_of[kind]))
        for kind in sorted(cards_of, key=filed)
    )


def _foods(recipe: Recipe) -> Iterator[str]:
    for line in recipe.ingredients:
        if line.food is None or not (line.food.is_mainly("salt") or line.food.key == "water"):
            yield indexed(line.item, line.food)


def _in_order(cards: Mapping[int, BoundCard]) -> tuple[BoundCard, ...]:
    return tuple(cards[page] for page in sorted(cards))


def filed(name: str) -> str:
    """As it is filed: without accents and case."""
    plain = unicodedata.normalize("NFKD", name).casefold()
    return "".join(letter for letter in plain if not unicodedata.combining(letter))
