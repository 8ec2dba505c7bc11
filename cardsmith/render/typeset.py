"""Typewriter text becomes typesetter's text: the marks, spaces and fractions a printed page uses.

Only marks change, never a word or a number. Sources: the names of the characters in The Unicode Standard,
chapter 6 "General Punctuation"; a space between number and unit, NIST SP 811 (2008), 7.2.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from itertools import takewhile

from markupsafe import Markup, escape

from cardsmith.language.spans import Protected, Words
from cardsmith.render.direction import steady
from cardsmith.rewrite.card.model import Rewritten, Timed
from cardsmith.rewrite.wording import ENGLISH
from cardsmith.words import FixedWords, fixed_words

NO_BREAK = "\u00a0"
FRACTION_SLASH = "\u2044"

_UNITS = (
    r"(?:kg|g|mg|ml|mL|l|L|cm|mm|m|°C|°F|°|%|fl|oz|ounces?|lb|lbs|pounds?|cups?|pints?|quarts?|tablespoons?|tbsp"
    r"|teaspoons?|tsp|inch(?:es)?|in\.|kJ|kcal|kPa|psi|W|minutes?|min|hours?|h|seconds?"
    r"|days?|weeks?|months?|degrees?|×|by)"
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
        (rf"(?<=\d{NO_BREAK}by) (?=\d)", NO_BREAK),  # 12 by 16 inches
        (r"(?<=\d) (?=\(±)", NO_BREAK),  # −1 (±2.3)
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
_SEEN = re.compile(r"<[^>]*>|&[^;\s]+;|.", re.DOTALL)  # of markup: a tag, or a character
_FIGURES = "\\d½⅓⅔¼¾⅛⅜⅝⅞"
# 8 to 10; 9-inch, 2-by-3¼-inch, skin-on, gluten-free, medium-high: what ends in a hyphen there is lost.
_JOINED = re.compile(
    rf"(?<![\w{FRACTION_SLASH}-])"
    rf"(?:[{_FIGURES}]+ to [{_FIGURES}]+|[{_FIGURES}]+(?:-[\w{_FIGURES}]{{1,9}})+"
    rf"|(?:\w{{1,12}}-){{1,2}}(?:free|based|high)|\w{{1,12}}-\w{{1,3}}|\w{{1,4}}-\w{{1,12}})(?![\w-])"
)
# The last word of a paragraph, if print.css would divide it and any line holds it.
_LAST_WORD = re.compile(r"(?<![^\W\d_])[^\W\d_]{11,18}(?=[^\w<>]*(?:</\w+>)*$)")
_LAST_LETTERS = 10  # of the last line of a paragraph, at least
# Where a line may end within a measure of running text: before a bracket, a further term, another system's.
_TURNS = re.compile(rf"[ {NO_BREAK}](?=[(/+]|plus\b|minus\b)")
_SPACES = re.compile(rf" |{NO_BREAK}(?=\+)")
_LEADING = frozenset({"+", "/", "to", "and", "in", "as", "about", "plus", "minus"})  # held to the next
_LONGEST = 20  # letters of a piece that the narrowest column holds on one line
_BRACKETED = re.compile(rf"\([^()]{{1,{_LONGEST - 2}}}\)")  # (150 g in all)
_SLASHED = re.compile(rf"(\d+){FRACTION_SLASH}(\d+)")


@lru_cache(maxsize=4096)  # a card's words recur on its page, in its data and in other batch sizes
def marks(text: str) -> str:
    """Plain text with typographic quotes, primes, minus and multiplication signs, and spaces that hold."""
    plain = unicodedata.normalize("NFC", text).translate(_RARE)
    for pattern, mark in _MARKS:
        plain = pattern.sub(mark, plain)
    return steady(plain)


def typeset(text: str) -> Markup:
    """Text as HTML: escaped, with the marks of `marks`; fractions without a character are named.

    Fonts draw digits around U+2044 as a fraction, but screen readers stumble over it.
    """
    return Markup(_SLASHED.sub(_spoken, str(escape(marks(text)))))


def _spoken(fraction: re.Match[str]) -> str:
    return f'<span role="img" aria-label="{fraction[1]} over {fraction[2]}">{fraction[0]}</span>'


def pieces(text: str) -> tuple[Markup, ...]:
    """A measure of a list as the pieces that no line divides: ``½ cup``, ``+ 1 tbsp``, ``(14 g in all)``."""
    text = _BRACKETED.sub(lambda bracket: bracket[0].replace(" ", NO_BREAK), marks(text))
    joined: list[str] = []
    for word in _SPACES.split(text):
        if joined and joined[-1].rpartition(NO_BREAK)[2] in _LEADING:
            joined[-1] += NO_BREAK + word
        else:
            joined.append(word)
    return tuple(typeset(piece) for piece in joined if piece)


def whole(text: str) -> Markup:
    """A measure or a time in running text, whose pieces no line divides."""
    one_line = Markup('<span class="held">{}</span>')
    parted = (
        (typeset(piece),) if len(piece) <= _LONGEST else pieces(piece) for piece in _TURNS.split(marks(text))
    )
    flat = (inseparable for piece in parted for inseparable in piece)
    return Markup(" ").join(
        one_line.format(inseparable) if len(inseparable.striptags()) <= _LONGEST else inseparable
        for inseparable in flat
    )


def spans(text: Iterable[Words | Protected | Rewritten], say: FixedWords = ENGLISH) -> Markup:
    """Running text of a step, a headnote or a storage line as HTML."""
    return Markup("").join(_span(piece, say) for piece in text)


def _span(piece: Words | Protected | Rewritten, say: FixedWords) -> Markup:
    match piece:
        case Words(text=text, emphasis=emphasis) if emphasis in {"em", "strong"}:
            return Markup("<{0}>{1}</{0}>").format(emphasis, typeset(text))
        case Rewritten(author=author):
            title = fixed_words(say.language)("Measured: {amount}", amount=marks(author))
            measure = whole(piece.in_words(say))
            return Markup('<span class="measure" title="{}">{}</span>').format(title, measure)
        case Timed(text=text):
            return whole(text)
        case Protected(text=text):
            return escape(text)
        case Words(text=text):
            return typeset(text)


def unwidowed(text: Markup, most: int = 22) -> Markup:
    """Running text whose last line is not one word or two short ones: its last spaces become no-break spaces.

    They hold together two words and ten letters at least, and ``most`` letters at most.
    """
    pieces = _SEEN.findall(str(text))
    seen = [place for place, piece in enumerate(pieces) if not piece.startswith("<")]
    spaces = [number for number, place in enumerate(seen) if pieces[place] == " "]
    for before, space in zip([-1, *spaces][::-1][1:], spaces[::-1], strict=True):
        tail = "".join(pieces[place] for place in seen[space + 1 :])
        if (len(tail.split()) > 1 and len(seen) - space > _LAST_LETTERS) or len(seen) - before - 1 > most:
            break
        pieces[seen[space]] = NO_BREAK
    return Markup("".join(pieces))  # the same markup with some spaces changed


def held(text: Markup, most: int = 16) -> Markup:
    """Running text with each ``9-inch``, ``8 to 10`` and ``skin-on`` in an element that no line divides.

    Words of more than ``most`` letters are left as they are: one that no column can hold must be divided.
    """

    def whole(joined: re.Match[str]) -> str:
        return f'<span class="held">{joined[0]}</span>' if len(joined[0]) <= most else joined[0]

    pieces = re.split(r"(<[^>]*>)", str(text))
    bound = (piece if piece.startswith("<") else _JOINED.sub(whole, piece) for piece in pieces)
    return Markup("".join(bound))  # the same markup with elements around its own words


def composed(text: Markup, most: int = 22) -> Markup:
    """Running text made ready for a column of print, which holds ``most`` letters: `held` and `unwidowed`.

    Its last word is marked, so that no hyphen leaves half a word alone on the last line.
    """
    ended = Markup(_LAST_WORD.sub(r'<span class="end">\g<0></span>', str(text)))  # its own words, marked
    return unwidowed(held(ended, min(most, 16)), most)


def running(text: str) -> Markup:
    """Plain running text as HTML, no line of which divides a measure or a range: `typeset` and `held`."""
    return held(typeset(text))


def shortened(text: str, limit: int) -> str:
    """``text`` cut at a word to at most ``limit`` characters, with an ellipsis if anything went."""
    if len(text) <= limit:
        return text
    lengths = (len(" ".join(text.split()[: count + 1])) for count in range(len(text.split())))
    kept = len(list(takewhile(lambda length: length < limit, lengths)))
    return (" ".join(text.split()[:kept]) or text[: limit - 1]).rstrip(",;: ") + "…"
