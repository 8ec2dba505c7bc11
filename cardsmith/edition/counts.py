"""By what word each edition counts a thing: three stalks of celery are three sticks: ``edition_counts.csv``.

The unit stays the author's, since the larder weighs by it; only its word is another.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

from cardsmith.edition.markets import Market
from cardsmith.measure.patterns import cell
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, units
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import table

ANY = ""  # of whatever food


def counted_there(line: Ingredient, home: Market, market: Market) -> Ingredient:
    """A line whose pieces and cans go by the words that they have in an edition."""
    by_food = _words(home.words, market.words)
    of_food = {**by_food.get(ANY, {}), **(by_food.get(line.food.key, {}) if line.food else {})}
    box = line.container
    if box and box.each and box.word in of_food:  # one of unknown size is weighed by its word
        there = units()[of_food[box.word]]
        box = replace(box, word=there.name, count=replace(box.count, unit=there))
    return replace(
        line,
        amount=_renamed(line.amount, of_food) if line.amount else None,
        stated=tuple(_renamed(quantity, of_food) for quantity in line.stated),
        container=box,
    )


def _renamed(amount: Quantity, words: Mapping[str, str]) -> Quantity:
    word = words.get(amount.unit.name) if amount.dimension is Dimension.COUNT else None
    if word is None:
        return amount
    there = units()[word]
    return replace(amount, unit=replace(amount.unit, symbol=there.symbol, plural=there.plural))


@cache
def _words(written: str, wanted: str) -> Mapping[str, Mapping[str, str]]:
    """The word there by the author's word, by the food that it counts."""
    by_food: dict[str, dict[str, str]] = {}
    for row in table("edition_counts"):
        new = cell(row[wanted])[0]
        for food in cell(row["foods"]) or (ANY,):
            by_food.setdefault(food, {}).update({old: new for old in cell(row[written]) if old != new})
    return by_food
