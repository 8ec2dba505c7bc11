"""What foods and things are called in each edition, and which have no plain swap: ``edition_names.csv``.

A house's own rows come first, in its table of the same name.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from cardsmith.edition.markets import Market
from cardsmith.edition.words import Change
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Food, words
from cardsmith.measure.patterns import cell
from cardsmith.reference import OURS, Tables

ASKED = "?"  # in place of a name: the author is to decide
LISTED = "listed"  # the word means the food only in a recipe that lists it
IN_LIST = "in list"  # the exact name stands in the list; text goes on in the common word
BEATEN = "beaten"  # so only where a recipe beats it into butter or eggs, which a coarse grain is long in
OF_EQUIPMENT = "equipment"  # its size stands where a cook looks what she needs; steps go on without


@frozen
class EditionName:
    """A food or a thing in two editions."""

    foods: tuple[str, ...]  # keys of the larder; none for a thing
    said: tuple[str, ...]  # in the edition it is written in
    instead: str  # in the other; `ASKED` where nothing is the same thing
    when: str  # `LISTED`, `IN_LIST`, or empty for always
    why: str  # why it is asked


@cache
def names(home: Market, market: Market, tables: Tables = OURS) -> tuple[EditionName, ...]:
    """The names that differ between two editions."""
    written, wanted = home.words, market.words
    if written == wanted:
        return ()
    rows = (
        EditionName(
            foods=cell(row["foods"]),
            said=cell(row[written]),
            instead=cell(row[wanted])[0],
            when=row["when"],
            why=row["why"],
        )
        for row in tables.rows("edition_names")
        if row[written] != ASKED  # written in another edition than the one that has the name
    )
    return tuple(rows)


def asked_of(food: Food | None, home: Market, market: Market, tables: Tables = OURS) -> EditionName | None:
    """The row of a food that has no plain swap; None where it has one, or needs none."""
    return _asked(home, market, tables).get(food.key) if food else None


def asked_by_name(item: str, home: Market, market: Market, tables: Tables = OURS) -> EditionName | None:
    """The same by how an item ends that no larder knows: house-made heavy cream."""
    item_words = words(item)
    rows = (name for name in names(home, market, tables) if name.instead == ASKED)
    return next((name for name in rows if any(ends_with(item_words, said) for said in name.said)), None)


def ends_with(item_words: tuple[str, ...], name: str) -> bool:
    """Whether the last words of an item are a name."""
    return bool(ending := words(name)) and item_words[-len(ending) :] == ending


@cache
def _asked(home: Market, market: Market, tables: Tables) -> Mapping[str, EditionName]:
    name_rows = names(home, market, tables)
    return {food: name for name in name_rows if name.instead == ASKED for food in name.foods}


def always(home: Market, market: Market, tables: Tables = OURS) -> Iterator[Change]:
    """The phrases that mean one thing in every recipe."""
    for name in names(home, market, tables):
        if name.instead != ASKED and not name.when:
            yield from _pairs(name)


def beside(
    listed: Iterable[str], when: str, home: Market, market: Market, tables: Tables = OURS
) -> Iterator[Change]:
    """Those that mean a food only in a recipe that lists it (`LISTED`), or only in its list (`IN_LIST`)."""
    there = frozenset(listed)
    for name in names(home, market, tables):
        if name.instead != ASKED and name.when == when and (there & set(name.foods) or not name.foods):
            yield from _pairs(name)


def _pairs(name: EditionName) -> Iterator[Change]:
    """A name that is the same in both stands for itself: shrimp paste has no prawns in it."""
    return ((said, name.instead) for said in name.said)
