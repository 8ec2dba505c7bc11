"""A counted noun beside another number: one loaf, three loaves.

>>> [many(word) for word in ("loaf", "cake", "dish", "batch", "berry", "biscotti", "tray")]
['loaves', 'cakes', 'dishes', 'batches', 'berries', 'biscotti', 'trays']
>>> [one(word) for word in ("loaves", "cookies", "dishes", "quiches", "berries", "glasses", "biscotti")]
['loaf', 'cookie', 'dish', 'quiche', 'berry', 'glass', 'biscotti']
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from cardsmith.language.nouns import is_counted, is_plural
from cardsmith.language.spans import Span, Words
from cardsmith.reference import table

HISSING = ("s", "x", "z", "ch", "sh")
VOWELS = "aeiou"


def many(word: str) -> str:
    """The plural of an English noun; one that is a plural already, or is counted as it stands, stays."""
    irregular = _plurals().get(word)
    if irregular:
        return irregular
    if is_counted(word) or is_plural(word):
        return word
    if word.endswith(HISSING):
        return f"{word}es"
    return f"{word[:-1]}ies" if word.endswith("y") and word[-2:-1] not in VOWELS else f"{word}s"


def one(word: str) -> str:
    """The singular of an English noun in the plural; any other word stays."""
    irregular = _singulars().get(word)
    if irregular:
        return irregular
    if is_counted(word) or not is_plural(word):
        return word
    if word.endswith("ies"):
        return f"{word[:-3]}y"
    stem = word[:-2]
    return stem if word.endswith("es") and stem.endswith(HISSING) and _doubled(stem) else word[:-1]


def declined(spans: tuple[Span, ...], noun: str, other: str) -> tuple[Span, ...]:
    """``spans`` with the first ``noun`` of their words as ``other``."""
    for place, span in enumerate(spans):
        if isinstance(span, Words):
            text = re.sub(rf"\b{re.escape(noun)}\b", other, span.text, count=1, flags=re.IGNORECASE)
            if text != span.text:
                return (*spans[:place], replace(span, text=text), *spans[place + 1 :])
            if re.search(rf"\b{re.escape(noun)}\b", span.text, re.IGNORECASE):
                return spans
    return spans


def _doubled(stem: str) -> bool:
    """Whether a stem ends in a hiss of its own: glass-es, dish-es; slices, purses and mazes have an e."""
    return not stem.endswith(("s", "z")) or stem.endswith(("ss", "zz"))


@cache
def _plurals() -> dict[str, str]:
    return {row["singular"]: row["plural"] for row in table("noun_plurals")}


@cache
def _singulars() -> dict[str, str]:
    return {row["plural"]: row["singular"] for row in table("noun_plurals")}
