"""A number whose unit of time the text has just said: "20 minutes, then 10 more", "8 minutes instead of 5".

    elided = number ("more" | "longer") | "another" number        a further time, if nothing is counted before
           | number ("in all" | "in total" | "altogether")        5 minutes a side, 10 in all
           | "every" number | time-verb number "."                turning every 5 · then rest 10.
           | ("after" | "within") ["a" "further"] number          30 minutes, turning it after 20
           | preposition ["a" "further"] number                   that of the time before: "for"
           | ("and" | "or" | "then" ["another"] | ",") number preposition       that of the time before
           | ("instead of" | "rather than" | "not") number        another time
           | ("and" | "or" | "but" | ",") bound number            at least 2 hours and no more than 24
           | ("in" | "for" | "during") "the first" number         of the time before
           | unit "or" number                                     every day or two
           | "the next day" … "for" number                        better the next day and keeps for 3
           | ("For" | "If") … "," number "."                      behind "For a soft one, bake 12 minutes."
           | ("plus" | "+") number | lasting "for" number         15 minutes to the pound, plus 20
           | joint number bound                                   8 hours at least, 24 tops
           | ("(" | ",") number preposition (height | "that")     10 minutes (15 above 1,000 feet)
           | (mark | joint) number ("is" | "will" …)              10 minutes at least; 20 is better

The number is at most four times the one before, and at least a quarter: in "20 minutes instead of 160"
it is no time. The other end of a time may be any.

>>> def kinds(*texts):
...     return [str(found.kind) if (found := elided_in(text)) else None for text in texts]
>>> kinds("Bake 20 minutes, then 20 to 25 more.", "Mix 5 minutes on first speed and 3 on second.")
['duration', 'duration']
>>> kinds("Steam for 8 minutes instead of 5.", "Cook 2 hours, and up to 4.")
['count', 'duration']
>>> kinds("Bake for 40 minutes. Leave the door shut for the first 25.")
['count']
>>> kinds("Bake for 30 minutes, turning the tin after 20.", "Cook on low for 8 hours or on high for 4.")
['duration', 'duration']
>>> kinds("Fry 5 minutes on one side, then another 4 on the other.", "Leave it 10 minutes; 20 is better.")
['duration', 'count']
>>> kinds("Roast 15 minutes to the pound, plus 20.", "Best within 48 hours, though it holds for 72.")
['duration', 'duration']
>>> kinds("Chill for at least 2 hours and no more than 24.", "Boil 8 minutes, enough for 4.")
['duration', None]
>>> kinds("Bake 20 minutes, then another 5.", "Chill it 8 hours, 24 tops.", "Rest 10 minutes + 35 in it.")
['duration', 'duration', 'duration']
>>> kinds("Bake 20 minutes, then 180 more.", "Stir 5 minutes, add 4 more.", "Bake 20 minutes, then 10.")
[None, None, None]
>>> kinds("Fry 4 cakes for 3 minutes, then another 4.", "Beat 5 minutes, then add another 4.")
[None, None]
"""

from __future__ import annotations

from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.figures.bounds import bound_after, bound_behind
from cardsmith.language.figures.numbers import Form, Number, number_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.noun_phrases import is_plural, phrase_at
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import DASHES, Tokens
from cardsmith.language.word_classes import words_of
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension, System, Unit

_FARTHEST = 40  # tokens; so that time grows with the length of a text
_MOST_TIMES = 4  # times of one dish that differ by more are no pair (common practice, no source)
_JOINTS = frozenset({"and", "or", "then", "but", ",", ";"})
_PREPOSITIONS = frozenset({"on", "for", "at", "if", "with", "without", "from", "in", "uncovered", "covered"})
_FURTHER = frozenset({"more", "longer"})
_ADDING = frozenset({"plus", "+"})
_HEIGHTS = frozenset({"from", "at", "above", "over", "below", "under", "between"})
_HIGH = Fraction(150_000)  # mm; a length from here on is one above the sea
_IN_ALL = (("in", "all"), ("in", "total"), ("total",), ("altogether",))
_BEFORE_MORE = frozenset("then for another about and or , within ( to it them everything".split())
_WITHIN = frozenset({"in", "for", "during", "over"})
_LASTS = frozenset("hold holds keep keeps last lasts".split())
_VERBS = frozenset("is are will would does makes gives".split())
_ENDS = frozenset({"first", "last", "final"})
_OF_TIME = frozenset({"after", "within"})
_SHARED = "for"  # of a time where the one before has it too
_ADDED = frozenset({"a", "further", "additional", "extra"})
_CONTRASTS = {"of": ("instead",), "than": ("rather",)}
_FOR = frozenset({"for", "if", "with"})
_SPELL = frozenset({"second", "minute", "hour", "day", "week", "fortnight", "month", "night", "year"})
_FOLLOWING = frozenset({"next", "following", "second", "same"})


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
    first, end = number.first, last.end
    if tokens[first - 1].low == "or" and tokens[first - 2].low in _SPELL:
        return TokenReading(first, end, Kind.COUNT, low=number.value, high=last.value)
    time = _time_before(tokens, first)
    every = tokens[first - 1].low == "every" and not phrase_at(tokens, end).words
    near = time is not None and time.value / _MOST_TIMES <= last.value <= time.value * _MOST_TIMES
    other_end = time is not None and _is_other_end(tokens, time.end, first)
    if time is None or not (near or every or other_end):
        return None
    said = (
        every
        or other_end
        or _is_further(tokens, first, end)
        or _is_parallel(tokens, time.end, first, end)
        or _is_of_time(tokens, time.end, first, end)
        or _is_bounded(tokens, first, end)
        or _is_higher_up(tokens, first, end)
    )
    if not time.stops and said:
        return TokenReading(first, end, Kind.DURATION, sides=(_of_unit(tokens, time, number, last),))
    alone = not phrase_at(tokens, end).words
    other = _is_subject(tokens, first, end) or (not time.stops and _is_other(tokens, time.end, first))
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
        if (
            found.unit.name == "day"
            and tokens[place - 1].low in _FOLLOWING
            and tokens[first - 1].low == "for"
        ):
            return _Time(Fraction(1), found.unit, found.end, stops)
        number = number_at(tokens, place - 1 - (tokens[place - 1].text in DASHES))
        if number is not None and number.value and number.form is not Form.ARTICLE:
            return _Time(number.value, found.unit, found.end, stops)
    return None


def _is_further(tokens: Tokens, first: int, end: int) -> bool:
    """``then 20 to 25 more``, ``another 5``; but "stir in 4 more" counts what goes in."""
    if any(tokens.words(end, *words) for words in _IN_ALL):
        return True  # "5 minutes a side, 10 in all"
    before = tokens[bound_behind(tokens, first, limit=False)[1] - 1].low
    if tokens[first - 1].low in words_of("time verb") and tokens.is_stop(end):
        return True  # "simmer 20 minutes, then rest 10."
    after = end + (tokens[end].low in _FURTHER)
    if phrase_at(tokens, after).words:
        return False
    if "another" in (tokens[first - 1].low, tokens[first - 2].low):
        return _may_follow(tokens, first) and not _counts_before(tokens, first)
    return before in _ADDING or (after > end and _may_follow(tokens, first))


def _may_follow(tokens: Tokens, first: int) -> bool:
    """Whether a further time may stand here: behind a joint, a verb that takes time, or what it cooks."""
    place = bound_behind(tokens, first, limit=False)[1] - 1
    return tokens[place].low in _BEFORE_MORE | words_of("time verb") | words_of("cooking verb")


def _counts_before(tokens: Tokens, first: int) -> bool:
    """Whether the sentence counts something before, of which "another 4" may be more."""
    for place in range(first - 1, max(-1, first - _FARTHEST), -1):
        if tokens.is_stop(place):
            return False
        number = number_at(tokens, place) if tokens[place].is_number else None
        if number is not None and is_plural(tokens[number.end].low) and unit_at(tokens, number.end) is None:
            return True
    return False


def _is_bounded(tokens: Tokens, first: int, end: int) -> bool:
    """``, 24 tops``: the other end, its bound behind it."""
    bound, past = bound_after(tokens, end)
    closed = tokens.is_stop(past) or tokens[past].text in {",", ")"}
    return bound is not Bound.EXACTLY and closed and tokens[first - 1].low in _JOINTS


def _is_higher_up(tokens: Tokens, first: int, end: int) -> bool:
    """``(15 from 1,001 to 6,000 ft, 20 above that)``: the time of a kitchen at another height."""
    if tokens[first - 1].text not in {"(", ","} or tokens[end].low not in _HEIGHTS:
        return False
    if tokens[end + 1].low in {"that", "this"}:
        return True
    found = amount_at(tokens, end, System.US) or amount_at(tokens, end + 1, System.US)
    height = found.quantity if found is not None else None
    return height is not None and height.dimension is Dimension.LENGTH and height.high >= _HIGH


def _is_parallel(tokens: Tokens, behind: int, first: int, end: int) -> bool:
    """``5 minutes on first speed and 3 on second``, ``6 minutes for rare, 8 for medium``."""
    preposition = tokens[end].low
    before = first - 1 - (tokens[first - 1].low == "another" and tokens[first - 2].low == "then")
    if tokens[before].low not in _JOINTS or preposition not in _PREPOSITIONS:
        return False
    shared = tokens[end + 1].low in {"each", "every"} or tokens[end + 1].is_number
    return not shared and any(tokens[place].low == preposition for place in range(behind, first - 1))


def _is_of_time(tokens: Tokens, behind: int, first: int, end: int) -> bool:
    """``turning it after 20``, ``within a further 4``, ``low for 8 hours or high for 4``."""
    place = bound_behind(tokens, first, limit=False)[1] - 1
    while tokens[place].low in _ADDED:
        place -= 1
    word = tokens[place].low
    begins = next((at + 1 for at in range(behind - 1, -1, -1) if tokens.is_stop(at)), 0)
    shared = word == _SHARED and (
        any(tokens[at].low == word for at in range(begins, behind))
        or tokens[behind - 2].low in _FOLLOWING
        or any(tokens.words(at, "of", "which") for at in range(behind, place))
        or tokens[place - 1].low in _LASTS | words_of("time verb")
    )
    return (word in _OF_TIME or shared) and not phrase_at(tokens, end).words


def _is_other(tokens: Tokens, behind: int, first: int) -> bool:
    """``instead of 5``, ``and up to 4``, with no other number between."""
    if any(tokens[place].is_number for place in range(behind, first)):
        return False
    before = tokens[first - 1].low
    contrast = tokens[first - 2].low in _CONTRASTS.get(before, ()) or before == "not"
    bound, place = bound_behind(tokens, first, limit=False)
    return contrast or (bound is not Bound.EXACTLY and tokens[place - 1].low in _JOINTS)


def _is_subject(tokens: Tokens, first: int, end: int) -> bool:
    """``10 minutes at least; 20 is better``, where a clause begins with the number."""
    before = tokens[first - 1]
    begins = tokens.is_stop(first - 1) or before.text in _JOINTS or before.low == "though"
    return begins and tokens[end].low in _VERBS


def _is_other_end(tokens: Tokens, behind: int, first: int) -> bool:
    """``at least 2 hours and no more than 24``: right behind the time, its other end."""
    bound, place = bound_behind(tokens, first, limit=False)
    comma = tokens[place - 2].text == ","
    return bound is Bound.AT_MOST and place - 1 - comma == behind and tokens[place - 1].low in _JOINTS


def _is_end_of_it(tokens: Tokens, first: int) -> bool:
    """``in the first 25``: of the time before."""
    said = tokens[first - 1].low in _ENDS and tokens[first - 2].low == "the"
    return said and tokens[first - 3].low in _WITHIN


def _is_of_another(tokens: Tokens, first: int, end: int) -> bool:
    """``For a soft one, bake 12 minutes. For a crisp one, 15.``"""
    begins = next((place + 1 for place in range(first - 1, -1, -1) if tokens.is_stop(place)), 0)
    return tokens[begins].low in _FOR and tokens[first - 1].text == "," and tokens.is_stop(end)
