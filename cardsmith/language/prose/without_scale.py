"""A number that can only be a temperature without its scale: "turn the oven down to 180", "reads 165".

    bare = preposition [bound] [minus] number [joint number] [fan] ["/" number [fan]]

The preposition (to, at, reads, freezer …) and the clause must speak of heat, and no noun may follow that the
number could count. It is unread: nobody takes a scale from a setting that stands earlier. What is no oven's
has the scale of the last heat in its sentence, where it could be no such heat on the other.

>>> one = bare_heat_in("Turn the oven down to 180 for an hour.", "180")
>>> one.sides[0].unit.name, one.purpose
('degree', <Purpose.OVEN: 'oven'>)
>>> bare_heat_in("Bake in a 320 oven for an hour.", "320").purpose
<Purpose.OVEN: 'oven'>
>>> bare_heat_in("Bring it to 82 °C, but not past 85.", "85").sides[0].unit.name
'degree Celsius'
>>> bare_heat_in("Heat the oven to 220 °C, then lower it to 180.", "180").sides[0].unit.name
'degree'
>>> bare_heat_in("Cut the oven bread into 12 wedges.", "12") is None
True
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.language.figures.bounds import bound_behind
from cardsmith.language.figures.heat import Temperature, fan_after, heat_at, signed_at
from cardsmith.language.figures.numbers import ARTICLES, Form, Number, number_at
from cardsmith.language.noun_phrases import phrase_at
from cardsmith.language.prose.heat_words import may_be
from cardsmith.language.prose.purposes import purpose_of
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.prose.temperatures import said_again
from cardsmith.language.spans import COLD, Kind, Purpose
from cardsmith.language.tokens import DASHES, TokenKind, Tokens
from cardsmith.language.word_classes import words_of
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Unit, units

_COOL = COLD | {
    Purpose.ROOM, Purpose.PROOF, Purpose.DOUGH, Purpose.MILK, Purpose.CHOCOLATE, Purpose.WATER
}  # fmt: skip
_HEAT_OF = frozenset("temperature temp heat setting target oven reading maximum minimum".split())
_METERS = frozenset(
    {"scale", "scales", "balance", "refractometer", "hydrometer", "brix", "ph"}
)  # read no heat
_AIR = frozenset({"fan", "conventional", "convection"})
_LEAST_CHANGE = 5  # degrees; "lower the oven by 25" (common practice, no source)
_FARTHEST = 30  # tokens; so that time grows with the length of a text
_NEAR = 8  # tokens between two heats of a list
# What may stand between a heat and its limit.
_LIMITING = frozenset(
    "and or then but , ; ( not never don't don’t do let allow it them go get rise climb".split()
)
_NEAR_HEAT = 20  # °C; rare and well done lie no farther apart (common practice, no source)
_JOINTS = frozenset({",", "or", "and"})
_SCALES = {"degree Celsius": "degree Fahrenheit", "degree Fahrenheit": "degree Celsius"}
_HOT = 30  # a bare number below is no heat, but for what is cool (common practice, no source)


def bare_heat(tokens: Tokens, number: Number, high: Number | None) -> TokenReading | None:
    """A number, or a range up to ``high``, as a heat without a scale; None where it is no heat."""
    last = high or number
    if number.value is None or last.value is None:
        return None
    heat = _heat_before(tokens, number, last)
    if heat is not None:
        unit, written = heat.quantity.unit, tokens.between(number.first, last.end)
        low, top = unit.to_base(number.value), unit.to_base(last.value)
        side = Quantity(low=low, high=top, unit=unit, written=written)
        purpose = purpose_of(tokens, number.first, last.end, low)
        if purpose is Purpose.OTHER:
            purpose = purpose_of(tokens, heat.first, heat.end, heat.quantity.low)
        return TokenReading(number.first, last.end, Kind.TEMPERATURE, sides=(side,), purpose=purpose)
    if not _is_heat(tokens, number, high):
        return None
    signed = signed_at(tokens, number.first - 1)
    minus = signed is not None and signed[1] and signed[2] == number.first
    first = number.first - 1 if minus else number.first
    sign = -1 if minus else 1
    ends = sorted((sign * number.value, sign * last.value))
    fan = fan_after(tokens, last.end)
    end = fan or last.end
    quantity = Quantity(
        low=ends[0],
        high=ends[1],
        unit=units()["degree"],
        written=tokens.between(first, end),
        fan=fan is not None,
    )
    oven = fan or _is_of_oven(tokens, number, last)
    purpose = Purpose.OVEN if oven else purpose_of(tokens, number.first, last.end, None)
    scale = None if oven or minus else _scale_said(tokens, number.first, purpose, ends)
    if scale is not None:
        side = replace(quantity, low=scale.to_base(ends[0]), high=scale.to_base(ends[1]), unit=scale)
        return TokenReading(first, end, Kind.TEMPERATURE, sides=(side,), purpose=purpose)
    stated, end = said_again(tokens, end, quantity)
    return TokenReading(first, end, Kind.UNREAD, sides=(quantity,), stated=stated, purpose=purpose)


def _heat_before(tokens: Tokens, number: Number, last: Number) -> Temperature | None:
    """The heat that a number follows as its limit or as the next of a list.

    "82 °C, but not past 85", "125 °F for rare, 130 for medium".
    """
    bound, place = bound_behind(tokens, number.first, limit=True)
    at = next((at for at in range(place - 1, max(-1, place - _NEAR), -1) if tokens[at].is_number), None)
    heat = heat_at(tokens, at) if at is not None else None
    if heat is None or heat.quantity.unit.name not in _SCALES or phrase_at(tokens, last.end).words:
        return None
    between = {tokens[index].low for index in range(heat.end, place)}
    limit = bound in {Bound.AT_MOST, Bound.AT_LEAST} and between <= _LIMITING
    listed = tokens[number.first - 1].low in _JOINTS and "for" in between and tokens[last.end].low == "for"
    rise = heat.quantity.unit.to_base(number.value or Fraction(0)) - heat.quantity.low
    beyond = rise if bound is Bound.AT_MOST else -rise
    return heat if (listed and abs(rise) <= _NEAR_HEAT) or (limit and 0 <= beyond <= _NEAR_HEAT) else None


def _scale_said(tokens: Tokens, first: int, purpose: Purpose, ends: list[Fraction]) -> Unit | None:
    """The scale of the last heat of its sentence, where the number can be no such heat on the other.

    "Let it climb to 150" behind 145 °F; an oven's setting is asked about, however plain.
    """
    if purpose in {Purpose.OVEN, Purpose.OTHER}:
        return None
    for place in range(first - 1, max(0, first - _FARTHEST), -1):
        if tokens.is_stop(place) and tokens[place].text != ";":
            return None
        heat = heat_at(tokens, place) if tokens[place].is_number else None
        said = heat.quantity.unit if heat is not None else None
        if said is not None and said.name in _SCALES:
            other = units()[_SCALES[said.name]]
            fits = all(may_be(purpose, said.to_base(end)) for end in ends)
            return said if fits and not any(may_be(purpose, other.to_base(end)) for end in ends) else None
    return None


def _is_heat(tokens: Tokens, number: Number, high: Number | None) -> bool:
    value = number.value
    last = high or number
    if value is None or value.denominator != 1:
        return False
    if tokens[last.end].low in _AIR and value >= 2 * _HOT:
        return True
    if _is_of_oven(tokens, number, last):
        return value >= 2 * _HOT
    place = bound_behind(tokens, number.first, limit=True)[1] - 1
    minus = tokens[place].text in DASHES or tokens[place].low == "minus"
    place -= minus
    said = {tokens[place].low, tokens[number.first - 1].low}
    if not said & words_of("heat preposition") or _noun_follows(tokens, last.end):
        return False
    if tokens[last.end].low == "on" and "dial" in (tokens[last.end + 1].low, tokens[last.end + 2].low):
        return False
    if tokens[place].low == "to" and tokens[place - 1].low in {"part", "parts"}:
        return False  # 1 part to 30
    if tokens[place].low == "of" and tokens[place - 1].low not in _HEAT_OF:
        return False  # "3 rows of 5"
    purpose = purpose_of(tokens, number.first, last.end, None)
    metered = any(tokens[at].low in _METERS for at in range(max(0, place - 3), place + 1))
    if purpose is Purpose.OTHER or metered:
        return False
    if "by" in said:
        if number_at(tokens, number.first - 2) is not None:
            return False  # "cut 8 by 8"
        return minus or (
            number.form is Form.FIGURES and value >= _LEAST_CHANGE
        )  # "by seven the queue is long"
    return minus or value >= _least(purpose, number)


def _is_of_oven(tokens: Tokens, number: Number, last: Number) -> bool:
    """Whether a number stands before an oven: "bake in a 320 oven"."""
    return tokens[last.end].low == "oven" and tokens[number.first - 1].low in ARTICLES


def _least(purpose: Purpose, number: Number) -> Fraction:
    """From where on a bare number may be a heat of that purpose."""
    return Fraction(1 if purpose in _COOL and number.form is Form.FIGURES else _HOT)


def _noun_follows(tokens: Tokens, end: int) -> bool:
    """Whether a noun follows a number, so that it may count: "at 2 stations"; or a mark of shares."""
    if tokens[end].text in {"%", ":"}:
        return True
    if tokens[end].kind is not TokenKind.WORD or tokens[end].low in words_of("stop") | _AIR:
        return False
    return bool(phrase_at(tokens, end).words)
