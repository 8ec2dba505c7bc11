"""A number whose unit of volume or weight the text has just said: "1 tbsp of the oil; keep the other 3".

    elided = ("other" | "remaining") number           of what was measured, and no thing counted
           | bound number                    behind "at a time": a tablespoon at a time, up to 4
           | ("and" | "or" | "then" | "," | "(") number ("of" | "for" | "if")    2 tbsp cocoa and 1 of sugar

The measure is the last number before it, so that no count stands between; the number is at most four times
that, and at least a quarter. What the sentence counts keeps its number: "2 tbsp oil and 3 of the eggs".

>>> def units(*texts):
...     return [found.sides[0].unit.name if (found := elided_measure_in(text)) else None for text in texts]
>>> units("Fry it in 1 tbsp of the oil; keep the other 3 for later.", "Add 1 tbsp cocoa and 1 of sugar.")
['tablespoon', 'tablespoon']
>>> units("Add the milk a tablespoon at a time, up to 4.", "Allow 125 g a head, 100 if there is a pudding.")
['tablespoon', 'gram']
>>> units("Add 1 tbsp oil and the other 3 eggs.", "Add 1 tbsp oil and 3 of the eggs.")
[None, None]
"""

from __future__ import annotations

from cardsmith.language.figures.amounts import Amount, amount_at
from cardsmith.language.figures.bounds import bound_behind
from cardsmith.language.figures.numbers import Form, Number, number_at
from cardsmith.language.noun_phrases import is_plural, noun_at, phrase_at, vessel_at
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import Tokens
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import WEIGHED, System

_FARTHEST = 30  # tokens; so that time grows with the length of a text
_MOST_TIMES = 4  # amounts of one sentence that differ by more share no unit (common practice, no source)
_OTHERS = frozenset({"other", "remaining"})
_JOINTS = frozenset({"and", "or", "then", ",", "("})
_USES = frozenset({"for", "if", "when"})


def elided_measure(
    tokens: Tokens, number: Number, high: Number | None, measures: System
) -> TokenReading | None:
    """A bare number (or a range up to ``high``) whose unit the sentence has said, if it is one."""
    last = high or number
    if number.value is None or last.value is None or number.form is Form.ARTICLE:
        return None
    if not _may_lack_unit(tokens, number.first, last.end):
        return None
    amount = _measure_before(tokens, number.first, measures)
    if amount is None or amount.quantity is None:
        return None
    unit = amount.quantity.high_unit or amount.quantity.unit
    low, top = unit.to_base(number.value), unit.to_base(last.value)
    said = amount.quantity.middle
    if not said / _MOST_TIMES <= top <= said * _MOST_TIMES:
        return None
    written = tokens.between(number.first, last.end)
    one = Quantity(low=low, high=top, unit=unit, written=written)
    return TokenReading(number.first, last.end, Kind.AMOUNT, sides=(one,), noun=noun_at(tokens, last.end))


def _may_lack_unit(tokens: Tokens, first: int, end: int) -> bool:
    """Whether a number stands where its unit may go unsaid, and counts nothing."""
    after, before = tokens[end].low, tokens[first - 1].low
    of = after == "of"
    noun = phrase_at(tokens, end + of).words
    if not of and noun:
        return False
    if of and (not noun or any(map(is_plural, noun))):
        return False
    if before in _OTHERS:
        return not of and (after in _USES or tokens.is_stop(end) or after == ",")
    bound, place = bound_behind(tokens, first, limit=True)
    if bound is not Bound.EXACTLY and tokens[place - 1].text == ",":
        return tokens.words(place - 4, "at", "a", "time") and tokens.is_stop(end)
    return before in _JOINTS and (of or after in _USES)


def _measure_before(tokens: Tokens, first: int, measures: System) -> Amount | None:
    """The weight or volume of food that is the last number before; None where that is another thing."""
    for place in range(first - 1, max(-1, first - _FARTHEST), -1):
        if tokens.is_stop(place) and tokens[place].text != ";":
            return None
        number = number_at(tokens, place)
        if number is None or number.value is None:
            continue
        amount = amount_at(tokens, place, measures)
        if number.form is Form.ARTICLE and not _is_weighed(amount):
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
        return amount if _is_weighed(amount) and vessel_at(tokens, amount.end) is None else None
    return None


def _is_weighed(amount: Amount | None) -> bool:
    return amount is not None and amount.quantity is not None and amount.quantity.dimension in WEIGHED
