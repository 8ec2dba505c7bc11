"""What a recipe makes and whom it feeds in another size, in words: 2 loaves, 6 cups, about 13.

The author's own words are kept: their number is multiplied, and the noun beside it declined.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.language.declension import declined, many, one
from cardsmith.language.figures.numbers import ONES
from cardsmith.language.spans import Kind, Measured, Span, Told, Unread, Words
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, units
from cardsmith.recipe.mentions.mentions import visible
from cardsmith.recipe.model import Recipe, Yield
from cardsmith.rewrite.card.summary import made_spans
from cardsmith.rewrite.wording import decimal_text, fraction_text

SPELLED = {Fraction(number): word for word, number in ONES.items() if 0 < number <= 12}
WHOLE = 3  # from here on a part of a piece is not counted: about 7 crackers, but 2½ loaves
FINE = 4  # quarters, the finest part of a piece or a unit that is spoken of
# From so many of a unit on, one speaks of the next larger (common practice, no source).
LARGER = {
    "teaspoon": (6, "cup"),
    "tablespoon": (12, "cup"),
    "fluid ounce": (16, "cup"),
    "ounce": (32, "pound"),
    "gram": (1000, "kilogram"),
    "millilitre": (1000, "litre"),
}


def yield_of(recipe: Recipe, factor: Fraction) -> Yield | None:
    """The yield of ``recipe`` at ``factor`` times its size; of pieces that come out uneven it is about."""
    given = recipe.yields
    if given is None:
        return None
    makes, serves, spans = given.makes, given.serves, given.made
    if makes:
        spans = _in_size(made_spans(recipe), factor)
        makes = replace(makes, text=visible(spans))
    if serves and given.serves_low:
        ends = given.serves_low * factor, (given.serves_high or given.serves_low) * factor
        text = _fed(*ends)
        serves = replace(serves, text=f"{text} {given.serves_words}".strip())
    return replace(
        given,
        makes=makes,
        made=spans,
        serves=serves,
        makes_count=given.makes_count * factor if given.makes_count else None,
        makes_high=given.makes_high * factor if given.makes_high else None,
        serves_low=given.serves_low * factor if given.serves_low else None,
        serves_high=given.serves_high * factor if given.serves_high else None,
    )


def _in_size(spans: tuple[Span, ...], factor: Fraction) -> tuple[Span, ...]:
    """What it makes, times ``factor``: a count with the size of one, or an amount.

    What tells of more than one number ("450 ml, 9 portions of 50 ml") is left whole, and said so often.
    """
    numbers = [place for place, span in enumerate(spans) if isinstance(span, Measured | Told | Unread)]
    match [spans[place] for place in numbers]:
        case [(Told(kind=Kind.COUNT) | Unread()) as count, *sizes] if all(
            isinstance(size, Measured) for size in sizes
        ):
            return _times_count(spans, numbers[0], count, factor)
        case [Measured(adjective=False) as piece] if piece.quantity.is_vague:
            return _put(spans, numbers[0], _times_piece(piece, factor))
        case [Measured(adjective=False, kind=Kind.AMOUNT) as amount] if _is_whole(amount):
            return _put(spans, numbers[0], _times_amount(amount, factor))
    often = Told(text=fraction_text(factor), kind=Kind.TIMES, low=factor, high=factor, noun="times")
    return (often, Words(text=" times "), *spans)


def _is_whole(amount: Measured) -> bool:
    return amount.quantity.dimension in {Dimension.MASS, Dimension.VOLUME} and not amount.quantity.is_vague


def _put(spans: tuple[Span, ...], place: int, span: Span) -> tuple[Span, ...]:
    return (*spans[:place], span, *spans[place + 1 :])


def _times_count(
    spans: tuple[Span, ...], place: int, count: Told | Unread, factor: Fraction
) -> tuple[Span, ...]:
    low, high = count.low * factor, count.high * factor
    text = _counted(low, high)
    before = spans[place - 1] if place else None
    if isinstance(before, Words) and before.text.lower().strip() == "about":
        text = text.removeprefix("about ")
    if count.text.isalpha():
        text = SPELLED.get(high, text)  # two 9-inch pies
    made = replace(count, text=text, low=_whole(low), high=_whole(high))
    noun = count.noun.split(" ")[-1]
    decline = one if high <= 1 < count.high else many if count.high <= 1 < high else str
    behind = declined(spans[place + 1 :], noun, decline(noun)) if noun else spans[place + 1 :]
    return (*spans[:place], made, *behind)


def _times_piece(span: Measured, factor: Fraction) -> Measured:
    """A vague measure prints as it is written: 9 scoops."""
    amount = span.quantity.times(factor)
    unit = amount.unit
    noun = unit.plural if amount.high > 1 else unit.name
    return replace(span, text=f"{_counted(amount.low, amount.high)} {noun}", sides=(amount,))


def _times_amount(span: Measured, factor: Fraction) -> Measured:
    sides, stated = (
        tuple(_said_so(quantity.times(factor)) for quantity in quantities)
        for quantities in (span.sides, span.stated)
    )
    return replace(span, sides=sides, stated=stated)


def _said_so(amount: Quantity) -> Quantity:
    """An amount in the unit in which one speaks of so much of it."""
    most, name = LARGER.get(amount.unit.name, (0, ""))
    if not name or amount.unit.from_base(amount.low) < most or amount.high_unit:
        return amount
    return replace(amount, unit=units()[name])


def _counted(low: Fraction, high: Fraction) -> str:
    """``3``, ``2½``, ``about 7``, ``6 to 8``; a part of a piece is not counted from three on."""
    ends = dict.fromkeys(_number(end) for end in (low, high))
    inexact = any(_whole(end) != end for end in (low, high))
    return f"{'about ' if inexact else ''}{' to '.join(ends)}"


def _fed(low: Fraction, high: Fraction) -> str:
    """``about 7``, ``6 to 8``: people are whole."""
    whole = [max(round(end), 1) for end in (low, high)]
    return f"{'' if whole == [low, high] else 'about '}{' to '.join(dict.fromkeys(map(str, whole)))}"


def _number(number: Fraction) -> str:
    whole = _whole(number)
    return fraction_text(whole) if whole.denominator <= FINE else decimal_text(round(whole, 2))


def _whole(number: Fraction) -> Fraction:
    """The number as one counts it."""
    if number >= WHOLE:
        return Fraction(round(number))
    return (
        max(Fraction(round(number * FINE), FINE), Fraction(1, FINE)) if number.denominator > FINE else number
    )
