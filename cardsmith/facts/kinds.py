"""The kind of dish that an author named, as the tables have it: kinds.csv."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from itertools import pairwise

from cardsmith.recipe.model import Recipe
from cardsmith.recipe.weighed import weigh
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
    """The recipe's kind as the tables name it; empty where it has none that they know.

    A word before it in the title may narrow it, and so may the list: thin pancakes, a sweet biscuit.
    """
    written = "-".join((recipe.kind.text if recipe.kind else "").lower().split())
    names = kinds(recipe.tables)
    before = [word for word, noun in pairwise(recipe.title.lower().split()) if noun == written]
    if written in BISCUITS and _grams(recipe, "sugar") >= SWEET * _grams(recipe, "flour") > 0:
        before.append("sweet")
    narrower = (names.get(f"{word}-{written}") for word in before)
    return next(filter(None, narrower), names.get(written, ""))


def _grams(recipe: Recipe, role: str) -> Fraction:
    weighed = ((line.food, weigh(line, line.amount)) for line in recipe.ingredients if line.amount)
    return sum((mass.grams * food.share(role) for food, mass in weighed if food and mass), Fraction(0))


BISCUITS = ("biscuit", "biscuits")  # of the US unsweet and soft, elsewhere sweet and crisp
SWEET = Fraction(2, 5)  # of the flour, in sugar: no scone has as much; common practice, no source
