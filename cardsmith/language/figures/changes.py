"""Whether a number of degrees is a point on a scale, or how far one heat lies from another: by its grammar.

    change = spread X                               by, within, ±, give or take, plus or minus
           | further X                              another, a further, an extra
           | ("up" | "down" | "back" | "off") X     turn it down 25 °F; but "down to" leads to a point
           | mover [noun phrase] X                  the roast climbs 5 °C, lower the oven 25 °F
           | adder X [("off" | "to" | "from" | "for" …)]          take 2 °F off, add 5 °C for glass
           | X comparative | X ("off" | "out" | "per" | "short" | "hot" | "cold")
           | X side heat                            below 60 °C, above the target, short of that
           | noun "of" X | X "of" noun | article X noun           a rise of 5 °C, a 5 °C rise

Any other preposition governs a point, and so does "between" behind what swings or varies; a mover farther off
doesn't count: "lower the eggs into 82 °C water", "reduce the sauce at 90 °C". Between X and what governs it
stand only hedges, and nothing moves by less than nothing.

>>> def tells(*texts):
...     return [is_change_in(text) for text in texts]
>>> tells("Ease the oven down 25 °F.", "Ease it down to 325 °F.", "It sinks by 5 °C.", "It sinks to 5 °C.")
[True, False, True, False]
>>> tells("Warm it by no more than 5 °C.", "Stop 1 °C sooner.", "Hold it at no more than 8 °C.")
[True, True, False]
>>> tells("It swings between −5 and 2 °C.", "It swings by 2 °C.", "Stop 3 C short of the temperature.")
[False, True, True]
>>> tells("Stop 5 °C short of 60 °C.", "At 180 °C lower shelves brown.", "Lower the eggs into 82 °C water.")
[True, False, False]
"""

from __future__ import annotations

from fractions import Fraction

from cardsmith.language.figures.numbers import number_at
from cardsmith.language.figures.unit_words import scale_at
from cardsmith.language.noun_phrases import phrase_at
from cardsmith.language.tokens import SLASHES, TokenKind, Tokens
from cardsmith.language.word_classes import words_of

_SPREADS = frozenset({"by", "within", "±"})
_LED_UP_TO = _SPREADS | {"of", "vary", "varies", "swing", "swings"}  # but "climbs up to" leads to a point
_AROUND = (("give", "or", "take"), ("plus", "or", "minus"))
_SWINGING = frozenset("swing swings swinging vary varies varying moves wander wanders goes".split())
_BEYOND = frozenset({"past", "beyond", "through"})
_FURTHER = frozenset({"another", "extra", "further", "additional", "plus", "every", "each"})
_PARTICLES = frozenset({"up", "down", "back", "off"})
_ADDERS = frozenset({"take", "add", "subtract", "deduct"})
_ADDED = frozenset({"off", "to", "from", "for", "per", "every", "if", "when", "in"})
_HEDGES = words_of("hedge")
_ARTICLES = frozenset({"a", "an", "the", "this", "that"})
_NAMED = frozenset({"the", "your", "its", "their", "it", "them", "then", "again", "slightly"})
COMPARATIVES = frozenset("lower higher hotter cooler warmer colder less more sooner earlier later".split())
BEHIND = frozenset("difference swing off per out hot cold short shy away".split())
_EITHER = frozenset("off out hot cold per short".split())  # "to 82 °C off the heat"
_SIDES = frozenset({"below", "above", "under", "over"})
_TARGETS = frozenset("target boiling what where whatever wherever".split())
_DEFINITE = frozenset("the your its that".split())
# What a heat may lie above or below; "350 °F under the lid" lies in a place.
_TARGET_NOUNS = _TARGETS | frozenset(
    "oven ovens temperature setting point recipe dial usual normal recommended stated given final thermostat "
    "figure heat fat smoke safe mark reading".split()
)
_STAGES = frozenset(
    {"stage", "ball", "crack", "soft-ball", "hard-ball", "firm-ball", "soft-crack", "hard-crack"}
)
_FAR = 120  # degrees; nobody turns an oven by so much at once (common practice, no source)
_SMALL = 30  # degrees; "a 26 °C rise" is where dough stands (common practice, no source)
_LONGEST = 6  # tokens between a verb and how far it moves a heat


def is_change(tokens: Tokens, at: int, end: int, value: Fraction) -> bool:
    """Whether the degrees from token ``at`` up to ``end``, from ``value`` on, are a difference."""
    end = _past_again(tokens, end)
    governor = _governor(tokens, at)
    led = tokens[governor].low in {"to", "at"} and governor == at - 1
    return (
        _is_compared(tokens, end, led=led)
        or _is_off_a_heat(tokens, end)
        or (tokens[end].low == "from" and tokens[at - 1].low in _PARTICLES)
        or _is_of_a_change(tokens, at, end, value)
        or _is_governed(tokens, at, end, governor, value)
    )


def _past_again(tokens: Tokens, end: int) -> int:
    """Where what says a heat again ends: "2 °C (4 °F)", "2 °F/1 °C"."""
    past = _past_heat(tokens, end + 1) if tokens[end].text in SLASHES else None
    return past or tokens.past_bracket(end)


def _past_heat(tokens: Tokens, at: int) -> int | None:
    """Where a heat with its scale ends that begins at token ``at``."""
    number = number_at(tokens, at)
    unit_found = scale_at(tokens, number.end) if number is not None else None
    return unit_found.end if unit_found is not None else None


# --- before it --------------------------------------------------------------------------------------------


def _governor(tokens: Tokens, at: int) -> int:
    """The token that governs a number, hedges left out: "by" of "by as much as", "by up to"."""
    place = at - 1
    while place >= 0:
        upto = tokens.words(place - 1, "up", "to")
        at_most = tokens.words(place - 1, "at", "most") and tokens[place - 2].low in _SPREADS
        if at_most or (upto and tokens[place - 2].low in _LED_UP_TO):
            place -= 2
        elif tokens[place].low in _HEDGES:
            place -= 1
        else:
            break
    return place


def _is_governed(tokens: Tokens, at: int, end: int, governor: int, value: Fraction) -> bool:
    """Whether the words before a number make it how far a heat moves or lies off."""
    word = tokens[governor].low
    if word in _SPREADS or any(tokens.words(governor - 2, *words) for words in _AROUND):
        return True
    if word == "of":
        return tokens[governor - 1].low in words_of("change noun") | words_of("change verb")
    if value >= _FAR:
        return False
    if word in _FURTHER or (word in _PARTICLES and not phrase_at(tokens, end).words):
        return True
    if word in _ADDERS:
        whole = word != "take" and not phrase_at(tokens, end).words  # "add 38 °C milk"
        return tokens[end].low in _ADDED or whole
    if tokens[at].low == "between" and tokens[governor].low in _SWINGING:
        return False  # a refrigerator that swings between 1 and 5 °C
    return value >= 0 and tokens[at - 1].low not in _NAMED - {"it", "them"} and _is_moved(tokens, governor)


def _is_moved(tokens: Tokens, governor: int) -> bool:
    """Whether a verb that moves a heat, with what it moves, ends at token ``governor``."""
    for place in range(governor, max(governor - _LONGEST, -1), -1):
        word = tokens[place].low
        if word in words_of("change verb"):
            return True
        if tokens[place].kind is not TokenKind.WORD or word in _BEYOND:
            return False
        raised = word == "of" and tokens[place - 1].low == "temperature"  # of the oil
        if word in words_of("stop") and not raised and word not in _NAMED | _PARTICLES | _FURTHER | _HEDGES:
            return False
    return False


# --- behind it --------------------------------------------------------------------------------------------


def _is_compared(tokens: Tokens, end: int, *, led: bool) -> bool:
    """``25 °F lower``, ``10 °C out``; ``led`` says that "to" or "at" stands before the number."""
    after = tokens[end].low
    if after in COMPARATIVES:
        if tokens[end + 1].low == "than":
            return not (after in {"less", "more"} and tokens[end + 2].is_number)
        return not led or (after not in {"less", "more"} and not phrase_at(tokens, end + 1).words)
    if after not in BEHIND or tokens.words(end, "off", "the", "heat") or (led and after in _EITHER):
        return False
    if after == "away":
        return tokens[end + 1].low == "from"
    return after not in {"hot", "cold"} or not phrase_at(tokens, end + 1).words  # a 220 °C hot oven


def _is_off_a_heat(tokens: Tokens, end: int) -> bool:
    """Whether words say what a difference lies above or below: "the target", 60 °C; a lid is a place."""
    if tokens.words(end, "short", "of") or tokens.words(end, "shy", "of"):
        return True
    if tokens[end].low not in _SIDES:
        return False
    if _past_heat(tokens, end + 1) is not None:
        return True
    if any(tokens[place].low in _STAGES for place in range(end + 1, end + 5)):
        return True
    determined = tokens[end + 1].low in _DEFINITE
    noun = tokens[end + 1 + determined]
    if tokens[end + 1].low == "that" and noun.kind is not TokenKind.WORD:
        return True
    return noun.low in (_TARGET_NOUNS if determined else _TARGETS)


def _is_of_a_change(tokens: Tokens, at: int, end: int, value: Fraction) -> bool:
    """``3 °C of carryover``, ``2 °C of further rise``, ``a 10 °F rise``."""
    nouns = words_of("change noun")
    if tokens[end].low == "of":
        return tokens[end + 1 + (tokens[end + 1].low in _FURTHER)].low in nouns
    behind = tokens[end].low in nouns and tokens[end + 1].low not in _DEFINITE
    return behind and tokens[at - 1].low in _ARTICLES and value < _SMALL
