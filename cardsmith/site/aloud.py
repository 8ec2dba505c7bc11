"""Fractions as they are read aloud: ½ as "one half", 1½ as "one and a half".

Screen readers name the characters of vulgar fractions differently or not at all, so the sign is hidden from
them and the words from the eye. The names are plain words; common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import partial

from markupsafe import Markup, escape

from cardsmith.frozen import frozen
from cardsmith.language.figures.numbers import ONES
from cardsmith.language.tokens import TokenKind, numeric, tokenize
from cardsmith.render.typeset import marks
from cardsmith.rewrite.wording import ENGLISH
from cardsmith.words import FixedWords

_NAMES = {2: "half", 3: "third", 4: "quarter", 5: "fifth", 6: "sixth", 8: "eighth"}  # of one-character signs
_BUILT = {
    7: "seventh",
    9: "ninth",
    10: "tenth",
    16: "sixteenth",
    32: "thirty-second",
}  # of figures and a slash
_WHOLE = ("no", *list(ONES)[1:13])  # up to twelve
_SLASH = "\u2044"
_BLANKS = frozenset({" ", "\u2009"})  # between a whole number and a fraction built of figures
_TAG = re.compile(r"(<[^>]*>)")
_NAMED = re.compile(r'<span role="img" aria-label="[^"]*">([^<]*)</span>')  # the typesetter's own naming


@frozen
class _Fraction:
    """A fraction of a text, from ``start`` to ``end``; ``whole`` is its whole number, empty for none."""

    start: int
    end: int
    whole: str
    over: int
    under: int
    sign: bool  # one character, rather than figures and a slash


def _fractions(text: str) -> Iterator[_Fraction]:
    """Every fraction of a text: a sign (``1½``), or figures and a slash (``1 15⁄16``)."""
    if text.isascii():
        return
    tokens = tokenize(text)
    for at, token in enumerate(tokens.all):
        before, slash, under = tokens[at - 1], tokens[at + 1], tokens[at + 2]
        if token.kind is TokenKind.SIGN:
            over, _, part = numeric(token.text).partition("/")
            joined, end = token.glued, token.end
        elif token.kind is TokenKind.DIGITS and slash.text == _SLASH and slash.glued and under.glued:
            over, part = token.text, under.text if under.kind is TokenKind.DIGITS else ""
            joined, end = text[before.end : token.start] in _BLANKS, under.end
        else:
            continue
        if part and len(over) + len(part) <= MOST_FIGURES:
            whole = before.text if joined and before.kind is TokenKind.DIGITS else ""
            start, sign = before.start if whole else token.start, token.kind is TokenKind.SIGN
            yield _Fraction(start=start, end=end, whole=whole, over=int(over), under=int(part), sign=sign)


MOST_FIGURES = 6


def _replaced(text: str, say_fraction: Callable[[str, _Fraction], str]) -> str:
    """``text`` with each fraction replaced by ``told``, which is given its printed form too."""
    pieces: list[str] = []
    done = 0
    for fraction in _fractions(text):
        pieces += [text[done : fraction.start], say_fraction(text[fraction.start : fraction.end], fraction)]
        done = fraction.end
    return "".join([*pieces, text[done:]])


def spoken(text: str, say: FixedWords = ENGLISH) -> str:
    """Plain text with its fractions in words, for a label that is only heard."""
    return _replaced(text, lambda _, fraction: _words(fraction, say))


def fractions_in(text: str) -> tuple[str, ...]:
    """The fractions of plain text, each with its whole number: ``1½``."""
    return tuple(text[fraction.start : fraction.end] for fraction in _fractions(text))


def aloud(markup: Markup, say: FixedWords = ENGLISH) -> Markup:
    """Markup whose fractions are seen as signs and heard as words; tags and attributes are unchanged."""
    return _in_text(markup, partial(_both, say))


def named(markup: Markup, say: FixedWords = ENGLISH) -> Markup:
    """Markup whose fractions are one element each, a picture with a name; nothing of it is hidden."""
    return _in_text(markup, partial(_one, say))


def _in_text(markup: Markup, say_fraction: Callable[[str, _Fraction], str]) -> Markup:
    pieces = _TAG.split(_NAMED.sub(r"\1", str(markup)))
    return Markup(
        "".join(piece if piece.startswith("<") else _replaced(piece, say_fraction) for piece in pieces)
    )


def text(plain: str, say: FixedWords = ENGLISH) -> Markup:
    """Plain text as HTML, with the marks of the typesetter and fractions that read aloud."""
    return aloud(escape(marks(plain)), say)


def _both(say: FixedWords, seen: str, fraction: _Fraction) -> str:
    return f'<span aria-hidden="true">{seen}</span><span class="aloud">{_words(fraction, say)}</span>'


def _one(say: FixedWords, seen: str, fraction: _Fraction) -> str:
    return f'<span role="img" aria-label="{_words(fraction, say)}">{seen}</span>'


def _words(fraction: _Fraction, say: FixedWords) -> str:
    """English joins both in its own way, ``one and a half``; others say what their table has of it."""
    part = _part(fraction)
    if say.language.startswith("en"):
        return part if not fraction.whole else _english(fraction, part)
    said = say.phrases.get(part) or say("{over} over {under}", over=fraction.over, under=fraction.under)
    return say("{whole} and {part}", whole=fraction.whole, part=said) if fraction.whole else said


def _part(fraction: _Fraction) -> str:
    name = (_NAMES if fraction.sign else _BUILT).get(fraction.under)
    if name is None:
        return f"{fraction.over} over {fraction.under}"
    if fraction.over == 1:
        return f"one {name}"
    return f"{_WHOLE[fraction.over] if fraction.sign else fraction.over} {name}s"


def _english(fraction: _Fraction, part: str) -> str:
    count = (
        _WHOLE[int(fraction.whole)]
        if len(fraction.whole) <= 2 and int(fraction.whole) < len(_WHOLE)
        else fraction.whole
    )
    vowel = "an" if part == "one eighth" else "a"
    return f"{count} and {vowel} {part[4:]}" if part.startswith("one ") else f"{count} and {part}"
