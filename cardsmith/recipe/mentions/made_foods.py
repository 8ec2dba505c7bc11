"""What a cook makes of the list and may then speak of: the stock of a poached chicken, a mayonnaise."""

from __future__ import annotations

from collections.abc import Iterable
from fnmatch import fnmatchcase
from fractions import Fraction
from functools import cache

from cardsmith.measure.larder import Food
from cardsmith.reference import table

PART = Fraction(1, 3)  # of what a food acts as


def is_made(food: Food, listed: Iterable[Food]) -> bool:
    """Whether ``food`` is what comes of the foods of the list, by ``made_foods.csv``."""
    have = tuple(listed)
    return any(
        _is(food, made) and all(any(_is(one, need) for one in have) for need in needs)
        for made, needs in _made()
    )


@cache
def _made() -> tuple[tuple[tuple[str, ...], tuple[tuple[str, ...], ...]], ...]:
    return tuple(
        (tuple(row["food"].split("|")), tuple(tuple(need.split("|")) for need in row["of"].split(" & ")))
        for row in table("made_foods")
    )


def _is(food: Food, names: tuple[str, ...]) -> bool:
    for name in names:
        sort, _, told = name.partition(":")
        if food.share(told) >= PART if sort == "role" else fnmatchcase(food.key, told):
            return True
    return False
