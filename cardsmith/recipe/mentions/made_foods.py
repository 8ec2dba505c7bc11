"""What a cook makes of the list and may then speak of: the stock of a poached chicken, a mayonnaise."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from cardsmith.measure.food import Food
from cardsmith.measure.patterns import is_of
from cardsmith.reference import table


def is_made(food: Food, listed: Iterable[Food]) -> bool:
    """Whether ``food`` is what comes of the foods of the list, by ``made_foods.csv``."""
    have = tuple(listed)
    return any(
        is_of(food, made) and all(any(is_of(other, need) for other in have) for need in needs)
        for made, needs in _made()
    )


@cache
def _made() -> tuple[tuple[tuple[str, ...], tuple[tuple[str, ...], ...]], ...]:
    return tuple(
        (tuple(row["food"].split("|")), tuple(tuple(need.split("|")) for need in row["of"].split(" & ")))
        for row in table("made_foods")
    )
