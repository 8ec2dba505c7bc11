"""The kind of dish that an author named, as the tables have it: kinds.csv."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from cardsmith.recipe.model import Recipe
from cardsmith.reference import OURS, PLACE, Tables


@cache
def kinds(tables: Tables = OURS) -> Mapping[str, str]:
    """Every name of a kind, with the kind it stands for."""
    names = {row["kind"]: row["kind"] for row in tables.rows("kinds")}
    for row in tables.rows("kinds"):
        for alias in filter(None, row["aliases"].split("|")):
            if names.setdefault(alias, row["kind"]) != row["kind"]:
                raise ValueError(f"kinds.csv: {alias!r} stands for two kinds")
    return names


def loss_said_by(kind: str, tables: Tables = OURS) -> str:
    """On what the usual loss of a kind rests: the house's own source, or ours, which is practice."""
    row = tables.row("kind_losses", kind)
    return row["source"] if row and PLACE in row else "common practice, no source"


def kind_of(recipe: Recipe) -> str:
    """The recipe's kind as the tables name it; empty where it has none that they know."""
    written = recipe.kind.text if recipe.kind else ""
    return kinds(recipe.tables).get("-".join(written.lower().split()), "")
