"""Foods and words of a table's cell, looked up in a recipe: ``role:nut|key:*-chile``, ``taste ... dough``."""

from __future__ import annotations

import re
from fnmatch import fnmatchcase
from fractions import Fraction
from functools import cache

from cardsmith.measure.larder import Food
from cardsmith.recipe.mentions import visible
from cardsmith.recipe.model import Recipe


@cache
def pattern(cell: str) -> re.Pattern[str] | None:
    """Words of a cell as a pattern, ``pickle*|taste ... dough``: a star ends a word, dots are words."""
    told = [
        re.sub(r"\\?[ -]", r"[\\s-]+", re.escape(one.strip()))
        .replace(r"\.\.\.[\s-]+", r"(?:[\w'’-]+[\s-]+){0,5}")
        .replace(r"\*", r"[\w'’-]*")
        for one in cell.split("|")
        if one.strip()
    ]
    return re.compile(rf"\b(?:{'|'.join(told)})(?!\w)", re.IGNORECASE) if told else None


@cache
def _sorted(patterns: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """The names of ``patterns`` by their sort: key, role, origin."""
    pairs = [one.partition(":")[::2] for one in patterns]
    return {sort: tuple(name for mine, name in pairs if mine == sort) for sort in ("key", "role", "origin")}


def is_of(food: Food | None, patterns: tuple[str, ...]) -> bool:
    """Whether a food is one of ``patterns``: by key, by what it mainly acts as, or by where it comes from."""
    if food is None:
        return False
    wanted = _sorted(patterns)
    return (
        any(food.share(name) >= Fraction(1, 3) for name in wanted["role"] if name in food.roles)
        or any(name in food.origin for name in wanted["origin"])
        or any(food.key == name or ("*" in name and fnmatchcase(food.key, name)) for name in wanted["key"])
    )


def texts(recipe: Recipe) -> dict[str, str]:
    """What the author wrote, by place, for words to be looked up in."""
    makes = recipe.yields.makes_item if recipe.yields else ""
    return {
        "title": recipe.title,
        "headnote": recipe.headnote,
        "kind": recipe.kind.text if recipe.kind else "",
        "makes": makes,
        "equipment": "; ".join(one.text for one in recipe.equipment),
        "list": "; ".join(line.text for line in recipe.ingredients),
        "steps": "\n".join(visible(step.spans) for step in recipe.steps),
        "storage": recipe.storage,
        "notes": "\n".join(one.text for one in recipe.notes),
    }
