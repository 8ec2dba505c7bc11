"""Entries of an invented collection for the tests of its pages."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from cardsmith.house.style import load_house
from cardsmith.site.entry import Entry, Noted

ROOT = Path(__file__).parents[2]
HOUSE = load_house(ROOT)
_PLAIN = Entry(
    name="plain",
    title="Plain",
    headnote="Nothing to it. It is made in no time.",
    group="Soups",
    course="Soup",
    cuisine="",
    makes="Makes 4 bowls",
    serves="Serves 4",
    active="10 minutes",
    total="30 minutes",
    total_seconds=1800,
    sure_allergens=(),
    possible_allergens=(),
    unknown_foods=(),
    claims=(),
    keywords=(),
    ingredients=("carrots", "water"),
    other_names=(),
    foods=(),
    published="2026-01-10",
    corrections=(),
    formerly=(),
)


def entry(name: str, **values: Any) -> Entry:
    """An entry of this name, plain but for ``values``."""
    return replace(_PLAIN, **{"name": name, "title": name.replace("-", " ").capitalize(), **values})


def noted(date: str, what: str = "The salt is 5 g.") -> Noted:
    """A correction."""
    return Noted(date=date, what=what)
