"""Which parts of a recipe a formula speaks of: the dough, the trimmings, those that hold a thing."""

from __future__ import annotations

from collections.abc import Collection
from functools import cache

from cardsmith.measure.larder import words
from cardsmith.recipe.model import Part
from cardsmith.reference import table


@cache
def _part_words(sort: str) -> frozenset[str]:
    return frozenset(
        word for row in table("part_words") if row["sort"] == sort for word in words(row["word"])
    )


def trimming_words() -> frozenset[str]:
    """What fillings, glazes and toppings are called."""
    return _part_words("trimming")


def doughs(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """The parts whose name is that of a dough, a crust, a base."""
    return tuple(part for part in parts if _part_words("dough") & set(words(part.name)))


def without_trimmings(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """All parts but fillings, glazes, toppings."""
    return tuple(part for part in parts if not trimming_words() & set(words(part.name)))


def poured_parts(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """The parts that go into the pan: all but what is made to go over or beside the dish."""
    return tuple(part for part in parts if not (trimming_words() - {"filling"}) & set(words(part.name)))


def holds(part: Part, roles: Collection[str]) -> bool:
    """Whether a line of a part acts in one of the roles."""
    return any(line.food is not None and set(roles) & set(line.food.roles) for line in part.ingredients)
