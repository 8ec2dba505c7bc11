"""A number whose unit of time the text has just said: "20 minutes, then 10 more", "8 minutes instead of 5".

    elided = number "more"                                        a further time
           | number ("in all" | "in total" | "altogether")        5 minutes a side, 10 in all
           | "every" number | time-verb number "."                turning every 5 · then rest 10.
           | ("and" | "or" | "then" | ",") number preposition     the preposition of the time before
           | ("instead of" | "rather than" | "not") number        another time
           | ("and" | "or" | ",") "up to" number
           | ("in" | "for" | "during") "the first" number         of the time before
           | ("For" | "If") … "," number "."                      behind "For a soft one, bake 12 minutes."

The number is at most four times the one before, and at least a quarter: in "20 minutes instead of 160"
it is no time.

>>> def kinds(*texts):
...     return [str(found.kind) if (found := elided_in(text)) else None for text in texts]
>>> kinds("Bake 20 minutes, then 20 to 25 more.", "Mix 5 minutes on first speed and 3 on second.")
['duration', 'duration']
>>> kinds("Steam for 8 minutes instead of 5.", "Cook 2 hours, and up to 4.")
['count', 'count']
>>> kinds("Bake for 40 minutes. Leave the door shut for the first 25.")
['count']
>>> kinds("Bake 20 minutes, then 180 more.", "Stir 5 minutes, add 4 more.", "Bake 20 minutes, then 10.")
[None, None, None]
"""

from __future__ import annotations

from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.language.figures.numbers import Form, Number, number_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.noun_phrases import phrase_at
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import Tokens
from cardsmith.language.word_classes import words_of
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, Unit

_FARTHEST = 40  # tokens; so that time grows with the length of a text
_MOST_TIMES = 4  # times of one dish that differ by more are no pair (common practice, no source)
_JOINTS = frozenset({"and", "or", "then", "but", ",", ";"})
_PREPOSITIONS = frozenset({"on", "for", "at", "if", "with", "without", "from", "in", "uncovered", "covered"})
_FURTHER = frozenset({"more", "longer"})
_IN_ALL = (("in", "all"), ("in", "total"), ("total",), ("altogether",))
_BEFORE_MORE = frozenset({"then", "for", "another", "about", "and", "or", ",", "within", "in", "(", "to"})
_WITHIN = frozenset({"in", "for", "during", "over"})
_ENDS = frozenset({"first", "last", "final"})
_CONTRASTS = {"of": ("instead",), "than": ("rather",)}
_FOR = frozenset({"for", "if", "with"})


@frozen(kw_only=False)
class _Time:
    """A time that stands before a number, with the unit that both share."""

    value: Fraction
    unit: Unit
    end: int  # the token after its unit
    stops: int  # how many sentences end between the two


def elided_time(tokens: Tokens, number: Number, high: Number | None) -> TokenReading | None:
    """A bare number (or a range up to ``high``) whose unit of time the text has said, if it is one."""
    last = high or number
    if number.value is None or last.value is None or number.form is Form.ARTICLE:
        return None
    time = _time_before(tokens, number.first)
    first, end = number.first, last.end
    every = tokens[first - 1].low == "every" and not phrase_at(tokens, end).words
    near = time is not None and time.value / _MOST_TIMES <= last.value <= time.value * _MOST_TIMES
    if time is None or not (near or every):
        return None
    if not time.stops and every:
        return TokenReading(first, end, Kind.DURATION, sides=(_of_unit(tokens, time, number, last),))
    if not time.stops and (_is_further(tokens, first, end) or _is_parallel(tokens, time.end, first, end)):
        return TokenReading(first, end, Kind.DURATION, sides=(_of_unit(tokens, time, number, last),))
    alone = not phrase_at(tokens, end).words
    other = not time.stops and _is_other(tokens, time.end, first)
    if alone and (other or _is_end_of_it(tokens, first) or _is_of_another(tokens, first, end)):
        return TokenReading(first, end, Kind.COUNT, low=number.value, high=last.value)
    return None


def _of_unit(tokens: Tokens, time: _Time, low: Number, high: Number) -> Quantity:
    """The numbers in the unit of the time before."""
    assert low.value is not None  # the caller has looked
    assert high.value is not None
    least, most = time.unit.to_base(low.value), time.unit.to_base(high.value)
    return Quantity(low=least, high=most, unit=time.unit, written=tokens.between(low.first, high.end))


def _time_before(tokens: Tokens, first: int) -> _Time | None:
    """The nearest time before a number, in its own sentence or the one before."""
    stops = 0
    for place in range(first - 1, max(0, first - _FARTHEST), -1):
        stops += tokens.is_stop(place)
        if stops > 1:
            return None
        found = unit_at(tokens, place)
        if found is None or found.unit.dimension is not Dimension.DURATION:
            continue
        number = number_at(tokens, place - 1)
        if number is not None and number.value and number.form is not Form.ARTICLE:
            return _Time(number.value, found.unit, found.end, stops)
    return None


def _is_further(tokens: Tokens, first: int, end: int) -> bool:
    """``then 20 to 25 more``; but "stir in 4 more" counts what goes in."""
    if any(tokens.words(end, *words) for words in _IN_ALL):
        return True  # "5 minutes a side, 10 in all"
    if tokens[first - 1].low in words_of("time verb") and tokens.is_stop(end):
        return True  # "simmer 20 minutes, then rest 10."
    after = end + (tokens[end].low in _FURTHER)
    joined = tokens[first - 1].low in _BEFORE_MORE or tokens[first - 1].low in words_of("time verb")
    return after > end and joined and not phrase_at(tokens, after).words


def _is_parallel(tokens: Tokens, behind: int, first: int, end: int) -> bool:
    """``5 minutes on first speed and 3 on second``, ``6 minutes for rare, 8 for medium``."""
    preposition = tokens[end].low
    if tokens[first - 1].low not in _JOINTS or preposition not in _PREPOSITIONS:
        return False
    shared = tokens[end + 1].low in {"each", "every"} or tokens[end + 1].is_number
    return not shared and any(tokens[place].low == preposition for place in range(behind, first - 1))


def _is_other(tokens: Tokens, behind: int, first: int) -> bool:
    """``instead of 5``, ``and up to 4``, with no other number between."""
    if any(tokens[place].is_number for place in range(behind, first)):
        return False
    before = tokens[first - 1].low
    contrast = tokens[first - 2].low in _CONTRASTS.get(before, ()) or before == "not"
    up_to = tokens.words(first - 2, "up", "to") and tokens[first - 3].low in _JOINTS
    return contrast or up_to


def _is_end_of_it(tokens: Tokens, first: int) -> bool:
    """``in the first 25``: of the time before."""
    said = tokens[first - 1].low in _ENDS and tokens[first - 2].low == "the"
    return said and tokens[first - 3].low in _WITHIN


def _is_of_another(tokens: Tokens, first: int, end: int) -> bool:
    """``For a soft one, bake 12 minutes. For a crisp one, 15.``"""
    begins = next((place + 1 for place in range(first - 1, -1, -1) if tokens.is_stop(place)), 0)
    return tokens[begins].low in _FOR and tokens[first - 1].text == "," and tokens.is_stop(end)
