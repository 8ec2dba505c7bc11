"""Foods of a table's cell: ``role:nut|key:*-chile``."""

from __future__ import annotations

import re
from fnmatch import translate
from fractions import Fraction
from functools import cache, lru_cache

from cardsmith.frozen import frozen
from cardsmith.measure.food import Food
from cardsmith.regex import regex

PART = Fraction(1, 3)  # of a food that acts in a role makes it one of that role, though not mainly


@frozen
class _Wanted:
    """Patterns by their sort, ready to be asked thousands of times."""

    roles: tuple[str, ...]
    origins: frozenset[str]
    keys: frozenset[str]
    globs: re.Pattern[str] | None


@cache
def _sorted(patterns: tuple[str, ...]) -> _Wanted:
    """The names of ``patterns`` by their sort: key, role, origin."""
    pairs = [pattern.partition(":")[::2] for pattern in patterns]
    names = {sort: [name for mine, name in pairs if mine == sort] for sort in ("key", "role", "origin")}
    globs = [translate(name) for name in names["key"] if "*" in name]
    return _Wanted(
        roles=tuple(names["role"]),
        origins=frozenset(names["origin"]),
        keys=frozenset(names["key"]),
        globs=regex("|".join(globs)) if globs else None,
    )


@lru_cache(maxsize=1 << 16)
def is_of(food: Food | None, patterns: tuple[str, ...]) -> bool:
    """Whether a food is one of ``patterns``: by key, by what a third of it acts as, or by origin."""
    if food is None:
        return False
    wanted = _sorted(patterns)
    if food.key in wanted.keys or not wanted.origins.isdisjoint(food.origin):
        return True
    if any(name in food.roles and food.share(name) >= PART for name in wanted.roles):
        return True
    return wanted.globs is not None and wanted.globs.match(food.key) is not None


def cell(text: str) -> tuple[str, ...]:
    """The entries of a table's cell."""
    return tuple(entry.strip() for entry in text.split("|") if entry.strip())
