"""Times of day, and times written with marks: ``7:30 a.m.``, ``5pm``, ``14:00``, ``1:30 h``, ``3′30″``.

    moment = hour ["." | ":" minutes] half | hour ":" minutes | hour ["o'clock"] [day]
           | part ("past" | "to") hour | lasting
    half   = "am" | "pm" | "a.m." | "p.m."
    hour   = ("at" | "by" | "until") hour "." minutes | meal "at" hour
    day    = "in the evening" | "tonight" | "the next morning" …
    lasting = hours ":" minutes "h" | minutes "′" seconds "″"
           | time-verb … minutes ["-" minutes] "′" | minutes "′" "more"

>>> [str(moment_in(text).low / 3600) for text in ("2 pm", "7:30 a.m.", "14:00", "6 o'clock", "half past six")]
['14', '15/2', '14', '6', '13/2']
>>> [str(moment_in(text).low / 3600) for text in ("7 in the evening", "8 the next morning")]
['19', '8']
>>> from cardsmith.language.tokens import tokenize
>>> moment_at(tokenize("at 11.30, with"), 1).low / 3600, moment_at(tokenize("lunch at one"), 2).low / 3600
(Fraction(23, 2), Fraction(13, 1))
>>> moment_at(tokenize("at 11.30 kg"), 1) is None
True
>>> moment_in("1:30 h").quantity.low, moment_in("3′30″").quantity.low, moment_in("20' more").quantity.low
(Fraction(5400, 1), Fraction(210, 1), Fraction(1200, 1))
"""

from __future__ import annotations

from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.language.figures.numbers import Form, Number, number_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import DASHES, ENDS, TokenKind, Tokens
from cardsmith.language.word_classes import words_of
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, units
from cardsmith.reference import table

_HALVES = {"am": 0, "pm": 12}
# The half of the day that words behind an hour tell, in hours.
_DAY = {tuple(row["words"].split()): int(row["hours"]) for row in table("day_halves")}
_LENGTHS = frozenset(map(len, _DAY))
# The hours before noon that a meal moves behind it: "for dinner at 7:30", "lunch at one".
_MEALS = {"breakfast": 0, "lunch": 12, "tea": 12, "dinner": 12, "supper": 12}
_AT = frozenset({"at", "by", "until", "till"})
_NO_CLOCK = frozenset("%°º˚:-–/")
_PRIMES, _SECONDS = frozenset("′'’"), frozenset('″"”')
_LONGER = frozenset({"more", "longer", "extra", "further"})
_FOR = frozenset({"for", "another", "about", "after", "around"})
_NEAR = 8  # tokens between a verb and its time


@frozen(kw_only=False)
class Moment:
    """A time of day in seconds after midnight, a duration, or a proportion, and the tokens it stands in."""

    kind: Kind
    low: Fraction
    high: Fraction
    first: int
    end: int
    quantity: Quantity | None = None  # of a duration


def moment_at(tokens: Tokens, at: int) -> Moment | None:
    """The time of day that begins at token ``at``, or a time or a proportion written with marks."""
    token = tokens[at]
    past = _past(tokens, at)
    if past is not None:
        return past
    number = number_at(tokens, at)
    if token.kind is TokenKind.DIGITS and (primed := _primed(tokens, at)):
        return primed
    if number is None or number.value is None or number.form is Form.ARTICLE:
        return None
    if token.kind is TokenKind.DIGITS:
        primed = _minutes(tokens, at, number)
        if primed is not None:
            return primed
        if tokens[at + 1].text in {":", "."} and tokens[at + 1].glued and tokens[at + 2].glued:
            colon = _colon(tokens, at)
            if colon is not None:
                return colon
    half = _half(tokens, number.end)
    if half is not None and 1 <= number.value <= 12:
        hour = number.value % 12 + half[0]
        return _clock(hour * 3600, at, half[1])
    if number.value.denominator != 1 or not 1 <= number.value <= 12:
        return None
    said = tokens[number.end].low in {"o'clock", "o’clock"}
    day = _day(tokens, number.end + said)
    if day is None and tokens[at - 1].low == "at":
        day = _MEALS.get(tokens[at - 2].low)
    if said or day is not None:
        hour = number.value % 12 + day if day is not None else number.value
        return _clock(hour * 3600, at, number.end + said)
    return None


def _day(tokens: Tokens, at: int) -> int | None:
    """The hours that words such as "in the evening" add to those of a half day; None where none do."""
    runs = (tokens.low[at : at + size] for size in _LENGTHS)
    return next((_DAY[run] for run in runs if run in _DAY), None)


def _of_meal(tokens: Tokens, at: int, hours: int) -> int:
    """The hours that the meal just before a time moves behind noon."""
    near = (_MEALS.get(tokens[place].low, 0) for place in range(max(0, at - 3), at))
    return max(near, default=0) if 1 <= hours < 12 else 0


def _past(tokens: Tokens, at: int) -> Moment | None:
    """``half past six``, ``a quarter to seven``."""
    part = number_at(tokens, at)
    named = part is not None and part.form is Form.WORDS and part.value in {Fraction(1, 2), Fraction(1, 4)}
    if part is None or part.value is None or not named or tokens[part.end].low not in {"past", "to"}:
        return None
    hour = number_at(tokens, part.end + 1)
    if hour is None or hour.value is None or hour.form is Form.ARTICLE or not 1 <= hour.value <= 12:
        return None
    if unit_at(tokens, hour.end) is not None:
        return None  # "half to one kilogram"
    sign = 1 if tokens[part.end].low == "past" else -1
    day = _day(tokens, hour.end)
    base = hour.value if day is None else hour.value % 12 + day
    return _clock((base + sign * part.value) * 3600, at, hour.end)


def _clock(seconds: Fraction, first: int, end: int) -> Moment:
    return Moment(Kind.CLOCK, seconds, seconds, first, end)


def _half(tokens: Tokens, at: int) -> tuple[int, int] | None:
    """``am``, ``p.m.``: what it adds to the hour, and where it ends."""
    word = tokens[at].low
    if word in _HALVES:
        return _HALVES[word], at + 1
    if (
        word in {"a", "p"}
        and tokens[at + 1].text == "."
        and tokens[at + 2].low == "m"
        and tokens[at + 2].glued
    ):
        dotted = tokens[at + 3].text == "." and tokens[at + 3].glued and bool(tokens[at + 4].text)
        return _HALVES[f"{word}m"], at + (4 if dotted else 3)
    return None


def _primed(tokens: Tokens, at: int) -> Moment | None:
    """``3′30″``: minutes and seconds."""
    minutes, prime, seconds, second = (tokens[at + step] for step in range(4))
    if prime.text not in _PRIMES or seconds.kind is not TokenKind.DIGITS or second.text not in _SECONDS:
        return None
    if not (prime.glued and seconds.glued and second.glued):
        return None
    total = Fraction(int(minutes.text) * 60 + int(seconds.text))
    return _lasting(tokens, total, at, at + 4, "minute")


def _minutes(tokens: Tokens, at: int, number: Number) -> Moment | None:
    """``bake 20-25'``, ``20' more``: minutes, and no closing quote, where a time can stand."""
    joint = tokens[number.end]
    high = number_at(tokens, number.end + 1) if joint.text in DASHES and joint.glued else None
    last = high or number
    prime = tokens[last.end]
    if prime.text not in _PRIMES or not prime.glued or number.value is None or last.value is None:
        return None
    if tokens[last.end + 1].glued and tokens[last.end + 1].text not in {*ENDS, ",", ")"}:
        return None
    if any(tokens[place].text in {"‘", "'"} for place in range(max(0, at - 2), at)):
        return None  # a word in quotes
    before = range(at - 1, max(-1, at - 1 - _NEAR), -1)
    lasts = tokens[last.end + 1].low in _LONGER or tokens[at - 1].low in _FOR
    if not lasts and not any(tokens[place].low in words_of("time verb") for place in before):
        return None
    return _lasting(tokens, number.value * 60, at, last.end + 1, "minute", last.value * 60)


def _lasting(
    tokens: Tokens, seconds: Fraction, first: int, end: int, unit: str, most: Fraction | None = None
) -> Moment:
    high = seconds if most is None else most
    written = tokens.between(first, end)
    quantity = Quantity(low=seconds, high=high, unit=units()[unit], written=written)
    return Moment(Kind.DURATION, seconds, high, first, end, quantity)


def _ratio_end(tokens: Tokens, at: int) -> int | None:
    """The token behind the further parts of ``3:2:1``; None where there are none, or two figures each."""
    place = at
    while tokens[place].text == ":" and tokens[place].glued and tokens[place + 1].kind is TokenKind.DIGITS:
        if not tokens[place + 1].glued:
            break
        place += 2
    of_time = all(len(tokens[part].text) == 2 for part in range(at - 1, place, 2))  # 1:30:00
    return None if place == at or of_time else place


def _colon(tokens: Tokens, at: int) -> Moment | None:
    """``14:00``, ``1:30 h``, ``1:4``; a point parts hours and minutes only before "am" and "pm"."""
    first, mark, second = tokens[at], tokens[at + 1], tokens[at + 2]
    if second.kind is not TokenKind.DIGITS or (tokens[at + 3].glued and tokens[at + 3].is_number):
        return None
    hours, minutes = int(first.text), int(second.text)
    if (end := _ratio_end(tokens, at + 3)) is not None and minutes:
        return Moment(Kind.RATIO, Fraction(hours, minutes), Fraction(hours, minutes), at, end)
    of_clock = len(second.text) == 2 and minutes < 60 and hours < 24
    half = _half(tokens, at + 3)
    if of_clock and half is not None:
        return _clock(Fraction((hours % 12 + half[0]) * 3600 + minutes * 60), at, half[1])
    if mark.text != ":":
        after = tokens[at + 3]
        ends = after.kind is not TokenKind.WORD or after.low in words_of("stop")
        if not (of_clock and tokens[at - 1].low in _AT and ends and after.text not in _NO_CLOCK):
            return None
        hours += _of_meal(tokens, at, hours)
        return _clock(Fraction(hours * 3600 + minutes * 60), at, at + 3)
    unit = unit_at(tokens, at + 3)
    if of_clock and unit is not None and unit.unit.dimension is Dimension.DURATION:
        below = {"hour": 60, "minute": 1}.get(unit.unit.name, 60)
        end = unit.end - (unit.dotted and tokens.is_stop(unit.end - 1))
        return _lasting(tokens, Fraction((hours * 60 + minutes) * below), at, end, unit.unit.name)
    if not of_clock and hours and minutes:
        return Moment(Kind.RATIO, Fraction(hours, minutes), Fraction(hours, minutes), at, at + 3)
    if of_clock and at == 0 and tokens[at + 3].kind is not TokenKind.WORD and len(first.text) == 1:
        return Moment(Kind.UNREAD, Fraction(hours), Fraction(minutes), at, at + 3)
    if not of_clock:
        return None
    day = _day(tokens, at + 3)
    noon = _of_meal(tokens, at, hours) if day is None else day if hours < 12 else 0
    return _clock(Fraction((hours + noon) * 3600 + minutes * 60), at, at + 3)
