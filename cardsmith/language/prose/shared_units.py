"""Several numbers that share a unit: one behind them (``1, 2 and 4 quarts``) or one said before.

    series = number { "," number } ("and" | "or" behind a dash | "+") amount
    elided = ("other" | "remaining") number           of what was measured, and no thing counted
           | ("keep" | "saving" …) number ("back" | "aside" | "for")        3 tbsp of the butter, keep 1 back
           | bound number                    behind "at a time": a tablespoon at a time, up to 4
           | ("and" | "or" | "then" | "," | "(") number ("of" | "for" | "if")    2 tbsp cocoa and 1 of sugar

Elided is the unit of the last number before, so that no count stands between; the number is at most four
times that, and at least a quarter. What is counted keeps its number: "2 tbsp oil and 3 of the eggs".

"10 or 12 minutes" and "4–6 inches" are ranges, which amounts.py reads.

>>> [one.sides[0].unit.name for one in series_in("1, 2 and 4 quarts")]
['quart', 'quart', 'quart']
>>> series_in("10 or 12 minutes")
()
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

from dataclasses import replace
from fractions import Fraction

from cardsmith.language.figures.amounts import Amount, amount_at
from cardsmith.language.figures.bounds import bound_behind
from cardsmith.language.figures.numbers import Form, Number, number_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.noun_phrases import is_plural, noun_at, phrase_at, vessel_at, vessel_before
from cardsmith.language.prose.measured import measure_of
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import DASHES, Tokens
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import WEIGHED, Dimension, System

_LONGEST = 6  # numbers before one unit; more are no list of sizes
_DIMENSIONS = frozenset({Dimension.DURATION, Dimension.LENGTH, Dimension.VOLUME})
_FARTHEST = 30  # tokens; so that time grows with the length of a text
_MOST_TIMES = 4  # amounts of one sentence that differ by more share no unit (common practice, no source)
_OTHERS = frozenset({"other", "remaining"})
_JOINTS = frozenset({"and", "or", "then", ",", "("})
_KEEPING = frozenset("keep keeping save saving reserve reserving hold holding set setting".split())
_ASIDE = frozenset({"back", "aside", "for", "by"})
_USES = frozenset({"for", "if", "when"})


def series_at(tokens: Tokens, at: int, measures: System) -> tuple[TokenReading, ...]:
    """Numbers in a list with one unit behind the last: "1, 2 and 4 quarts"; empty where none begins."""
    numbers: list[tuple[Number, int]] = []
    place = at
    while True:
        number = number_at(tokens, place)
        if number is None or number.value is None or number.form is Form.ARTICLE:
            return ()
        end = number.end + (tokens[number.end].text in DASHES)
        if unit_at(tokens, end, measures) is not None:
            break
        numbers.append((number, end))
        if len(numbers) == _LONGEST:
            return ()
        follows = _next_of_series(tokens, number.end, end)
        if follows is None:
            return ()
        place = follows
    amount = amount_at(tokens, place, measures)
    if not numbers or amount is None or amount.quantity is None or amount.first != place:
        return ()
    quantity = amount.quantity
    timed = quantity.dimension is Dimension.DURATION and tokens[at - 1].low == "of"
    if tokens[place - 1].text == "," or timed:
        return ()  # "in batches of 4, 12 minutes each"
    if quantity.dimension not in _DIMENSIONS or quantity.is_range:
        return ()
    last = measure_of(tokens, amount, measures)
    vessel = last.noun if last.kind is Kind.VESSEL else vessel_before(tokens, at)
    kind = Kind.VESSEL if vessel else last.kind
    unit = quantity.unit
    found = [
        TokenReading(
            number.first,
            end,
            kind,
            sides=(
                replace(
                    last.sides[0],
                    low=unit.to_base(number.value or Fraction(0)),
                    high=unit.to_base(number.value or Fraction(0)),
                    written=tokens.between(number.first, end),
                ),
            ),
            adjective=end > number.end,
            noun=vessel or last.noun,
        )
        for number, end in numbers
    ]
    return (*found, replace(last, kind=kind, noun=vessel or last.noun))


def _next_of_series(tokens: Tokens, bare: int, end: int) -> int | None:
    """Where the next number of a list begins; None where none does, or where a bare "or" makes a range."""
    mark = tokens[end]
    if mark.low == "or" and end == bare:
        return None
    if mark.text not in {",", "+", "&"} and mark.low not in {"and", "or"}:
        return None
    place = end + 1
    if mark.text == "," and tokens[place].low in {"and", "or"}:
        place += 1
    return place if number_at(tokens, place) is not None else None


# --- said before ---------------------------------------------------------------------------------------


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
    if before in _KEEPING:
        return after in _ASIDE
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
