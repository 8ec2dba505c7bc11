"""Several numbers before the one unit that they share: ``1, 2 and 4 quarts``.

    series = number { "," number } ("and" | "or" behind a dash | "+" | ("and" | "but") bound) amount

"10 or 12 minutes" and "4–6 inches" are ranges, which amounts.py reads.

>>> [one.sides[0].unit.name for one in series_in("1, 2 and 4 quarts")]
['quart', 'quart', 'quart']
>>> [str(one.sides[0].unit.name) for one in series_in("4 and up to 24 hours")]
['hour', 'hour']
>>> series_in("10 or 12 minutes")
()
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.figures.bounds import bound_before
from cardsmith.language.figures.numbers import Form, Number, number_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.noun_phrases import vessel_before
from cardsmith.language.prose.measured import measure_of
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import DASHES, Tokens
from cardsmith.measure.quantity import Bound
from cardsmith.measure.units import Dimension, System

_LONGEST = 6  # numbers before one unit; more are no list of sizes
_DIMENSIONS = frozenset({Dimension.DURATION, Dimension.LENGTH, Dimension.VOLUME})


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
    bounded = bound_before(tokens, numbers[-1][1] + 1)[0] is not Bound.EXACTLY
    timed = quantity.dimension is Dimension.DURATION and tokens[at - 1].low == "of" and not bounded
    if tokens[place - 1].text == "," or timed:
        return ()  # "in batches of 4, 12 minutes each"
    if quantity.dimension not in _DIMENSIONS or quantity.is_range:
        return ()
    last = measure_of(tokens, amount, measures)
    vessel = last.noun if last.kind is Kind.VESSEL else vessel_before(tokens, at)
    kind = Kind.VESSEL if vessel else last.kind
    unit = quantity.unit
    readings = [
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
    return (*readings, replace(last, kind=kind, noun=vessel or last.noun))


def _next_of_series(tokens: Tokens, bare: int, end: int) -> int | None:
    """Where the next number of a list begins; None where none does, or where a bare "or" makes a range."""
    mark, place = tokens[end], end + 1
    if mark.text == "," and tokens[place].low in {"and", "or", "but"}:
        mark, place = tokens[place], place + 1
    bound, begins = bound_before(tokens, place)
    if bound in {Bound.AT_MOST, Bound.AT_LEAST} and mark.low in {"and", "or", "but"}:
        return begins if number_at(tokens, begins) is not None else None
    if mark.low == "or" and place == bare + 1:
        return None
    listed = mark.text in {",", "+", "&"} or mark.low in {"and", "or"}
    return place if listed and number_at(tokens, place) is not None else None
