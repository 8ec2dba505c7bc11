"""Sizes of several edges: ``9 by 13 inches``, ``33 × 23 × 5 cm``; without a unit they are unread.

    size = edge ("by" | "x" | "×") edge [("by" | "x" | "×") edge]
    edge = number [length], the last with its unit

>>> from cardsmith.language.tokens import tokenize
>>> [side.written for side in lengths(sides_at(tokenize("9 by 13-inch pan"), 0))]
['9', '13-inch']
>>> sides_at(tokenize("9 pans"), 0) is None
True
"""

from __future__ import annotations

from dataclasses import replace

from cardsmith.language.faults import Fault, fault_at
from cardsmith.language.figures.amounts import Amount, amount_at
from cardsmith.language.figures.numbers import ARTICLES, Form, Number, number_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.noun_phrases import is_plural, phrase_at, vessel_at
from cardsmith.language.tokens import DASHES, SLASHES, TokenKind, Tokens
from cardsmith.language.word_classes import words_of
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import WEIGHED, Dimension, System, Unit

CROSSES = frozenset({"x", "×", "by"})
_MOST_SIDES = 3  # width, length, depth
# Shapes whose edges are all as long: two unlike numbers before them are a number of pieces and an edge.
_EVEN_SIDED = words_of("piece of even sides")
_OF_ANY_SHAPE = words_of("piece of any shape")
_LONGEST = 2  # times its breadth, a piece cut from a slab; common practice, no source
_MOST_WITH_PART = 4  # cups or pounds of one thing; "12 1/2-cup servings" may be twelve (common practice)
_NO_RANGE = 3  # times its lower end: the upper end of no range in one word (common practice, no source)
_MOST_TINS = 8  # counted before a cross; more is a side of one


def sides_at(tokens: Tokens, at: int, measures: System = System.US) -> list[Amount] | None:
    """Two or three numbers with "by" or a cross between; None where no such size begins at token ``at``."""
    sides: list[Amount] = []
    place: int | None = at
    while place is not None and len(sides) < _MOST_SIDES:
        amount = amount_at(tokens, place, measures)
        if amount is None or amount.quantity is None or amount.form is Form.ARTICLE:
            return None
        if amount.quantity.dimension is Dimension.COUNT:
            amount = replace(amount, has_unit=False, end=_number_end(tokens, amount))
        sides.append(amount)
        place = _next_side(tokens, amount.end)
    return sides if len(sides) > 1 else None


def edges_at(tokens: Tokens, at: int) -> int | None:
    """Where a size of several edges that says its unit ends; None where none begins at ``at``."""
    sides = sides_at(tokens, at)
    last = sides[-1] if sides else None
    if last is None or not last.has_unit or last.quantity is None:
        return None
    return last.end if last.quantity.dimension is Dimension.LENGTH else None


def _number_end(tokens: Tokens, amount: Amount) -> int:
    number = number_at(tokens, amount.first)
    return number.end if number else amount.end


def _next_side(tokens: Tokens, end: int) -> int | None:
    """Where the next side of a size begins: behind ``x``, ``×`` or "by"."""
    place = end + (tokens[end].text in DASHES)
    if tokens[place].low not in CROSSES:
        return None
    place += 1
    place += tokens[place].text in DASHES
    number = number_at(tokens, place)
    return place if number is not None and number.form is not Form.ARTICLE else None


def are_several(tokens: Tokens, sides: list[Amount]) -> bool:
    """Whether the first number counts things of one size: "3 × 18 cm cake tins"."""
    first, last = sides[0], sides[-1]
    if not _may_count(tokens, sides) or first.quantity is None:
        return False
    phrase = vessel_at(tokens, past_again(tokens, last.end))
    if phrase is None or first.quantity.low > _MOST_TINS:
        return False
    return is_plural(phrase.head) or first.quantity.low == 1  # "1 x 23 cm tin": none is 1 cm wide


def may_be_several(tokens: Tokens, sides: list[Amount]) -> bool:
    """Whether a number of pieces stands where an edge might: "24 × 4 cm bars", "16 × 5 cm squares"."""
    if not _may_count(tokens, sides):
        return False
    first, last = lengths(sides)
    noun = _cut_noun(tokens, sides[-1].end)
    long = first.low > _LONGEST * last.low  # no bar is so long
    return (noun in _OF_ANY_SHAPE and long) or (noun in _EVEN_SIDED and first.low != last.low)


def _may_count(tokens: Tokens, sides: list[Amount]) -> bool:
    """Whether the first of two numbers may be one of things: it is whole, without a unit, before a cross."""
    first = sides[0]
    cross = first.end + (tokens[first.end].text in DASHES)
    crossed = len(sides) == 2 and not first.has_unit and tokens[cross].low != "by"
    return crossed and first.quantity is not None and first.quantity.low.denominator == 1


def _cut_noun(tokens: Tokens, end: int) -> str:
    """The plural that a size describes, right behind it."""
    phrase = phrase_at(tokens, past_again(tokens, end))
    return phrase.head if phrase.words and is_plural(phrase.head) else ""


def past_again(tokens: Tokens, end: int) -> int:
    """Past the same size in another unit: "20 cm (8 in)", "20-cm/8 in."."""
    other = amount_at(tokens, end + 1) if tokens[end].text in SLASHES else None
    return other.end if other is not None else tokens.past_bracket(end)


def are_steps(tokens: Tokens, sides: list[Amount]) -> bool:
    """``two by two``."""
    first, second = sides[0].quantity, sides[1].quantity
    same = first is not None and second is not None and first.low == second.low
    return tokens[sides[0].end].low == "by" and same


def lengths(sides: list[Amount]) -> tuple[Quantity, ...]:
    """The sides of a size; one without a unit has that of the side behind it."""
    quantities: list[Quantity] = []
    unit: Unit | None = None
    for side in reversed(sides):
        assert side.quantity is not None  # sides_at has looked
        unit = side.quantity.unit if side.has_unit or unit is None else unit
        low, high = side.quantity.low, side.quantity.high
        if not side.has_unit:
            low, high = unit.to_base(low), unit.to_base(high)
        quantities.insert(0, replace(side.quantity, low=low, high=high, unit=unit))
    return tuple(quantities)


def parted_count(tokens: Tokens, at: int) -> Number | None:
    """The whole number at ``at`` that a dash between blanks parts from a size: "2 - 9-inch layers".

    A range has its dash closed up, or a hyphen of its own: 2–3-inch, 2- to 3-inch.
    """
    number = number_at(tokens, at)
    if number is None or number.value is None or number.value.denominator != 1:
        return None
    dash, size = tokens[number.end], tokens[number.end + 1]
    return number if dash.text in DASHES and not (dash.glued or size.glued) else None


def counted_apart(tokens: Tokens, at: int, measures: System) -> Number | None:
    """The count of ``2 - 9-inch layers``; two numbers near each other are a range: "1 - 2-inch pieces"."""
    number = parted_count(tokens, at)
    if number is None or number.value is None:
        return None
    sides = sides_at(tokens, number.end + 1, measures) or ()
    last = sides[-1] if sides else amount_at(tokens, number.end + 1, measures)
    size = last.quantity if last is not None and last.has_unit else None
    if last is None or size is None or size.dimension not in WEIGHED | {Dimension.LENGTH}:
        return None
    noun = phrase_at(tokens, past_again(tokens, last.end))
    vessel = vessel_at(tokens, noun.first) is not None
    named = vessel or (as_adjective(tokens, last) and any(map(is_plural, noun.words[:3])))
    least = 2 if vessel else _NO_RANGE
    ranged = not sides and 1 < size.unit.from_base(size.high) / number.value < least
    return number if named and not ranged else None


def as_adjective(tokens: Tokens, size: Amount) -> bool:
    """Whether a size is one word with its unit: 9-inch, 9"."""
    return size.joined or (size.has_unit and not tokens[size.unit_first].low.isalpha())


def two_ways(tokens: Tokens, first: Amount) -> Fault | None:
    """The fault of a size that may be a count and a size: "1 ½-inch piece", "2-4-oz. chops"."""
    number = number_at(tokens, first.first)
    if number is None or first.quantity is None:
        return None
    second = first.first + 1
    held = unit_at(tokens, first.end)  # "1 1/4 oz packet" is mostly one of a quarter of an ounce
    packed = held is not None and held.unit.system is System.CONTAINER and first.quantity.unit.name == "ounce"
    one_packed = packed and tokens[first.first].text == "1"
    if not first.joined and not one_packed:
        return None
    several = any(map(is_plural, phrase_at(tokens, first.end).words[:3]))
    parted = not tokens[second].glued and number.end > second and tokens[first.first].kind is TokenKind.DIGITS
    if parted and (several or one_packed or tokens[second].kind is TokenKind.SIGN):
        size = tokens.between(second, first.end)
        whole = f"{tokens[first.first].text}{size}"
    elif first.quantity.is_range and number.end == second and tokens[second].text in DASHES:
        if not several or not tokens[second].glued:
            return None
        size = tokens.between(second + 1, first.end)
        whole = f"{tokens[first.first].text}- to {size}"
    else:
        return None
    count = tokens[first.first].text
    what, instead = (
        f"“{{}}” may be “{whole}”, or {count} of {size.replace('-', ' ')}",
        f"“{whole}”, or “{count} ({size})”",
    )
    return fault_at(tokens, first.first, first.end, "unreadable-amount", what, instead)


def two_ways_in_text(tokens: Tokens, size: Amount) -> Fault | None:
    """The same of a sentence, where an article or the noun's number may tell: "a 1 ½-inch piece"."""
    before, count = tokens[size.first - 1].low, tokens[size.first].text
    noun = phrase_at(tokens, size.end).words
    agrees = bool(noun) and any(map(is_plural, noun[:3])) is (count != "1")
    glyph = tokens[size.first + 1].kind is TokenKind.SIGN  # "2 1/2-inch" is how half is typed
    quantity = size.quantity
    several = (
        quantity is not None
        and quantity.dimension in WEIGHED
        and quantity.unit.from_base(quantity.low) > _MOST_WITH_PART
    )
    if not (agrees and (glyph or several)) or before in ARTICLES:
        return None
    return two_ways(tokens, size)
