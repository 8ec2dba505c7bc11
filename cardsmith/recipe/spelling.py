"""Unit words that are one slip away from a real one: ``1 1/2 cps``."""

from __future__ import annotations

from cardsmith.finding import Severity
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import Dimension, System, unit_words
from cardsmith.recipe.numbers import Fault
from cardsmith.recipe.tails import Piece
from cardsmith.regex import regex

# English words one letter from a unit that stand before foods: 2 cut lemons, 1 dill pickle.
PLAIN_WORDS = frozenset(
    """
    cut cap caps cub cubs cue cod pine pink print mint mints point lint pinto pita hint
    round ground sound bound found mound bounce
    quarter quarters quark tart grill bill dill fill hill mill
    girl chill mash hash dish cash wash rash lash punch finch pitch inch lite later kiln crop tan tap tab red
    gray grape grain crisp kale ribs tops tips taps
    """.split()
)
_WORD = regex(r"[A-Za-z]+\.?")


def misspelled_unit(named: Piece, larder: Larder, measures: System) -> Fault | None:
    """The fault where the first word after a bare number is one slip from a unit of weight or volume."""
    match = _WORD.match(named.text)
    if match is None:
        return None
    word = match[0].rstrip(".")
    if len(word) < 3 or word.lower() in PLAIN_WORDS or larder.find(named.text) is not None:
        return None
    near = sorted(
        (known for known in _targets(measures) if _one_slip(word.lower(), known)),
        key=lambda known: (known[0] != word[0].lower(), abs(len(known) - len(word)), known),
    )
    if not near:
        return None
    return Fault(
        name="unit-misspelled",
        severity=Severity.ERROR,
        start=named.start,
        end=named.start + len(match[0]),
        what=f"“{match[0]}” is no unit",
        instead=" or ".join(f"“{known}”" for known in near[:2]),
    )


def _targets(measures: System) -> frozenset[str]:
    weighed = {Dimension.MASS, Dimension.VOLUME}
    return frozenset(
        word
        for word, found in unit_words(measures).items()
        if found.unit.dimension in weighed and len(word) > 2 and word.isalpha() and word.islower()
    )


def _one_slip(word: str, known: str) -> bool:
    """Whether one letter was dropped, added, replaced or swapped with its neighbour."""
    if word == known or abs(len(word) - len(known)) > 1:
        return False
    place = next((at for at, (one, other) in enumerate(zip(word, known, strict=False)) if one != other), None)
    if place is None:
        return True
    left, right = word[place:], known[place:]
    swapped = left[:2] == right[1::-1] and left[2:] == right[2:]
    return left[1:] == right[1:] or left[1:] == right or left == right[1:] or swapped
