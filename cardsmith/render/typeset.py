"""Typewriter text becomes typesetter's text: the marks, spaces and fractions a printed page uses.

Only marks change, never a word or a number. Sources: the names of the characters in The Unicode Standard,
chapter 6 "General Punctuation"; a space between number and unit, NIST SP 811 (2008), 7.2.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from itertools import takewhile

from markupsafe import Markup, escape

from cardsmith.recipe.model import Protected, Words
from cardsmith.rewrite.card import Rewritten

NO_BREAK = "\u00a0"
FRACTION_SLASH = "\u2044"

_UNITS = (
    r"(?:kg|g|mg|ml|mL|l|L|cm|mm|m|°C|°F|°|%|fl|oz|ounces?|lb|lbs|pounds?|cups?|pints?|quarts?|tablespoons?|tbsp"
    r"|teaspoons?|tsp|inch(?:es)?|in\.|minutes?|min|hours?|h|seconds?|days?|weeks?|months?|degrees?|×|by)"
)
_MARKS: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern), mark)
    for pattern, mark in (
        (r"\.\.\.", "…"),
        (r"(?<=\d) ?[x×] ?(?=\d)", f"{NO_BREAK}×{NO_BREAK}"),  # 9 x 13
        (r"(?<![\w.,)\]°%″′])-(?=\d)", "−"),  # a minus, not the hyphen of 2-cm dice
        (r"(?<=[\d½⅓⅔¼¾⅛⅜⅝⅞])\"(?=[\s.,;:)×x]|$)", "″"),  # inches
        (r"(^|[\s(\[—–“‘/])\"", r"\1“"),
        (r"\"", "”"),
        (r"(^|[\s(\[—–“])'(?!\d0s|tis|n')", r"\1‘"),
        (r"'", "’"),
        (rf"(?<=[\d½⅓⅔¼¾⅛⅜⅝⅞]) (?={_UNITS}(?!\w))", NO_BREAK),
        (r"(?<=\d) (?=[½⅓⅔¼¾⅛⅜⅝⅞])", ""),  # 1 ½ is one number
    )
)
# What the shipped fonts lack, in characters they have.
_RARE = str.maketrans(
    {
        "⅐": "1⁄7",
        "⅑": "1⁄9",
        "⅒": "1⁄10",
        "℃": "°C",
        "℉": "°F",
        "\u2010": "-",
        "\u2011": "-",
        "\u202f": NO_BREAK,
    }
)
_LAST_WORDS = re.compile(r"(?<=[\w,;”’)]{2}) ([^\s<>&]{1,9})$")
_SLASHED = re.compile(rf"(\d+){FRACTION_SLASH}(\d+)")
_NUMBER = re.compile(
    r"(?:about |scant |heaping |up to |at least )?[\d½⅓⅔¼¾⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚.,⁄ ]*[\d½⅓⅔¼¾⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚]"
)


def marks(text: str) -> str:
    """Plain text with typographic quotes, primes, minus and multiplication signs, and spaces that hold."""
    plain = unicodedata.normalize("NFC", text).translate(_RARE)
    for pattern, mark in _MARKS:
        plain = pattern.sub(mark, plain)
    return plain


def typeset(text: str) -> Markup:
    """Text as HTML: escaped, with the marks of `marks`; fractions without a character are named.

    Fonts draw digits around U+2044 as a fraction, but screen readers stumble over it.
    """
    return Markup(_SLASHED.sub(_spoken, str(escape(marks(text)))))


def _spoken(fraction: re.Match[str]) -> str:
    return f'<span role="img" aria-label="{fraction[1]} over {fraction[2]}">{fraction[0]}</span>'


def spans(pieces: Iterable[Words | Protected | Rewritten]) -> Markup:
    """Running text of a step, a headnote or a storage line as HTML."""
    return Markup("").join(_span(piece) for piece in pieces)


def _span(piece: Words | Protected | Rewritten) -> Markup:
    match piece:
        case Words(text=text, emphasis=emphasis) if emphasis in {"em", "strong"}:
            return Markup("<{0}>{1}</{0}>").format(emphasis, typeset(text))
        case Rewritten(text=text, author=author):
            return Markup('<span class="measure" title="Measured: {}">{}</span>').format(
                marks(author), typeset(text)
            )
        case Protected(text=text):
            return escape(text)
        case Words(text=text):
            return typeset(text)


def unwidowed(text: Markup) -> Markup:
    """Running text whose last two words stand on one line, unless they are long."""
    return Markup(_LAST_WORDS.sub(rf"{NO_BREAK}\1", str(text)))  # the same markup with one space changed


def number_and_unit(text: str) -> tuple[str, str]:
    """``1½ cups`` as its number and the rest, so that a column can align on the figure.

    A text that doesn't begin with a number is all rest.
    """
    found = _NUMBER.match(text)
    return (found[0], text[found.end() :].lstrip(f" {NO_BREAK}")) if found else ("", text)


def shortened(text: str, limit: int) -> str:
    """``text`` cut at a word to at most ``limit`` characters, with an ellipsis if anything went."""
    if len(text) <= limit:
        return text
    lengths = (len(" ".join(text.split()[: count + 1])) for count in range(len(text.split())))
    kept = len(list(takewhile(lambda length: length < limit, lengths)))
    return (" ".join(text.split()[:kept]) or text[: limit - 1]).rstrip(",;: ") + "…"
