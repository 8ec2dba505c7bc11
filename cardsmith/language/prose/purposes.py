"""What a temperature is for: by the clause it stands in, never by nearness alone.

    1. what it describes or stands in: "a 350 °F oven", "at 4 °C in the refrigerator", "63 °C inside"
    2. in an until-clause: what that clause speaks of; a thermometer without a place reads what is cooked,
       or what the main clause heats ("Heat the oil until it reaches 180 °C")
    3. else the nearest word before it, in its clause, that uses heat or holds it
    4. else the nearest one after it, hours at a high heat, or the sentence before

A word whose temperatures never come near the one written is passed over for one whose do. Common practice, no
source, but for the table of bounds.

>>> purpose_in("Put the dish in a 350 °F oven.", "350 °F", 177)
<Purpose.OVEN: 'oven'>
>>> purpose_in("Fry until a thermometer in the middle reads 165 °F.", "165 °F", 74)
<Purpose.CORE: 'core'>
>>> purpose_in("Heat the oil in a deep pan to 180 °C.", "180 °C", 180)
<Purpose.FAT: 'fat'>
>>> purpose_in("Reheat to 74 °C and hold at 60 °C.", "74 °C", 74)
<Purpose.CORE: 'core'>
>>> purpose_in("Then 2 hours at 150 °C.", "150 °C", 150)
<Purpose.OVEN: 'oven'>
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import cache

from cardsmith.language.figures.bounds import bound_behind
from cardsmith.language.figures.unit_words import scale_at, unit_at
from cardsmith.language.prose.heat_words import CHILLERS, may_be, of_noun, of_verb, of_word, sentence_around
from cardsmith.language.spans import Purpose
from cardsmith.language.tokens import Tokens
from cardsmith.language.word_classes import purposes_of, words_of
from cardsmith.measure.units import Dimension

_IN = frozenset({"in", "inside", "of", "on", "into"})
_COOLEST_OVEN = Fraction(90)  # °C; of an oven that is not named (temperature_bounds.csv, usual)
_BOILING_WATER = Fraction(100)  # °C
_SPOKEN_OF = frozenset({Purpose.CHOCOLATE, Purpose.MILK, Purpose.CUSTARD, Purpose.SYRUP, Purpose.FAT,
                        Purpose.DOUGH, Purpose.WATER})  # fmt: skip
_AROUND = frozenset({Purpose.OVEN, Purpose.SMOKER, Purpose.FAT, Purpose.GRILL, Purpose.BATH})  # cook food
_KEPT = frozenset({Purpose.DOUGH, Purpose.MILK, Purpose.CORE, Purpose.WATER, Purpose.CUSTARD})
_COOLED = frozenset({"cool", "cools", "cooled"})
_COOLED_FIRST = Fraction(22)  # °C; hotter is no limit of cooling (FDA Food Code 3-501.14: 70 °F)
_COOLING = _COOLED | {"chill", "chilled"}  # "cool the syrup to 40 °C"
_HELD_HOT = Fraction(54)  # °C; the coldest that food is ever kept hot (temperature_bounds.csv, least)
_TO_OR_AT = frozenset({"cook", "braise", "stew", "reheat", "reheated", "rewarm", "rewarmed", "warm"})
_HOLDERS = frozenset({Purpose.PAN, Purpose.GRILL})
_STONES = frozenset({"stone", "steel", "pizza"})  # in ovens that are built for it
_JOINTS = frozenset({"at", "to", "@", "of", "is", "reads", "reach", "reaches"})
_PARTS = frozenset(",;:(")
_AND_NOW = frozenset({"and", "then", "or", ",", ";"})
_DIAL = 6  # tokens behind a temperature in which its fan or gas mark stands
_WEAK = frozenset({Purpose.REFRIGERATOR, Purpose.FREEZER, Purpose.HOLDING})


def purpose_of(
    tokens: Tokens, first: int, end: int, celsius: Fraction | None = None, *, change: bool = False
) -> Purpose:
    """The purpose of the temperature that stands in the tokens from ``first`` up to ``end``.

    ``celsius`` is None where the scale is unknown. A ``change`` is a number of degrees more or less, of what
    the sentence, or the one before, speaks of. `Purpose.OTHER` where nothing tells.
    """
    if change:
        begins, ends = sentence_around(tokens, first, end)
        earlier = sentence_around(tokens, max(begins - 2, 0), begins)[0]
        return (
            _nearest(tokens, range(first - 1, begins - 1, -1), None, change=True)
            or _nearest(tokens, range(end, ends), None, change=True)
            or _nearest(tokens, range(begins - 1, earlier - 1, -1), None, change=True)
            or _weak(tokens, begins, first, None)
            or (Purpose.OTHER if _turn(tokens, begins, first) is None else Purpose.CORE)
        )
    if _on_a_dial(tokens, first, end):
        return Purpose.OVEN
    purpose = _purpose(tokens, first, end, celsius)
    cool = celsius is not None and celsius < _COOLEST_OVEN
    if purpose is Purpose.OVEN and cool and _is_inside(tokens, first):
        return Purpose.CORE
    by_a_pan = purpose in _HOLDERS and celsius is not None and _STONES.isdisjoint(tokens.low)
    if by_a_pan and _outright(tokens, first, end) is Purpose.OVEN:
        return Purpose.OVEN  # "heat the oven to 400 °C and line a pan": no oven is so hot, and nor is the pan
    if purpose is not Purpose.OTHER or celsius is None:
        return purpose
    said = _outright(tokens, first, end)
    return Purpose.OTHER if said is Purpose.HOLDING and celsius > _COOLED_FIRST else said


def _is_inside(tokens: Tokens, first: int) -> bool:
    """Whether food is so hot inside, whatever it stands in: warmed again to that, or taken out at it.

    "Reheat in the oven to 74 °C", "pull the joint from the oven at 145 °F".
    """
    said = tokens.low[sentence_around(tokens, first, first)[0] : first]
    word = tokens[bound_behind(tokens, first, limit=True)[1] - 1].low
    out = next((at for at, verb in enumerate(said) if verb in _TAKES_OUT), len(said))
    taken = word == "at" and not {"from", "of"}.isdisjoint(said[out:])
    return taken or (word == "to" and not _AGAIN.isdisjoint(said))


_TAKES_OUT = frozenset(
    {"pull", "take", "lift", "remove", "pulled", "taken", "lifted", "removed", "comes", "come"}
)
_AGAIN = frozenset({"reheat", "reheated", "rewarm", "rewarmed"})


def _on_a_dial(tokens: Tokens, first: int, end: int) -> bool:
    """Whether what is said of it is said of no thing but an oven: "170 °C (150 °C fan), gas mark 3"."""
    for at in range(first, end + _DIAL):
        if at >= end and tokens.is_stop(at):
            return False
        if tokens[at].low == "fan" or tokens.words(at, "gas", "mark"):
            return True
    return False


def _outright(tokens: Tokens, first: int, end: int) -> Purpose:
    """What the words at the temperature say it is for, though no such thing can be so hot.

    That is a finding. A word farther off speaks of something else: "it should be 12 °C; bake it later".
    """
    begins, ends = sentence_around(tokens, first, end)
    turn = _turn(tokens, begins, first)
    is_said = _described(tokens, end, ends) is not None
    if turn is not None:
        is_said = is_said or any(tokens[at].low in purposes_of("heat place") for at in range(turn, first))
        is_said = is_said or any(of_noun(tokens, at) in _SPOKEN_OF for at in range(begins, turn))
    elif not is_said and tokens[bound_behind(tokens, first, limit=True)[1] - 1].low in _JOINTS:
        clause = next((at for at in range(first - 1, begins, -1) if tokens[at].text in _PARTS), begins)
        is_said = any(tokens[at].low in _of_heat() for at in range(clause, first))
        nouns = {of_noun(tokens, at) for at in range(clause, first)} - {None}
        cooling = words_of("change verb") | (_COOLING if nouns else frozenset())
        if nouns <= _SPOKEN_OF and any(tokens[at].low in cooling for at in range(clause, first)):
            is_said = False
    return _purpose(tokens, first, end, None) if is_said else Purpose.OTHER


@cache
def _of_heat() -> frozenset[str]:
    words = frozenset(word for sort in ("place", "verb", "weak") for word in purposes_of(f"heat {sort}"))
    return words - {"warm"}  # to whatever heat


def _purpose(tokens: Tokens, first: int, end: int, celsius: Fraction | None) -> Purpose:
    """What the words of the sentence say it is for: those at it, before it, behind it, the nearest first."""
    begins, ends = sentence_around(tokens, first, end)
    turn = _turn(tokens, begins, first)
    described = _described(tokens, end, ends)
    if described is not None and may_be(described, celsius):
        return described
    if turn is not None:
        return _until(tokens, begins, turn, first, celsius)
    clause = _clause(tokens, begins, first)
    purpose = (
        _nearest(
            tokens, range(first - 1, clause - 1, -1), celsius, at_heat=tokens[first - 1].low in {"at", "@"}
        )
        or _nearest(tokens, range(end, _own_end(tokens, end, ends)), celsius)
        or _nearest(tokens, range(clause - 1, begins - 1, -1), celsius)
        or _weak(tokens, begins, first, celsius)
        or _timed(tokens, first, celsius, "hour")
        or _earlier(tokens, begins, first, celsius)
        or _timed(tokens, first, celsius, "minute")
    )
    if purpose is Purpose.REFRIGERATOR and _is_cooled_to(tokens, begins, first, ends):
        return Purpose.HOLDING
    return purpose or Purpose.OTHER


def _earlier(tokens: Tokens, begins: int, first: int, celsius: Fraction | None) -> Purpose | None:
    """What the sentence before speaks of; food that is to cool is no longer as hot as its pan."""
    earlier = sentence_around(tokens, max(begins - 2, 0), begins)[0]
    purpose = _nearest(tokens, range(begins - 1, earlier - 1, -1), celsius)
    cooled = any(tokens[at].low in _COOLING for at in range(begins, first))
    return None if purpose in _HOLDERS and cooled else purpose


def _own_end(tokens: Tokens, end: int, ends: int) -> int:
    """Where another verb with a heat of its own begins: "reheat to 74 °C and hold at 60 °C"."""
    heat = next((at for at in range(end, ends) if tokens[at].is_number and scale_at(tokens, at + 1)), ends)
    if heat == ends:
        return ends
    verbs = (at for at in range(heat - 1, end - 1, -1) if tokens[at].low in _all_verbs())
    return next((at for at in verbs if tokens[at - 1].low in _AND_NOW), ends)


def _timed(tokens: Tokens, first: int, celsius: Fraction | None, unit: str) -> Purpose | None:
    """An oven's setting where nothing but a time is said: "then 2 hours at 170"."""
    lasting = _timed_before(tokens, first) == unit
    return Purpose.OVEN if lasting and (celsius is None or celsius >= _COOLEST_OVEN) else None


def _timed_before(tokens: Tokens, first: int) -> str | None:
    """The unit of the time that stands with "at" before a heat: "50 minutes at 150"."""
    at_heat = tokens[first - 1].low in {"at", "@"}
    unit_found = unit_at(tokens, first - 2 - (tokens[first - 2].text == ".")) if at_heat else None
    return (
        unit_found.unit.name
        if unit_found is not None and unit_found.unit.dimension is Dimension.DURATION
        else None
    )


def _is_cooled_to(tokens: Tokens, begins: int, first: int, ends: int) -> bool:
    """Whether a food gets so cold, whatever cools it: "chill to below 5 °C"."""
    place = bound_behind(tokens, first, limit=True)[1] - 1
    return tokens[place].low == "to" and not any(tokens[at].low in CHILLERS for at in range(begins, ends))


def _clause(tokens: Tokens, begins: int, first: int) -> int:
    """Where the clause before a place begins: behind ", then" or ", and" with what follows."""
    for place in range(first - 1, begins, -1):
        if tokens[place].low == "then" or (tokens[place].text == "," and tokens[place + 1].low == "and"):
            return place
    return begins


def _turn(tokens: Tokens, begins: int, first: int) -> int | None:
    """The "until" before a place in its sentence, unless brackets close, or a verb or a time part them."""
    if _timed_before(tokens, first) is not None:
        return None  # "until its middle is 68 °C, 50 minutes at 150 °C"
    for place in range(first - 1, begins - 1, -1):
        if tokens[place].text in {")", "]"}:
            return None
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
    place = end
    if tokens[place].text == "," or tokens[place].low in {"or", "and"}:
        return None
    if tokens[place].low in _IN and tokens[place].low != "inside":
        place += 1
        while tokens[place].low in {"the", "a", "an", "its", "your"}:
            place += 1
    purpose: Purpose | None = None
    for at in range(place, min(place + 3, ends)):
        word = tokens[at].low
        purpose = of_word(tokens, at, "heat place") or purpose  # "water bath": the noun itself stands last
        if word in words_of("stop") or not word.isalpha():
            break
    return purpose


def _until(tokens: Tokens, begins: int, turn: int, first: int, celsius: Fraction | None) -> Purpose:
    """The purpose in an until-clause from ``turn`` on: its own words, else what the main clause heats."""
    inside = (of_noun(tokens, at) for at in range(first - 1, turn, -1))
    for purpose in inside:
        if purpose is not None and may_be(purpose, celsius):
            return purpose
    main = range(turn - 1, begins - 1, -1)
    cooked = any(tokens[at].low in words_of("cooking verb") for at in main)
    if cooked and may_be(Purpose.CORE, celsius):
        return Purpose.CORE
    purposes = [known for at in main if (known := of_noun(tokens, at)) is not None]
    heated = [known for known in purposes if may_be(known, celsius) and not (cooked and known in _HOLDERS)]
    cool = celsius is not None and celsius < _BOILING_WATER
    # the pan last, which is as hot as what it holds; sugar that does not boil is stirred into something
    heated.sort(key=lambda known: (known in _HOLDERS, known is Purpose.SYRUP and cool))
    if heated:
        return heated[0]
    verbs = purposes_of("heat verb") | purposes_of("heat weak")
    chilled = any(verbs.get(tokens[at].low) in {*_WEAK, Purpose.HOLDING} for at in main)
    able = cooked or may_be(Purpose.CORE, celsius)
    if chilled and not able and may_be(Purpose.HOLDING, celsius):
        return Purpose.HOLDING  # "refrigerate until the mixture is 5 °C"
    if not cooked and any(tokens[at].low in _COOLED for at in main):
        able = False  # "let it cool until it reads 46 °C"
    return _spoken_of(tokens, begins, celsius) or (Purpose.CORE if able else Purpose.OTHER)


def _spoken_of(tokens: Tokens, begins: int, celsius: Fraction | None) -> Purpose | None:
    """What the sentence before heats, where this one says "it": "Melt the chocolate; stir until it reads"."""
    earlier = sentence_around(tokens, max(begins - 2, 0), begins)[0]
    for at in range(begins - 1, earlier - 1, -1):
        purpose = of_noun(tokens, at)
        if purpose in {*_SPOKEN_OF, Purpose.CORE} and may_be(purpose, celsius):
            return purpose
    return None


def _weak(tokens: Tokens, begins: int, first: int, celsius: Fraction | None) -> Purpose | None:
    """What a verb that heats anything tells: "cook to" a middle, "cook at" and "turn down to" an oven."""
    weak = purposes_of("heat weak")
    at_heat = tokens[first - 1].low in {"at", "@"}
    for place in range(first - 1, begins - 1, -1):
        purpose = weak.get(tokens[place].low)
        if purpose is None:
            continue
        if purpose is Purpose.OVEN and tokens[place].low in _TO_OR_AT and not at_heat:
            purpose = Purpose.CORE
        word = tokens[place].low
        cooled = celsius is not None and word in _COOLED and tokens[first - 1].low == "to"
        if celsius is not None and cooled and celsius > _COOLED_FIRST:
            return None
        if celsius is not None and word == "warm" and celsius < _HELD_HOT:
            return None  # milk for yeast, a plate: no food is done at that
        if may_be(purpose, celsius):
            return purpose
    return None


def _nearest(
    tokens: Tokens,
    places: Iterable[int],
    celsius: Fraction | None,
    *,
    change: bool = False,
    at_heat: bool = False,
) -> Purpose | None:
    """The purpose of the first word among ``places`` that uses heat or holds it and may be so hot.

    What is kept or chilled stands in a refrigerator, whatever it is, so that the verb wins over the food's
    own word; a pan is as hot as what it holds; and food cooked ``at_heat`` stands in what cooks it.
    """
    purposes: list[Purpose] = []
    for at in places:
        for purpose in (of_noun(tokens, at), of_verb(tokens, at, celsius, change=change)):
            if purpose is not None and may_be(purpose, celsius):
                purposes.append(purpose)
    if purposes and purposes[0] is Purpose.CORE and at_heat:
        # "smoke the brisket at 110 °C"
        return next((purpose for purpose in purposes if purpose in _AROUND), purposes[0])
    held = next((purpose for purpose in purposes if purpose not in _HOLDERS), None)
    if purposes and purposes[0] in _HOLDERS and held is not None:
        return held
    keeping = next((purpose for purpose in purposes if purpose in _WEAK), None)
    return keeping if keeping is not None and purposes[0] in _KEPT else purposes[0] if purposes else None
