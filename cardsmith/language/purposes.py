"""What a temperature is for: by the clause it stands in, never by nearness alone.

    1. what it describes or stands in: "a 350 °F oven", "at 4 °C in the refrigerator", "63 °C inside"
    2. in an until-clause: what that clause speaks of; a thermometer without a place reads what is cooked,
       or what the main clause heats ("Heat the oil until it reaches 180 °C")
    3. else the nearest word before it, in its clause, that uses heat or holds it
    4. else the nearest one after it, or in the sentence before

A word whose temperatures never come near the one written is passed over for one whose do. Common practice, no
source, but for the table of bounds.

>>> purpose_in("Fry until a thermometer in the middle reads 165 °F.", "165 °F", 74)
<Purpose.CORE: 'core'>
>>> purpose_in("Heat the oil in a deep pan to 180 °C.", "180 °C", 180)
<Purpose.FAT: 'fat'>
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import cache

from cardsmith.language.spans import Purpose
from cardsmith.language.tokens import Tokens, tokenize
from cardsmith.language.word_classes import purposes_of, words_of
from cardsmith.reference import table

_IN = frozenset({"in", "inside", "of", "on", "into"})
_STORES = frozenset({"store", "stored", "keep", "kept", "keeps", "stays"})
_COLDEST_ROOM = Fraction(9)  # °C; warmer than any refrigerator (common practice, no source)
_KEPT = frozenset({Purpose.DOUGH, Purpose.MILK, Purpose.CORE, Purpose.WATER, Purpose.CUSTARD})
_TO_OR_AT = frozenset({"cook", "braise", "stew", "reheat", "reheated", "warm"})
_HOLDERS = frozenset({Purpose.PAN, Purpose.GRILL})
_WEAK = frozenset({Purpose.REFRIGERATOR, Purpose.FREEZER, Purpose.HOLDING})


def purpose_in(text: str, written: str, celsius: int) -> Purpose:
    """The purpose of the temperature ``written`` in ``text``."""
    tokens = tokenize(text)
    start = text.index(written)
    first = next(at for at in range(len(tokens)) if tokens[at].start >= start)
    end = next((at for at in range(len(tokens)) if tokens[at].start >= start + len(written)), len(tokens))
    return purpose_of(tokens, first, end, Fraction(celsius))


def purpose_of(tokens: Tokens, first: int, end: int, celsius: Fraction | None = None) -> Purpose:
    """The purpose of the temperature that stands in the tokens from ``first`` up to ``end``.

    ``celsius`` is None where the scale is unknown. `Purpose.OTHER` where nothing tells.
    """
    told = _told(tokens, first, end, celsius)
    if told is Purpose.OTHER and celsius is not None:
        told = _told(tokens, first, end, None)  # what no such thing can be is for the checks to say
    return told


def _told(tokens: Tokens, first: int, end: int, celsius: Fraction | None) -> Purpose:
    begins, ends = _sentence(tokens, first, end)
    turn = _turn(tokens, begins, first)
    described = _described(tokens, end, ends)
    if described is not None and _may_be(described, celsius):
        return described
    if turn is not None:
        return _until(tokens, begins, turn, first, celsius) or Purpose.CORE
    clause = _clause(tokens, begins, first)
    told = (
        _nearest(tokens, range(first - 1, clause - 1, -1), celsius)
        or _nearest(tokens, range(end, ends), celsius)
        or _nearest(tokens, range(clause - 1, begins - 1, -1), celsius)
        or _weak(tokens, begins, first, celsius)
        or _nearest(
            tokens, range(begins - 1, _sentence(tokens, max(begins - 2, 0), begins)[0] - 1, -1), celsius
        )
    )
    return told or Purpose.OTHER


def _sentence(tokens: Tokens, first: int, end: int) -> tuple[int, int]:
    """Where the sentence around a stretch of tokens begins and ends."""
    begins, ends = first, end
    while begins > 0 and not tokens.is_stop(begins - 1):
        begins -= 1
    while ends < len(tokens) and not tokens.is_stop(ends):
        ends += 1
    return begins, ends


def _clause(tokens: Tokens, begins: int, first: int) -> int:
    """Where the clause before a place begins: behind ", then" or ", and" with what follows."""
    for place in range(first - 1, begins, -1):
        if tokens[place].low == "then" or (tokens[place].text == "," and tokens[place + 1].low == "and"):
            return place
    return begins


def _turn(tokens: Tokens, begins: int, first: int) -> int | None:
    """The "until" before a place, of its sentence, unless a comma and a verb of its own come between."""
    for place in range(first - 1, begins - 1, -1):
        if tokens[place].low in words_of("until"):
            return place
        if tokens[place].low == "then" or tokens[place].text == ";":
            return None
        if tokens[place].text == "," and tokens[place + 1].low in _all_verbs():
            return None
    return None


@cache
def _all_verbs() -> frozenset[str]:
    return frozenset(purposes_of("heat verb")) | words_of("cooking verb") | words_of("time verb")


def _described(tokens: Tokens, end: int, ends: int) -> Purpose | None:
    """What the words just behind a temperature say: "oven", "oil", "in the middle", "inside"."""
    places = purposes_of("heat place")
    place = end
    if tokens[place].text == "," or tokens[place].low in {"or", "and"}:
        return None
    if tokens[place].low in _IN and tokens[place].low != "inside":
        place += 1
        while tokens[place].low in {"the", "a", "an", "its", "your"}:
            place += 1
    for at in range(place, min(place + 3, ends)):
        word = tokens[at].low
        if word in places:
            return places[word]
        if word in words_of("stop") or not word.isalpha():
            return None
    return None


def _until(tokens: Tokens, begins: int, turn: int, first: int, celsius: Fraction | None) -> Purpose | None:
    """The purpose in an until-clause from ``turn`` on: its own words, else what the main clause heats."""
    places = purposes_of("heat place")
    inside = [places[tokens[at].low] for at in range(first - 1, turn, -1) if tokens[at].low in places]
    for purpose in inside:
        if _may_be(purpose, celsius):
            return purpose
    main = range(turn - 1, begins - 1, -1)
    if any(tokens[at].low in words_of("cooking verb") for at in main) and _may_be(Purpose.CORE, celsius):
        return Purpose.CORE
    found = [places[tokens[at].low] for at in main if tokens[at].low in places]
    heated = [one for one in found if _may_be(one, celsius) and one not in _HOLDERS]
    return heated[0] if heated else Purpose.CORE if _may_be(Purpose.CORE, celsius) else None


def _weak(tokens: Tokens, begins: int, first: int, celsius: Fraction | None) -> Purpose | None:
    """What a verb that heats anything tells: "cook to" a middle, "cook at" and "turn down to" an oven's setting."""
    weak = purposes_of("heat weak")
    at_heat = tokens[first - 1].low in {"at", "@"}
    for place in range(first - 1, begins - 1, -1):
        purpose = weak.get(tokens[place].low)
        if purpose is None:
            continue
        if purpose is Purpose.OVEN and tokens[place].low in _TO_OR_AT and not at_heat:
            purpose = Purpose.CORE
        if _may_be(purpose, celsius):
            return purpose
    return None


def _nearest(tokens: Tokens, places: Iterable[int], celsius: Fraction | None) -> Purpose | None:
    """The purpose of the first word among ``places`` that uses heat or holds it and may be so hot.

    What is kept or chilled stands in a refrigerator, whatever it is, so that the verb wins over the food's own
    word; and a pan is as hot as what it holds.
    """
    nouns, verbs = purposes_of("heat place"), purposes_of("heat verb")
    found: list[Purpose] = []
    for at in places:
        word = tokens[at].low
        told = (nouns.get(word), None if _no_verb(tokens, at, celsius) else _kept(verbs.get(word), celsius))
        found += [one for one in told if one is not None and _may_be(one, celsius)]
    held = next((one for one in found if one not in _HOLDERS), None)
    if found and found[0] in _HOLDERS and held is not None:
        return held
    keeping = next((one for one in found if one in _WEAK), None)
    return keeping if keeping is not None and found[0] in _KEPT else found[0] if found else None


def _kept(purpose: Purpose | None, celsius: Fraction | None) -> Purpose | None:
    """The purpose that a verb tells; what is kept hot stands in no refrigerator."""
    return Purpose.HOLDING if purpose is Purpose.REFRIGERATOR and _is_hot(celsius) else purpose


def _is_hot(celsius: Fraction | None) -> bool:
    """Whether a heat is one that food may be kept hot at."""
    return celsius is not None and celsius > _COLDEST_ROOM and _may_be(Purpose.HOLDING, celsius)


def _no_verb(tokens: Tokens, at: int, celsius: Fraction | None) -> bool:
    """Whether a verb says nothing of a heat: a frying pan fries nothing; what is stored at 15 °C is in no refrigerator."""
    word = tokens[at].low
    if word == "frying" and tokens[at + 1].low in {"pan", "pans"}:
        return True
    return word in _STORES and celsius is not None and celsius > _COLDEST_ROOM and not _is_hot(celsius)


@cache
def _reach() -> dict[Purpose, list[tuple[Fraction, Fraction]]]:
    """The coldest and hottest a purpose may ever be, in °C; two stretches for what is kept cold or hot."""
    found: dict[Purpose, list[tuple[Fraction, Fraction]]] = {}
    for row in table("temperature_bounds"):
        reach = Fraction(row["least_celsius"]), Fraction(row["most_celsius"])
        found.setdefault(Purpose(row["purpose"]), []).append(reach)
    return found


def _may_be(purpose: Purpose, celsius: Fraction | None) -> bool:
    """Whether a thing can be so hot at all; an unknown heat can be any."""
    if celsius is None or purpose not in _reach():
        return True
    return any(least <= celsius <= most for least, most in _reach()[purpose])
