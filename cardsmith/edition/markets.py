"""What an edition is: of a market as ``editions.csv`` has it, less what a house says otherwise.

An edition is two values: the house in the style of a market (`House.in_edition`), and the recipe in its
words (`reworded.py`). Whatever takes a recipe and a house makes an edition of them and knows nothing of
editions, so all numbers of each come from the author's exact amounts, and each is read back by itself. The
first edition that a house declares is the house as its own keys have it, with its files and addresses.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from cardsmith.frozen import frozen
from cardsmith.measure.patterns import cell
from cardsmith.reference import table

EDITIONS = ("us", "uk", "eu", "au")
DATES = ("month-first", "day-first")
QUOTES = ("double", "single")
ENDINGS = ("ize", "ise")


@frozen
class Can:
    """A can that shops have: what its label says, and what is left of it once it is drained, in grams."""

    grams: Fraction
    drained: Fraction | None = None  # None where a house doesn't say, or nothing is drained away
    foods: tuple[str, ...] = ()  # keys of the foods that are sold in it; none for most

    @property
    def said(self) -> str:
        """Its name in messages to an author."""
        left = f", some {float(self.drained):g} g drained" if self.drained else ""
        return f"{float(self.grams):g} g{left}"


@frozen
class Market:
    """An edition: as usual in its market, where no house says otherwise."""

    key: str
    name: str
    language: str
    words: str  # the column of the tables of names and spellings
    order: tuple[str, ...]
    household: str  # whose cups and spoons its metric column has; empty for none
    oven: tuple[str, ...]
    card: str
    paper: str  # of its proofs
    allergens: tuple[str, ...]
    nutrition: str  # by whose law a card declares contents
    dates: str
    quotes: str
    endings: str  # ize or ise, where English has both
    fan: str  # by what word an oven's moving air goes
    seasons: str  # north or south: the half of the world whose summer it has
    eggs: tuple[str, ...]  # the size classes that its shops have
    cans: tuple[Can, ...]  # that its shops have
    stricter: tuple[tuple[str, Fraction], ...] = ()  # a house's own figures of safety: of what, °C

    def __hash__(self) -> int:
        """By the key alone: what is remembered by markets is asked for a thousand times a recipe."""
        return hash(self.key)


@cache
def markets() -> Mapping[str, Market]:
    """The editions there are, by their keys."""
    cells: dict[str, dict[str, str]] = {}
    for row in table("editions"):
        cells.setdefault(row["edition"], {})[row["key"]] = row["value"]
    return {
        key: Market(
            key=key,
            name=listed["name"],
            language=listed["language"],
            words=listed["words"],
            order=cell(listed["order"]),
            household=listed["household"],
            oven=cell(listed["oven"]),
            card=listed["card"],
            paper=listed["paper"],
            allergens=cell(listed["allergens"]),
            nutrition=listed["nutrition"],
            dates=listed["dates"],
            quotes=listed["quotes"],
            endings=listed["endings"],
            fan=listed["fan"],
            seasons=listed["seasons"],
            eggs=cell(listed["eggs"]),
            cans=tuple(
                Can(
                    grams=Fraction(row["grams"]),
                    drained=Fraction(row["drained"]) if row["drained"] else None,
                    foods=cell(row["foods"]),
                )
                for row in table("edition_cans")
                if row["edition"] == key
            ),
        )
        for key, listed in cells.items()
    }
