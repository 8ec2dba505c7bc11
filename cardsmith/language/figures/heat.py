"""Temperatures in text, and differences of two: ``180 °C``, ``350-degree``, ``gas mark 4``, ``25 °F lower``.

    heat       = point | difference | gas
    point      = [sign] number [scale] [joint [sign] number] scale [fan] | fan point
    difference = the same, where its grammar says how far one heat lies from another (changes.py)
    gas        = ("gas" ["mark"] | "GM" | "Reg.") number [joint number]

>>> def told(text):
...     quantity = heat_in(text).quantity
...     return str(quantity.low), str(quantity.high), quantity.unit.name
>>> told("180 °C"), told("−5 to 5 °C"), told("between 40 and 45 °C")
(('180', '180', 'degree Celsius'), ('-5', '5', 'degree Celsius'), ('40', '45', 'degree Celsius'))
>>> heat_in("fan-forced 160 °C").quantity.fan, heat_in("160 °C fan-forced").quantity.fan
(True, True)
>>> told("25 °F lower")[2], told("3 °C of carryover")[2], told("gas mark 4–5")
('degree Fahrenheit (difference)', 'degree Celsius (difference)', ('4', '5', 'gas mark'))
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.language.faults import Fault
from cardsmith.language.figures.amounts import joint_at, reversed_range
from cardsmith.language.figures.changes import BEHIND, COMPARATIVES, is_change
from cardsmith.language.figures.numbers import Number, number_at
from cardsmith.language.figures.unit_words import UnitFound, scale_at
from cardsmith.language.tokens import DASHES, TokenKind, Tokens
from cardsmith.language.word_classes import words_of
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import System, Unit, temperature_words, units

FAN = frozenset({"fan", "convection"})
_STILL = frozenset({"conventional", "conv"})  # air at rest
# Degrees with a small letter; less is cups, and so is half as much that is not come to, such as "to 80c"
# (common practice, no source).
_LEAST_SMALL, _LEAST_REACHED = 100, 20
_KEPT = words_of("kept cold")
_REACHED = words_of("reached")
_ABOUT = frozenset({"about", "around", "roughly"})
_GAS = frozenset({"gas", "gm", "reg", "regulo", "mark"})
_HIGHEST_MARK = 10  # of a gas oven (oven_dials.csv)
_AFTER_FAN = frozenset({"assisted", "forced", "oven", "setting"})
_FARTHEST = 20  # tokens; so that time grows with the length of a text
_COOLS = words_of("cools")
# A turn or an angle is no heat.
_HEATED = frozenset("oven ovens heat temperature grill broiler burner thermostat fan".split())
_HELD = frozenset({"knife", "blade", "cleaver"})  # at 45 degrees
_ANGLES = words_of("angle")


@frozen(kw_only=False)
class Temperature:
    """A temperature, or a difference of two, and the tokens it stands in."""

    quantity: Quantity
    first: int
    end: int
    joined: bool = False  # "a 350-degree oven"
    faults: tuple[Fault, ...] = ()


@frozen(kw_only=False)
class _End:
    value: Fraction
    unit: Unit | None
    first: int
    after: int  # one past the number
    end: int  # one past its scale
    faults: tuple[Fault, ...]


def heat_at(tokens: Tokens, at: int, *, paired: bool = False) -> Temperature | None:
    """The temperature that begins at token ``at``, its scale written; None where none does.

    ``paired`` says that "and" joins two ends, where "between" stands earlier: "between 180 and 190 °C (356
    and 374 °F)".
    """
    gas = gas_at(tokens, at)
    if gas is not None:
        return gas
    fan = fan_after(tokens, at)
    between = tokens[at].low == "between"
    low = _end(tokens, fan or at + (between or tokens[at].low in _STILL))
    if low is None:
        return None
    anded = (between or paired) and tokens[low.end].low == "and"
    place = low.end + 1 if anded else joint_at(tokens, low.end)
    if tokens[at - 1].low == "from" and low.unit is not None:
        place = None  # "cool from 57 °C to 21 °C" passes through both
    high = _end(tokens, place) if place is not None else None
    if high is not None and low.value > high.value:
        if tokens[at - 1].low == "from" and low.unit is None:
            low, high = replace(low, unit=high.unit), None  # "turn it from 450 to 325 °F"
        elif low.unit is not None and tokens.has_said(_COOLS, at, _FARTHEST):
            high = None  # "cool in shallow pans, 57 °C to 21 °C within 2 hours"
    if high is not None and (high.unit is None or not _shares(low.unit, high.unit)):
        high = None
    if high is not None and low.unit is not None and fan_after(tokens, high.end):
        high = None  # "180 °C or 160 °C fan": one setting, said for two ovens
    last = high or low
    if tokens[low.end].text == "±" and (spread := _end(tokens, low.end + 1)) and spread.unit is not None:
        lower, upper = low.value - spread.value, low.value + spread.value
        low, last = replace(low, value=lower), replace(spread, value=upper)
    unit = last.unit
    if unit is None or (unit.system is System.UNKNOWN and _turns(tokens, at, last.end)):
        return None
    return _found(tokens, at, low, last, unit, fan=fan is not None)


def _shares(low: Unit | None, high: Unit | None) -> bool:
    """Whether two ends may be of one scale: "325 to 350 °F", "450° to 500°F"."""
    return low is None or low is high or low.system is System.UNKNOWN


def signed_at(tokens: Tokens, at: int) -> tuple[Number, bool, int] | None:
    """A number with its sign before it, whether it is below nothing, and where the number begins."""
    spread = tokens.words(at - 2, "plus", "or", "minus")
    minus = (tokens[at].text in DASHES and tokens[at + 1].glued) or (tokens[at].low == "minus" and not spread)
    number = number_at(tokens, at + minus)
    if number is None or number.value is None or number.form == "article":
        return None
    return number, minus, at + minus


def _end(tokens: Tokens, at: int) -> _End | None:
    signed = signed_at(tokens, at)
    if signed is None:
        return None
    number, minus, _ = signed
    assert number.value is not None  # signed_at has looked
    value = -number.value if minus else number.value
    dash = tokens[number.end].text in DASHES and tokens[number.end].glued and tokens[number.end + 1].glued
    scale = scale_at(tokens, number.end + dash)
    if scale is None:
        scale = _small_letter(tokens, at, number.end, value)
    if scale and scale.unit.system is System.GAS:
        scale = None
    if scale and not _letter_is_scale(tokens, scale.first, scale.end, value):
        scale = None
    end = scale.end if scale else number.end
    if scale and scale.dotted and tokens.is_stop(end - 1) and tokens[end].text[:1].isupper():
        end -= 1
    return _End(value, scale.unit if scale else None, at, number.end, end, number.faults)


def _small_letter(tokens: Tokens, first: int, at: int, value: Fraction) -> UnitFound | None:
    """A small c or f behind a high number: "180c", "warm to 80c"; "2 c" is cups, and so is "20c flour"."""
    words = {"c": "C", "f": "F"}
    token, after = tokens[at], tokens[at + 1]
    if token.text not in words:
        return None
    named = after.kind is TokenKind.WORD and after.low not in words_of("stop")
    place = first - 1
    while place > first - _FARTHEST and (
        tokens[place].text in DASHES or tokens[place].is_number or tokens[place].low in _ABOUT
    ):
        place -= 1  # the "at" of "at about 60-65c"
    cold = tokens.has_said(_KEPT, place, _FARTHEST)
    reached = tokens[place].low in _REACHED and not named and (value >= _LEAST_REACHED or cold)
    if not (reached or (token.glued and value >= _LEAST_SMALL)):
        return None
    return UnitFound(temperature_words()[words[token.text]], at, at + 1)


def _letter_is_scale(tokens: Tokens, first: int, end: int, number: Fraction) -> bool:
    """Whether a bare C or F is a scale: a small number before more words is cups ("2 C flour")."""
    letter = tokens.between(first, end).rstrip(".")
    if letter not in {"C", "F", "c", "f"}:
        return True
    if letter.islower():
        return True  # _small_letter has looked
    after = tokens[end]
    return (
        letter == "F"
        or number <= 0
        or number >= 10
        or after.low in words_of("stop") | COMPARATIVES | BEHIND
        or not (after.kind is TokenKind.WORD and after.text.islower())
    )


def _turns(tokens: Tokens, first: int, end: int) -> bool:
    """Whether degrees are those of a turn or an angle."""
    before = {tokens[place].low for place in range(max(0, first - 6), first)}
    if before & _HEATED:
        return False
    if before & _HELD:
        return True
    after = tokens[end].kind is TokenKind.WORD and tokens[end + 1].low in _ANGLES  # a 45° sharp angle
    if tokens[end].low in _ANGLES or after:
        return True
    return bool(_ANGLES & before) and tokens[first - 1].low not in {"at", "to"}  # "turn out and bake at 350°"


def _found(tokens: Tokens, at: int, low: _End, last: _End, unit: Unit, *, fan: bool) -> Temperature:
    end = last.end
    if is_change(tokens, at, end, low.value):
        unit = units()[f"{unit.name} (difference)"]
    fan_end = fan_after(tokens, end)
    if fan_end is None and tokens[end].low in _STILL:
        end += 1
    ends = sorted((unit.to_base(low.value), unit.to_base(last.value)))
    faults = low.faults + (last.faults if last is not low else ())
    if low.value > last.value:
        faults += (reversed_range(tokens, at, end),)
    quantity = Quantity(
        low=ends[0],
        high=ends[1],
        unit=unit,
        written=tokens.between(at, fan_end or end),
        fan=fan or fan_end is not None,
    )
    return Temperature(quantity, at, fan_end or end, tokens[last.after].text in DASHES, faults)


def fan_after(tokens: Tokens, at: int) -> int | None:
    """Where "fan-forced" ends, if it begins at token ``at``, behind a comma perhaps."""
    if tokens[at].low not in FAN:
        return None
    end = at + 1
    while tokens[end].low in _AFTER_FAN or (tokens[end].text in DASHES and tokens[end + 1].low in _AFTER_FAN):
        end += 1
    return end


def gas_at(tokens: Tokens, at: int) -> Temperature | None:
    """A gas mark that begins at token ``at``; its value is a row of the oven's table, never computed."""
    if tokens[at].low not in _GAS or (tokens[at].low == "mark" and tokens[at - 1].low not in {"at", "to"}):
        return None
    place = at + 1 + (tokens[at + 1].low == "mark" or tokens[at + 1].text == ".")
    low = number_at(tokens, place)
    if low is None or low.value is None or low.form == "article":
        return None
    joint = joint_at(tokens, low.end)
    high = number_at(tokens, joint) if joint is not None else None
    ranged = high is not None and high.value is not None and low.value < high.value <= _HIGHEST_MARK
    last = high if ranged and high is not None else low
    assert last.value is not None  # as above
    quantity = Quantity(
        low=low.value, high=last.value, unit=units()["gas mark"], written=tokens.between(at, last.end)
    )
    return Temperature(quantity, at, last.end)
