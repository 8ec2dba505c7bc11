"""How numbers and units are spelled in print: vulgar fractions, plurals, no-break spaces."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

NO_BREAK = "\u00a0"
VULGAR = {
    Fraction(1, 8): "⅛",
    Fraction(1, 4): "¼",
    Fraction(1, 3): "⅓",
    Fraction(3, 8): "⅜",
    Fraction(1, 2): "½",
    Fraction(5, 8): "⅝",
    Fraction(2, 3): "⅔",
    Fraction(3, 4): "¾",
    Fraction(7, 8): "⅞",
}
# (short, long singular, long plural); the short forms stand in the list, the long ones in sentences.
WORDS = {
    "cup": ("cup", "cup", "cups"),
    "tablespoon": ("tbsp", "tablespoon", "tablespoons"),
    "teaspoon": ("tsp", "teaspoon", "teaspoons"),
    "fluid ounce": ("fl oz", "fluid ounce", "fluid ounces"),
    "pint": ("pt", "pint", "pints"),
    "quart": ("qt", "quart", "quarts"),
    "gallon": ("gal", "gallon", "gallons"),
    "ounce": ("oz", "ounce", "ounces"),
    "pound": ("lb", "pound", "pounds"),
    "inch": ("in", "inch", "inches"),
    "gram": ("g", "g", "g"),
    "kilogram": ("kg", "kg", "kg"),
    "millilitre": ("ml", "ml", "ml"),
    "litre": ("L", "L", "L"),
    "millimetre": ("mm", "mm", "mm"),
    "centimetre": ("cm", "cm", "cm"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """So many of one unit, as printed: ``1½ cups``."""

    number: Fraction
    unit: str  # a key of WORDS, or "" for a bare count


@lru_cache(maxsize=4096)
def fraction_text(number: Fraction) -> str:
    """``1½`` for 3/2; a fraction without a character of its own is set with U+2044: ``1⁄16``."""
    whole, part = divmod(number, 1)
    if not part:
        return str(whole)
    glyph = VULGAR.get(part)
    if glyph:
        return f"{whole or ''}{glyph}"
    written = f"{part.numerator}\u2044{part.denominator}"
    return f"{whole}\u2009{written}" if whole else written


@lru_cache(maxsize=4096)
def decimal_text(number: Fraction) -> str:
    """``2.5`` for 5/2. The number must have a finite decimal form, as every rung of a ladder has."""
    scaled = number
    places = 0
    while scaled.denominator != 1 and places < 6:
        scaled, places = scaled * 10, places + 1
    if scaled.denominator != 1:
        raise ValueError(f"{number} has no short decimal form")
    text = str(abs(scaled.numerator)).rjust(places + 1, "0")
    sign = "\u2212" if number < 0 else ""
    return sign + (f"{text[:-places]}.{text[-places:]}" if places else text)


def number_text(term: Term) -> str:
    """The number alone: fractions for US units and counts, decimals for metric ones."""
    metric = term.unit in {"gram", "kilogram", "millilitre", "litre", "millimetre", "centimetre"}
    return decimal_text(term.number) if metric else fraction_text(term.number)


def unit_text(unit: str, number: Fraction, *, long: bool) -> str:
    """The unit's word after ``number``: one and less takes the singular, ``½ cup``."""
    short, singular, plural = WORDS[unit]
    if unit == "cup":
        return singular if number <= 1 else plural
    if not long:
        return short
    return singular if number <= 1 else plural


def terms_text(terms: tuple[Term, ...], *, long: bool = False) -> str:
    """``½ cup plus 1 tablespoon``, or ``½ cup + 1 tbsp`` in a list."""
    joint = " plus " if long else f"{NO_BREAK}+ "
    pounds_and_ounces = [term.unit for term in terms] == ["pound", "ounce"]
    return (" " if pounds_and_ounces else joint).join(_term_text(term, long=long) for term in terms)


def range_text(low: Term, high: Term, *, long: bool = False) -> str:
    """``2 to 3 tablespoons``: both ends in one unit, said once."""
    if low.unit != high.unit:
        return f"{_term_text(low, long=long)} to {_term_text(high, long=long)}"
    unit = f"{NO_BREAK}{unit_text(high.unit, high.number, long=long)}" if high.unit else ""
    return f"{number_text(low)} to {number_text(high)}{unit}"


def _term_text(term: Term, *, long: bool) -> str:
    if not term.unit:
        return number_text(term)
    return f"{number_text(term)}{NO_BREAK}{unit_text(term.unit, term.number, long=long)}"
