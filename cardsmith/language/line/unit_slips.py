"""Unit words that are one slip away from a real one (``1 1/2 cps``), unknown, or broken in two.

>>> from cardsmith.measure.larder import load_larder
>>> misspelled("cps flour", load_larder(), System.US)
('cps', '“cups”')
>>> misspelled("Ib. mushrooms", load_larder(), System.US)
('Ib.', '“lb”')
>>> misspelled("cut lemons", load_larder(), System.US) is None
True
"""

from __future__ import annotations

import re
from functools import cache

from cardsmith.language.figures.terms import SHORT_SIZES
from cardsmith.language.word_classes import words_of
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import WEIGHED, System, unit_words
from cardsmith.regex import regex

# English words one letter from a unit that stand before foods: 2 cut lemons, 1 dill pickle.
PLAIN_WORDS = words_of("near a unit")
_WORD = regex(r"[A-Za-z]+\.?")
_NO_WORD = regex(r"(?:[a-z]{1,2}|[b-df-hj-np-tv-xz]{3})\b\.?(?=\s+\w)")
_NICKNAMES = frozenset({"mil", "grm", "ltr", "lts", "ccs"})  # nobody aims at those and misses
_REAL = frozenset({"of", "an", "or", "to", "in", "ox"})


def misspelled(named: str, larder: Larder, measures: System) -> tuple[str, str] | None:
    """The first word after a bare number where it is one slip from a unit, and what to write."""
    match = _WORD.match(named)
    if match is None:
        return None
    word = match[0].rstrip(".")
    scanned = word.replace("I", "l")
    if scanned != word and scanned in unit_words(measures):
        return match[0], f"“{scanned}”"
    if len(word) < 3 or word.lower() in PLAIN_WORDS or larder.find(named) is not None:
        return None
    near = sorted(
        (known for known in _targets(measures) if _one_slip(word.lower(), known)),
        key=lambda known: (known[0] != word[0].lower(), abs(len(known) - len(word)), known),
    )
    return (match[0], " or ".join(f"“{known}”" for known in near[:2])) if near else None


def no_word(named: str, larder: Larder) -> tuple[str, str] | None:
    """Letters after a bare number that no English word begins with, before a food: "110 xg water"."""
    letters = _NO_WORD.match(named)
    if letters is None or letters[0].lower().rstrip(".") in _REAL | set(SHORT_SIZES):
        return None
    if not larder.find(named[letters.end() :]) or larder.find(named):
        return None
    return letters[0], "a unit, such as g, ml or tsp"


def glued_word(named: str) -> tuple[str, str] | None:
    """Letters that stand against the number and are no unit: "200gx flour"."""
    word = re.match(r"[^\W\d_]+", named)
    return (word[0], "a unit, or a space before the food") if word else None


@cache
def _targets(measures: System) -> frozenset[str]:
    weighed = WEIGHED
    return frozenset(
        word
        for word, unit_word in unit_words(measures).items()
        if unit_word.unit.dimension in weighed
        and len(word) > 2
        and word.isalpha()
        and word.islower()
        and word not in _NICKNAMES
    )


def _one_slip(word: str, known: str) -> bool:
    """Whether one letter was dropped, added, replaced or swapped with its neighbour."""
    if word == known or abs(len(word) - len(known)) > 1:
        return False
    place = next(
        (at for at, (letter, other) in enumerate(zip(word, known, strict=False)) if letter != other), None
    )
    if place is None:
        return True
    left, right = word[place:], known[place:]
    swapped = left[:2] == right[1::-1] and left[2:] == right[2:]
    return left[1:] == right[1:] or left[1:] == right or left == right[1:] or swapped
