"""Words of a table's cell, looked for in a text: ``pickle*|taste ... dough|dry ice ~ glass``."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from operator import itemgetter
from types import MappingProxyType
from typing import NamedTuple

from cardsmith.regex import regex

WORD = regex(r"\w+")
BEGUN = regex(r"\w[\w'’-]*")
WHOLE = regex(r"(?<![*\w])(?:\w{3,}|\w+(?!\w|\*))")  # a word of a phrase whose first letters are known
START = 3  # letters of its first word by which a phrase is found
ANY = ""  # where a phrase that begins with any word at all is found, such as ``* oil``


class CellPhrase(NamedTuple):
    """One phrase of a cell."""

    first: str  # its first word, or the beginning of it
    is_begun: bool  # a star ends its first word
    needs: frozenset[str]  # the first letters of all its words: its pattern is compiled where a text has them
    text: str


@dataclass(frozen=True, slots=True, eq=False)
class Phrases:
    """Phrases to look for, by the first letters of each: a text asks only those that could begin in it.

    Tables hold hundreds; one pattern of them all takes longer to compile than a recipe to check.
    """

    by_start: Mapping[str, tuple[CellPhrase, ...]]

    def finditer(self, text: str, start: int = 0, end: int | None = None) -> Iterator[re.Match[str]]:
        """Every phrase of the text between two places, from left to right, none over another.

        Of two that begin at one place the first of the cell holds.
        """
        places = _words(text)
        if self.by_start.keys().isdisjoint(places):
            return
        shared = self.by_start.keys() & places.keys()
        end = len(text) if end is None else end
        begun = [
            (at, phrase)
            for letters in sorted(shared, reverse=True)
            for at, word in places[letters]
            if start <= at < end
            for phrase in self.by_start[letters]
            if (word == phrase.first or (phrase.is_begun and word.startswith(phrase.first)))
            and places.keys() >= phrase.needs
        ]
        for at, phrase in sorted(begun, key=itemgetter(0)):
            if at >= start and (match := _pattern(phrase.text).match(text, at, end)):
                yield match
                start = match.end()

    def search(self, text: str, start: int = 0, end: int | None = None) -> re.Match[str] | None:
        """The first phrase of a text; None where it has none."""
        return next(self.finditer(text, start, end), None)

    def match(self, text: str) -> re.Match[str] | None:
        """The phrase that a text begins with."""
        first = self.search(text)
        return first if first is not None and not first.start() else None

    def without(self, text: str) -> str:
        """The text, a space in place of each phrase."""
        at, kept = 0, []
        for match in self.finditer(text):
            kept.append(text[at : match.start()])
            at = match.end()
        return " ".join([*kept, text[at:]])


@cache
def phrases(cell: str) -> Phrases | None:
    """The phrases of a cell, None where it is empty.

    A star stands for any ending, dots for up to five words, a wave for anything within a sentence. Capitals
    don't count.

    Raises:
        ValueError: a phrase begins with no word, or with a star after fewer than three letters.
    """
    by_letters: dict[str, list[CellPhrase]] = {}
    for phrase in filter(None, (part.strip().lower() for part in cell.split("|"))):
        match = WORD.match(phrase)
        first = match.group() if match else ANY
        is_begun = phrase.startswith("*", len(first))
        if (not is_begun and not first) or (is_begun and 0 < len(first) < START):
            raise ValueError(f"the phrase {phrase!r} has to begin with a word, or with three letters of one")
        letters = frozenset(word[:START] for word in WHOLE.findall(phrase))
        by_letters.setdefault(first[:START], []).append(CellPhrase(first, is_begun, letters, phrase))
    by_start = {letters: tuple(group) for letters, group in by_letters.items()}
    return Phrases(MappingProxyType(by_start)) if by_start else None


@cache
def _pattern(phrase: str) -> re.Pattern[str]:
    """What a phrase matches where its first word stands; for a phrase of one word, any word."""
    if WORD.fullmatch(phrase):
        return WORD
    if phrase.endswith("*") and WORD.fullmatch(phrase[:-1]):
        return BEGUN
    pattern = (
        re.sub(r"\\?[ -]", r"[\\s-]+", re.escape(phrase))
        .replace(r"\.\.\.[\s-]+", r"(?:[\w'’-]+[\s-]+){0,5}")
        .replace(r"[\s-]+\~[\s-]+", r"\b(?:[^.;!?]|\.(?=\S))*?\b")
        .replace(r"\*", r"[\w'’-]*")
    )
    return regex(rf"{pattern}(?!\w)", re.IGNORECASE)


@lru_cache(maxsize=4096)  # dozens of tables ask about the same sentence, most of them in vain
def _words(text: str) -> Mapping[str, Sequence[tuple[int, str]]]:
    """The words of a text in small letters, each with its place, by their first letters; all by `ANY`."""
    low = text.lower()
    if len(low) == len(text):
        each = [(match.start(), match.group()) for match in WORD.finditer(low)]
    else:  # a letter that is two in small: İ
        each = [(match.start(), match.group().lower()) for match in WORD.finditer(text)]
    by_start: dict[str, list[tuple[int, str]]] = {ANY: each}
    for entry in each:
        by_start.setdefault(entry[1][:START], []).append(entry)
    return by_start
