"""What an edition is: of a market as ``editions.csv`` has it, less what a house says otherwise.

An edition is two values: the house in the style of a market (`House.in_edition`), and the recipe in its
words (`reworded.py`). Whatever takes a recipe and a house makes an edition of them and knows nothing of
editions, so all numbers of each come from the author's exact amounts, and each is read back by itself. The
first edition that a house declares is the house as its own keys have it, with its files and addresses.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Annotated

from cardsmith.frozen import frozen
from cardsmith.measure.patterns import cell
from cardsmith.recipe.schema.kinds import Lines, TextKind, UnfitError
from cardsmith.reference import table

EDITIONS = ("us", "uk", "eu", "au")
NAMED = "named"


def _once(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


def _some(names: tuple[str, ...]) -> tuple[str, ...]:
    if not names:
        raise UnfitError("this list is empty", "what is wanted, or leave the line out")
    return _once(names)


@frozen
class EditionStyle:
    """A further edition; what is left out is as usual in its market."""

    order: Annotated[
        tuple[str, ...],
        Lines(noun="system", text=TextKind(choices=("us", "metric")), made=_some),
        "Which systems its cards have, the first foremost.",
        "[metric]",
    ] = ()
    oven: Annotated[
        tuple[str, ...] | None,
        Lines(noun="setting", text=TextKind(choices=("gas", "fan")), made=_once),
        "What stands beside a temperature of the oven: [] for nothing.",
        "[fan, gas]",
    ] = None
    allergens: Annotated[
        tuple[str, ...],
        Lines(noun="law", text=TextKind(choices=("US", "EU", "AU")), made=_some),
        "Whose lists of allergens its cards print.",
        "[EU]",
    ] = ()
    card: Annotated[str, TextKind(), "The trim size of its cards (card_sizes.csv).", "a5"] = ""
    recipes: Annotated[
        str,
        TextKind(choices=("all", NAMED)),
        "Which recipes are printed in it: all, or those that name it under their own `editions:`.",
        NAMED,
    ] = "all"


Styles = tuple[tuple[str, EditionStyle], ...]


@frozen
class Market:
    """An edition where nobody says otherwise."""

    key: str
    name: str
    language: str
    words: str  # the column of edition_names.csv
    order: tuple[str, ...]
    household: str  # whose cups and spoons its metric column has; empty for none
    oven: tuple[str, ...]
    card: str
    allergens: tuple[str, ...]


@cache
def markets() -> Mapping[str, Market]:
    """The editions there are, by their keys."""
    cells: dict[str, dict[str, str]] = {}
    for row in table("editions"):
        cells.setdefault(row["edition"], {})[row["key"]] = row["value"]
    return {
        key: Market(
            key=key,
            name=one["name"],
            language=one["language"],
            words=one["words"],
            order=cell(one["order"]),
            household=one["household"],
            oven=cell(one["oven"]),
            card=one["card"],
            allergens=cell(one["allergens"]),
        )
        for key, one in cells.items()
    }


def as_styles(**given: EditionStyle) -> Styles:
    """The editions of a house, in its order, the first its own.

    Raises:
        UnfitError: there is but one.
    """
    if len(given) < 2:
        raise UnfitError("one edition is the house itself", "two at least: editions: {us: {}, uk: {}}")
    return tuple(given.items())
