"""What one word tells of a heat: a thing that holds it, a verb that uses it, and how hot that may ever be.

>>> from cardsmith.language.tokens import tokenize
>>> of_noun(tokenize("in an air fryer"), 3), of_verb(tokenize("fry it"), 0, None, change=False)
(<Purpose.OVEN: 'oven'>, <Purpose.FAT: 'fat'>)
>>> may_be(Purpose.FAT, Fraction(180)), may_be(Purpose.REFRIGERATOR, Fraction(180))
(True, False)
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from cardsmith.language.spans import Purpose
from cardsmith.language.tokens import DASHES, Tokens
from cardsmith.language.word_classes import purposes_of
from cardsmith.reference import table

_STORES = frozenset({"store", "stored", "keep", "kept", "keeps", "stays"})
_COLDEST_ROOM = Fraction(9)  # °C; warmer than any refrigerator (common practice, no source)
_RISING = frozenset({"rise", "rises", "rising"})
_DETERMINERS = frozenset({"the", "a", "your", "this", "each", "pot", "of", "rib", "beef", "pork", "lamb"})
_BOILING = frozenset({"simmering", "boiling", "hot"})
CHILLERS = frozenset({"refrigerator", "fridge", "chiller"})
_FARTHEST = 60  # tokens; so that time grows with the length of a text


def sentence_around(tokens: Tokens, first: int, end: int) -> tuple[int, int]:
    """Where the sentence around a stretch of tokens begins and ends; no word far away tells of a heat."""
    begins, ends = first, end
    while begins > max(0, first - _FARTHEST) and not tokens.is_stop(begins - 1):
        begins -= 1
    while ends < min(len(tokens), end + _FARTHEST) and not tokens.is_stop(ends):
        ends += 1
    return begins, ends


def of_noun(tokens: Tokens, at: int) -> Purpose | None:
    """What a thing tells; "roast" is one only behind a determiner, and else a verb."""
    word = tokens[at].low
    if word == "roast" and tokens[at - 1].low not in _DETERMINERS:
        return None
    if word in CHILLERS | {"freezer"} and tokens.words(at - 2, "from", "the"):
        return None  # "on a plate from the freezer"
    if word == "water" and tokens[at - 1].low in _BOILING:
        near = {tokens[place].low for place in range(at - 5, at - 1)}
        if "over" in near:
            return None  # "whisk over a pan of simmering water to 71 °C"
    return of_word(tokens, at, "heat place")


def of_word(tokens: Tokens, at: int, sort: str) -> Purpose | None:
    """What a word tells, or with the one before it where the two are one: an air fryer, an ice bath."""
    known, word = purposes_of(sort), tokens[at].low
    if word in _second_words(sort):
        place = at - 1 - (tokens[at - 1].text in DASHES)
        purpose = known.get(f"{tokens[place].low} {word}")
        return purpose if purpose is not None else known.get(word)
    return known.get(word)


@cache
def _second_words(sort: str) -> frozenset[str]:
    """The last words of those that are two: fryer, bath."""
    return frozenset(word.split()[1] for word in purposes_of(sort) if " " in word)


def of_verb(tokens: Tokens, at: int, celsius: Fraction | None, *, change: bool) -> Purpose | None:
    """What a verb tells: a frying pan fries nothing, a change of heat rises in no proofer.

    What is kept stands in a freezer, a refrigerator, a room or hot, by its heat.
    """
    word = tokens[at].low
    if (word == "frying" and tokens[at + 1].low in {"pan", "pans"}) or (change and word in _RISING):
        return None
    purpose = of_word(tokens, at, "heat verb")
    if purpose is Purpose.REFRIGERATOR and _stands_in_one(tokens, at):
        return purpose
    if purpose is not Purpose.REFRIGERATOR or celsius is None or may_be(purpose, celsius):
        warm = celsius is not None and celsius > _COLDEST_ROOM and word in _STORES
        return Purpose.ROOM if warm and purpose is Purpose.REFRIGERATOR else purpose
    for kept in (Purpose.HOLDING, Purpose.FREEZER, Purpose.ROOM):
        if may_be(kept, celsius) and (kept is not Purpose.HOLDING or celsius > _COLDEST_ROOM):
            return kept if kept is not Purpose.ROOM or word in _STORES else None
    return None


def _stands_in_one(tokens: Tokens, at: int) -> bool:
    """Whether the sentence around a verb names the refrigerator itself, however cold it says that is."""
    begins, ends = sentence_around(tokens, at, at)
    return any(tokens[place].low in CHILLERS for place in range(begins, ends))


@cache
def _reach() -> dict[Purpose, list[tuple[Fraction, Fraction]]]:
    """The coldest and hottest a purpose may ever be, in °C; two stretches for what is kept cold or hot."""
    by_purpose: dict[Purpose, list[tuple[Fraction, Fraction]]] = {}
    for row in table("temperature_bounds"):
        reach = Fraction(row["least_celsius"]), Fraction(row["most_celsius"])
        by_purpose.setdefault(Purpose(row["purpose"]), []).append(reach)
    return by_purpose


def may_be(purpose: Purpose, celsius: Fraction | None) -> bool:
    """Whether a thing can be so hot at all; an unknown heat can be any."""
    if celsius is None or purpose not in _reach():
        return True
    return any(least <= celsius <= most for least, most in _reach()[purpose])
