"""Words that leave the inside of a food underdone: rosy at the bone, a glassy middle, juices that run pink.

A word such as *raw* or *pink* counts where it is said of the inside, and not where a sentence denies it
(*no longer pink*), makes it a condition (*if the juices are pink*) or has it before a food (*pink salt*).
"""

from __future__ import annotations

import enum
from collections.abc import Iterator
from functools import cache, lru_cache
from typing import NamedTuple

from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.reference import table
from cardsmith.regex import regex


@enum.unique
class Sense(enum.StrEnum):
    """How a food is left, by a word for it."""

    RAW = "raw"
    RARE = "rare"
    PINK = "pink"
    CLEAR = "clear"  # translucent
    SOFT = "soft"  # runny, or no more than warm


class Underdone(NamedTuple):
    """The words that say so, and what they mean."""

    words: str
    sense: Sense


@lru_cache(maxsize=4096)
def underdone(text: str) -> Underdone | None:
    """The first words of a clause that leave the inside of its food underdone; None where it has none."""
    for stands in ("alone", "served", "inside"):
        for sense, wanted in _senses(stands):
            for match in wanted.finditer(text):
                if _is_denied(text, match.start()) or (sense is Sense.PINK and "opaque" in text):
                    continue  # fish and prawns are done when they are pink and opaque
                if stands == "alone" or (
                    _is_served(text, match.start())
                    if stands == "served"
                    else _is_of_inside(text, match.start(), match.end())
                ):
                    return Underdone(match.group(), sense)
    return None


def is_done(text: str) -> bool:
    """Whether a clause gives a sign of food that is done through: opaque, no longer pink."""
    return _words("done").search(text) is not None


def _is_denied(text: str, start: int) -> bool:
    before = text[:start]
    return _DENIES.search(before) is not None or _IF.search(before) is not None


def _is_served(text: str, start: int) -> bool:
    return _SERVES.search(text, 0, start) is not None


def _is_of_inside(text: str, start: int, end: int) -> bool:
    """Whether a word is said of the inside, which stands near it, and of no noun behind it."""
    near = [
        inside
        for inside in _words("inside").finditer(text)
        if not _OF_VESSEL.match(text, inside.end())
        and len(_WORD.findall(text, min(end, inside.end()), max(start, inside.start()))) <= _NEAR
    ]
    after = _WORD.match(text, end + 1) if text[end : end + 1] in (" ", "-") else None
    beside = after is None or after.group() in _LINKS or any(match.start() == end + 1 for match in near)
    return bool(near) and beside and not _UNTIL_COLD.search(text, 0, end)


_OF_VESSEL = regex(r" of (?:the|a|your) (?:oven|pan|pot|bowl|tin|dish|tray|table|plate|grill)\b")
_NEAR = 7  # words between the two
_WORD = regex(r"[\w'’]+")
_LINKS = frozenset(
    "and or but in inside at near by to when while as with within on through towards around for after even"
    " still just only all right next if where you line strip streak band spots of than".split()
)
_DENIES = regex(
    r"\b(?:no|not|never|without|neither|nor|nothing|any|hardly|isn['’]t|aren['’]t|don['’]t|avoid|from|loses?"
    r"|rather than|instead of|unlike)\s+(?:[\w'’-]+\s+){0,3}$"
)
_IF = regex(r"\b(?:if|unless|whether|should it|where it is)\b[^,]*$")
_SERVES = regex(
    r"\b(?:for|until|medium|very|blue|served?|eat(?:en)?|cook(?:ed)?|leave|keep|kept|still|like[ds]?|them|it"
    r"|stays?|are|is|be|these)\s+(?:[\w'’-]+\s+)?$"
)
_UNTIL_COLD = regex(r"\buntil (?:[\w'’-]+ ){0,3}(?:cool|cold|lukewarm)$")


@cache
def _senses(stands: str) -> tuple[tuple[Sense, Phrases], ...]:
    return tuple(_rows(stands))


def _rows(stands: str) -> Iterator[tuple[Sense, Phrases]]:
    for row in table("underdone_words"):
        known = phrases(row["words"]) if row["stands"] == stands and row["sense"] else None
        if known is not None:
            yield Sense(row["sense"]), known


@cache
def _words(stands: str) -> Phrases:
    """The phrases without a sense: those for the inside, those for what is done."""
    cell = "|".join(
        row["words"] for row in table("underdone_words") if row["stands"] == stands and not row["sense"]
    )
    known = phrases(cell)
    if known is None:
        raise ValueError(f"underdone_words.csv has no words for {stands}")
    return known
