"""A number whose unit, or whose scale, its sentence has just said: ``2 tbsp cocoa and 1 of sugar``.

    elided  = ("other" | "remaining" | "another") number      of what was measured, and no thing counted
            | joint number "more"                             2 tbsp water, and 1 more if it is dry
            | ("keep" | "saving" …) number ("back" | "aside" | "for" | stop)     3 tbsp fat, and keep 2
            | joint bound number (stop | "if" …) | number bound stop             3 tbsp water, up to 5
            | ("not" | "instead of" | "rather than") number   2 tbsp, not 3
            | ("and" | "or" | "then" | "," | "(") number ("of" | "for" | "if")   2 tbsp cocoa and 1 of sugar
    limit   = heat { joint | "not" … } bound number           82 °C, but not past 85: the other end of it

Elided is the unit of the last number before, so that no count stands between; the number is at most four
times that, and at least a quarter. What is counted keeps its number: "2 tbsp oil and 3 of the eggs". A second
setting of an oven is no limit of the first, and stays without a scale.

>>> def units(*texts):
...     return [found.sides[0].unit.name if (found := elided_measure_in(text)) else None for text in texts]
>>> units("Fry it in 1 tbsp of the oil; keep the other 3 for later.", "Add 1 tbsp cocoa and 1 of sugar.")
['tablespoon', 'tablespoon']
>>> units("Add the milk a tablespoon at a time, up to 4.", "Allow 125 g a head, 100 if there is a pudding.")
['tablespoon', 'gram']
>>> units("Add 2 tbsp water, and another 2 if it is dry.", "Roll it to 5 mm, or 3 for crackers.")
['tablespoon', 'millimetre']
>>> units("Bring it to 82 °C, but not past 85.", "Heat the oven to 220 °C, then lower it to 180.")
['degree Celsius', None]
>>> units("Add 1 tbsp oil and the other 3 eggs.", "Add 1 tbsp oil and 3 of the eggs.")
[None, None]
>>> units("Cut 2 cm slices, or 8 if it is long.", "Add 2 cups flour and 1 more egg.")
[None, None]
>>> units("Beat in 50 g of butter and the yolks, then 2 more.", "Fry 4 at a time in 2 tbsp oil, then 3.")
[None, None]
"""

from __future__ import annotations

from dataclasses import replace

from cardsmith.language.figures.amounts import Amount, amount_at
from cardsmith.language.figures.bounds import bound_after, bound_behind
from cardsmith.language.figures.heat import Temperature, heat_at
from cardsmith.language.figures.numbers import Form, Number, number_at
from cardsmith.language.noun_phrases import is_plural, noun_at, phrase_at, vessel_at
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.prose.temperatures import temperature_of
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import Tokens
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import WEIGHED, Dimension, System

_FARTHEST = 30  # tokens; so that time grows with the length of a text
_MOST_TIMES = 4  # amounts of one sentence that differ by more share no unit (common practice, no source)
_OTHERS = frozenset({"other", "remaining"})
_FURTHER = frozenset({"more", "extra"})
_JOINTS = frozenset({"and", "or", "then", "but", ",", "("})
_KEEPING = frozenset("keep keeping save saving reserve reserving hold holding set setting".split())
_ASIDE = frozenset({"back", "aside", "for", "by"})
_USES = frozenset({"for", "if", "when"})
_CONTRASTS = {"not": (), "of": ("instead",), "than": ("rather",)}
_MEASURED = WEIGHED | {Dimension.LENGTH}
# What may stand between a heat and its limit.
_LIMITING = _JOINTS | frozenset("not never don't don’t do let allow it them go get rise climb".split())
_NEAR = 8  # tokens between the two
_LIMIT = 2  # times the heat in °C; a limit beyond that is another thing (common practice, no source)


def elided_measure(
    tokens: Tokens, number: Number, high: Number | None, measures: System
) -> TokenReading | None:
    """A bare number (or a range up to ``high``) whose unit the sentence has said, if it is one."""
    last = high or number
    if number.value is None or last.value is None or number.form is Form.ARTICLE:
        return None
    limit = _limit_of_heat(tokens, number, last)
    if limit is not None or not _may_lack_unit(tokens, number.first, last.end):
        return limit
    amount = _measure_before(tokens, number.first, measures)
    if amount is None or amount.quantity is None:
        return None
    further = tokens[number.first - 1].low == "another" or tokens[last.end].low in _FURTHER
    if further and _are_things_between(tokens, amount, number.first):
        return None
    unit = amount.quantity.high_unit or amount.quantity.unit
    low, top = unit.to_base(number.value), unit.to_base(last.value)
    said = amount.quantity.middle
    if not said / _MOST_TIMES <= top <= said * _MOST_TIMES:
        return None
    written = tokens.between(number.first, last.end)
    one = Quantity(low=low, high=top, unit=unit, written=written)
    kind = Kind.LENGTH if unit.dimension is Dimension.LENGTH else Kind.AMOUNT
    return TokenReading(number.first, last.end, kind, sides=(one,), noun=noun_at(tokens, last.end))


def _may_lack_unit(tokens: Tokens, first: int, end: int) -> bool:
    """Whether a number stands where its unit may go unsaid, and counts nothing."""
    after, before = tokens[end].low, tokens[first - 1].low
    ends = tokens.is_stop(end) or after in {",", ")"}
    if before in _KEEPING:
        return after in _ASIDE or ends
    of = after == "of"
    noun = phrase_at(tokens, end + of).words
    bounded, past = bound_after(tokens, end)
    if bounded is not Bound.EXACTLY and before in _JOINTS:
        return tokens.is_stop(past) or tokens[past].text in {",", ")"}
    if (noun and not of) or (of and (not noun or any(map(is_plural, noun)))):
        return False
    if before in _OTHERS:
        return not of and (after in _USES or ends)
    if before == "another":
        return True
    if after in _FURTHER:
        return before in _JOINTS and not phrase_at(tokens, end + 1).words
    bound, place = bound_behind(tokens, first, limit=True)
    if bound is not Bound.EXACTLY:
        return tokens[place - 1].low in _JOINTS and (after in _USES or ends)
    contrasts = _CONTRASTS.get(before)
    if contrasts is not None and (not contrasts or tokens[first - 2].low in contrasts):
        return ends
    return before in _JOINTS and (of or after in _USES)


def _are_things_between(tokens: Tokens, amount: Amount, first: int) -> bool:
    """Whether something that could be counted is named between a measure and a further number."""
    begins = phrase_at(tokens, amount.end + (tokens[amount.end].low == "of")).end
    return any(is_plural(tokens[place].low) for place in range(begins, first))


def _measure_before(tokens: Tokens, first: int, measures: System) -> Amount | None:
    """The weight, volume or length that is the last number before; None where that is another thing."""
    for place in range(first - 1, max(-1, first - _FARTHEST), -1):
        if tokens.is_stop(place) and tokens[place].text != ";":
            return None
        number = number_at(tokens, place)
        if number is None or number.value is None:
            continue
        amount = amount_at(tokens, place, measures)
        if number.form is Form.ARTICLE and not _is_measured(amount):
            continue
        begins = place
        while number_at(tokens, begins - 1) is not None and amount_at(tokens, begins - 1, measures):
            begins -= 1
        amount = amount_at(tokens, begins, measures)
        if "pressure" in noun_at(tokens, amount.end if amount else place):
            return None  # at 10 pounds pressure, 11 by a dial
        plain = amount is not None and amount.has_unit and not amount.joined and amount.end <= first
        if amount is None or amount.quantity is None or not plain or amount.quantity.is_vague:
            return None
        things = amount.quantity.dimension is Dimension.LENGTH and any(
            map(is_plural, phrase_at(tokens, amount.end).words)
        )  # "cut 2 cm slices, or 8 if the loaf is long" may count
        fits = _is_measured(amount) and vessel_at(tokens, amount.end) is None and not things
        return amount if fits else None
    return None


def _is_measured(amount: Amount | None) -> bool:
    return amount is not None and amount.quantity is not None and amount.quantity.dimension in _MEASURED


def _limit_of_heat(tokens: Tokens, number: Number, last: Number) -> TokenReading | None:
    """``82 °C, but not past 85``: how far a heat may go, on its scale."""
    assert number.value is not None  # the caller has looked
    assert last.value is not None
    bound, place = bound_behind(tokens, number.first, limit=True)
    if bound not in {Bound.AT_MOST, Bound.AT_LEAST} or phrase_at(tokens, last.end).words:
        return None
    heat = _heat_before(tokens, place)
    if heat is None:
        return None
    unit, said = heat.quantity.unit, heat.quantity
    low, top = unit.to_base(number.value), unit.to_base(last.value)
    near = (
        said.high <= low <= said.high * _LIMIT
        if bound is Bound.AT_MOST
        else said.low / _LIMIT <= top <= said.low
    )
    if not near:
        return None
    written = tokens.between(number.first, last.end)
    one = Quantity(low=low, high=top, unit=unit, written=written, bound=bound)
    return replace(temperature_of(tokens, heat), first=number.first, end=last.end, sides=(one,), stated=())


def _heat_before(tokens: Tokens, place: int) -> Temperature | None:
    """The heat on a scale that stands right before a bound at ``place``, but for words that deny and join."""
    for at in range(place - 1, max(-1, place - _NEAR), -1):
        heat = heat_at(tokens, at) if tokens[at].is_number else None
        if heat is not None and heat.end <= place:
            plain = heat.quantity.dimension is Dimension.TEMPERATURE and not heat.joined
            scaled = heat.quantity.unit.system in {System.METRIC, System.US}
            joined = all(tokens[one].low in _LIMITING for one in range(heat.end, place))
            return heat if plain and scaled and joined else None
    return None
