"""The spelling of an edition, by table: ``spelling_pairs.csv``, and the endings that no row settles.

A row whose ``ending`` is *ize* has two British spellings, of which the house says its own (``endings: ize``).
A word that ends as such words do and has no row is asked about, and so is one that means another thing in
the edition (``edition_doubts.csv``): neither is changed.

    >>> from cardsmith.edition.markets import markets
    >>> american, british = markets()["us"], markets()["uk"]
    >>> dict(spellings(american, british))["caramelize"]
    'caramelise'
    >>> doubtful("Flambize a flour of this size.", american, british)
    (('Flambize', '-ize', '-ise'),)
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache

from cardsmith.edition.markets import Market
from cardsmith.edition.words import Change, Wording
from cardsmith.files.user_cache import kept
from cardsmith.frozen import frozen
from cardsmith.measure.patterns import cell
from cardsmith.reference import OURS, Tables, table
from cardsmith.regex import regex

_WORD = regex(r"\w+")


def _column(market: Market) -> str:
    """The column of its spelling: that of its words, but American where its English is."""
    return "us" if market.language == "en-US" else market.words if market.words != "us" else "uk"


@cache
def spellings(home: Market, market: Market, tables: Tables = OURS) -> tuple[Change, ...]:
    """Each word with the one that is written for it in the edition."""
    written, wanted = _column(home), _column(market)
    pairs = (
        (_spelled(row, written, home), _spelled(row, wanted, market)) for row in tables.rows("spelling_pairs")
    )
    return tuple((spelling, other) for spelling, other in pairs if spelling != other)


@cache
def spelled(home: Market, market: Market, tables: Tables = OURS) -> Callable[[str], str]:
    """What spells a text as the edition does, and changes no other word of it."""
    wording = kept_wording("spelling", home, market, tables, lambda: spellings(home, market, tables))
    return lambda text: wording.told(text)[0] if text else text


def kept_wording(
    subject: str, home: Market, market: Market, tables: Tables, pairs: Callable[[], Iterable[Change]]
) -> Wording:
    """The wording of what changes from one edition to another, kept between commands.

    Not where a house has rows of its own, on which it may rest.
    """
    if tables.own:
        return Wording.of(pairs())
    rests_on = repr((home, market)).encode()
    return kept(f"{subject}-{home.key}-{market.key}", lambda: Wording.of(pairs()), rests_on)


def _spelled(row: Mapping[str, str], column: str, market: Market) -> str:
    if row.get("ending") == "ize" and market.endings == "ize":
        return row["us"]
    return row.get(column) or row["uk"]


def doubtful(
    text: str, home: Market, market: Market, tables: Tables = OURS
) -> tuple[tuple[str, str, str], ...]:
    """Each word without a row that ends as those do which are spelled otherwise there; with both endings."""
    known, endings = _known(tables), _endings(home, market)
    return tuple(
        (word, ending, other)
        for word in dict.fromkeys(_WORD.findall(text))
        for ending, other in endings
        if word.lower().endswith(ending[1:]) and word.lower() not in known
    )


@cache
def _known(tables: Tables) -> frozenset[str]:
    pairs = (row.get(column, "") for row in tables.rows("spelling_pairs") for column in ("us", "uk", "au"))
    exempt = (word for row in table("spelling_endings") for word in cell(row["same"]))
    return frozenset((*pairs, *exempt))


@cache
def _endings(home: Market, market: Market) -> tuple[Change, ...]:
    """The endings of one edition with those of the other."""
    changes: list[Change] = []
    for row in table("spelling_endings"):
        ways = [
            row["us"]
            if edition.language == "en-US" or (row["either"] and edition.endings == "ize")
            else row["uk"]
            for edition in (home, market)
        ]
        if ways[0] != ways[1]:
            changes.append((f"-{ways[0]}", f"-{ways[1]}"))
    return tuple(changes)


@frozen
class Doubt:
    """A word that may mean another thing in an edition, and phrases in which it doesn't."""

    word: str
    same: tuple[str, ...]
    why: str


def doubts(home: Market, market: Market) -> Iterator[Doubt]:
    """The words that are asked about between two editions."""
    if home.words != market.words:
        for row in table("edition_doubts"):
            if home.words in cell(row["written"]) and market.words in cell(row["read"]):
                yield Doubt(word=row["word"], same=cell(row["same"]), why=row["why"])
