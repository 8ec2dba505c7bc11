"""Fractions, ranges and units spelled the house way: ½ for 1/2, 3 to 4 for 3-4, tbsp for Tablespoons.

>>> [one.of("1 1/2 Tablespoons oil") for one in figures("1 1/2 Tablespoons oil", listed=True)]
['1½ Tablespoons oil', '1 1/2 tbsp oil']
>>> [one.of("Bake 3-4 mins.") for one in figures("Bake 3-4 mins.", listed=False)]
['Bake 3 to 4 mins.', 'Bake 3-4 minutes.']
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from cardsmith.draft.tidy.change import Change
from cardsmith.language.figures.numbers import number_at
from cardsmith.language.figures.unit_words import UnitFound, unit_at
from cardsmith.language.tokens import DASHES, Tokens, tokenize
from cardsmith.measure.units import Dimension, Unit

_SYMBOLS = frozenset({"tsp", "tbsp", "g", "kg", "mg", "ml", "oz", "lb", "fl oz"})  # others are spelled out
_WORDS = frozenset({"cup", "minute", "hour", "second"})
_LONGEST = 5  # tokens of a number


def figures(text: str, *, listed: bool) -> Iterator[Change]:
    """The changes to the figures and units of a text."""
    tokens = tokenize(text)
    for at in range(len(tokens)):
        yield from _fraction(tokens, at)
        yield from _range(tokens, at)
        yield from _unit(tokens, at, listed=listed)
        yield from _degree(tokens, at)


def _fraction(tokens: Tokens, at: int) -> Iterator[Change]:
    """A fraction in three tokens, with the whole number before it."""
    top, slash, bottom = tokens[at], tokens[at + 1], tokens[at + 2]
    if slash.text != "/" or not (slash.glued and bottom.glued) or tokens[at + 3].text == "/":
        return
    sign = _signs().get((top.text, bottom.text))
    before = tokens[at - 1]
    if sign is None or (top.glued and not before.text.isalpha()):
        return
    whole = before.text.isdigit() and number_at(tokens, at - 1) is not None and not top.glued
    start = before.end if whole and _reaches(tokens, at - 1, at + 3) else top.start
    yield Change(start, bottom.end, sign, "fractions")


def _reaches(tokens: Tokens, at: int, end: int) -> bool:
    number = number_at(tokens, at)
    return number is not None and number.end == end


@cache
def _signs() -> dict[tuple[str, str], str]:
    """The fractions that are one character, by their numbers."""
    edits = {}
    for code in (*range(0xBC, 0xBF), *range(0x2150, 0x215F)):
        top, _, bottom = unicodedata.normalize("NFKC", chr(code)).partition("\N{FRACTION SLASH}")
        edits[top, bottom] = chr(code)
    return edits


def _range(tokens: Tokens, at: int) -> Iterator[Change]:
    """A dash between two numbers."""
    before, dash, after = tokens[at - 1], tokens[at], tokens[at + 1]
    if dash.text not in DASHES or not (before.is_number and after.is_number):
        return
    ends = next((end for end in range(at + 1, at + _LONGEST) if not tokens[end].is_number), at + 2)
    if tokens[ends].text in DASHES or tokens[at - 2].text in DASHES:
        return  # 3-4-inch
    yield Change(before.end, after.start, " to ", "ranges")


def _unit(tokens: Tokens, at: int, *, listed: bool) -> Iterator[Change]:
    """A unit right behind its number."""
    if not tokens[at - 1].is_number:
        return
    unit = unit_at(tokens, at)
    value = _value_before(tokens, at)
    if unit is None or value is None:
        return
    spelled = _spelled(unit.unit, value, listed=listed)
    weighed = unit.unit.dimension in (Dimension.MASS, Dimension.VOLUME)
    lead = " " if spelled and tokens[at].glued and weighed else ""
    start, end = tokens[at].start, _end(tokens, unit)
    if spelled and lead + spelled != tokens.text[start:end]:
        yield Change(start, end, lead + spelled, "units")


def _degree(tokens: Tokens, at: int) -> Iterator[Change]:
    """The sign that a scale lacks, 180 C; of what is no heat, the reading would be another then."""
    scale = tokens[at]
    if scale.text in ("C", "F") and tokens[at - 1].is_number:
        yield Change(scale.start, scale.end, f"{' ' * scale.glued}°{scale.text}", "units")


def _end(tokens: Tokens, unit: UnitFound) -> int:
    """Where a unit ends: before its stop, where that ends the sentence too."""
    after = tokens[unit.end]
    closes = unit.dotted and (unit.end >= len(tokens) or after.text[:1].isupper())
    return tokens[unit.end - 1 - closes].end


def _spelled(unit: Unit, value: Fraction, *, listed: bool) -> str:
    """How the house spells a unit; empty where it leaves that to the author."""
    if unit.symbol in _SYMBOLS:
        return unit.symbol
    if unit.name not in _WORDS or (listed and unit.dimension is Dimension.DURATION):
        return ""
    return unit.name if value <= 1 else unit.plural


def _value_before(tokens: Tokens, at: int) -> Fraction | None:
    """The number that ends at a token; None where none does."""
    for start in range(max(0, at - _LONGEST), at):
        number = number_at(tokens, start)
        if number is not None and number.end == at and number.value is not None:
            return number.value
    return None
