"""Fractions that read aloud: ½ as "one half", 1½ as "one and a half".

Screen readers name the characters of vulgar fractions differently or not at all, so the sign is hidden from
them and the words from the eye. The names are plain English; common practice, no source.
"""

from __future__ import annotations

import re

from markupsafe import Markup, escape

from cardsmith.render.typeset import marks

_ALONE = {
    "½": "one half",
    "⅓": "one third",
    "⅔": "two thirds",
    "¼": "one quarter",
    "¾": "three quarters",
    "⅛": "one eighth",
    "⅜": "three eighths",
    "⅝": "five eighths",
    "⅞": "seven eighths",
    "⅕": "one fifth",
    "⅖": "two fifths",
    "⅗": "three fifths",
    "⅘": "four fifths",
    "⅙": "one sixth",
    "⅚": "five sixths",
}
_WHOLE = "no one two three four five six seven eight nine ten eleven twelve".split()
_PARTS = {"7": "seventh", "9": "ninth", "10": "tenth", "16": "sixteenth", "32": "thirty-second"}
_SIGN = f"[{''.join(_ALONE)}]"
_FRACTION = re.compile(  # 15⁄16 is no one and five sixteenths: a whole number stands apart
    rf"(?<!\d)(?P<whole>\d++(?={_SIGN}|[\u2009 ]\d++\u2044))?+"
    rf"(?:(?P<sign>{_SIGN})|(?:(?<=\d)[\u2009 ])?(?P<over>\d++)\u2044(?P<under>\d++))"
)
_TAG = re.compile(r"(<[^>]*>)")
_NAMED = re.compile(r'<span role="img" aria-label="[^"]*">([^<]*)</span>')  # the typesetter's own naming


def spoken(text: str) -> str:
    """Plain text with its fractions in words, for a label that is only heard."""
    return _FRACTION.sub(_words, text)


def fractions_in(text: str) -> tuple[str, ...]:
    """The fractions of plain text, each with its whole number: ``1½``."""
    return tuple(found[0] for found in _FRACTION.finditer(text))


def aloud(markup: Markup) -> Markup:
    """Markup whose fractions are seen as signs and heard as words; tags and attributes stay as they are."""
    pieces = _TAG.split(_NAMED.sub(r"\1", str(markup)))
    told = (piece if piece.startswith("<") else _FRACTION.sub(_both, piece) for piece in pieces)
    return Markup("".join(told))


def text(plain: str) -> Markup:
    """Plain text as HTML, with the marks of the typesetter and fractions that read aloud."""
    return aloud(escape(marks(plain)))


def _both(found: re.Match[str]) -> str:
    return f'<span aria-hidden="true">{found[0]}</span><span class="aloud">{_words(found)}</span>'


def _words(found: re.Match[str]) -> str:
    whole, sign = found["whole"], found["sign"]
    if sign:
        part = _ALONE[sign]
    elif found["under"] in _PARTS:
        part = f"{_WHOLE[1] if found['over'] == '1' else found['over']} {_PARTS[found['under']]}"
        part += "" if found["over"] == "1" else "s"
    else:
        part = f"{found['over']} over {found['under']}"
    if not whole:
        return part
    count = _WHOLE[int(whole)] if len(whole) <= 2 and int(whole) < len(_WHOLE) else whole
    vowel = "an" if part.startswith("one eighth") else "a"
    return f"{count} and {vowel} {part[4:]}" if part.startswith("one ") else f"{count} and {part}"
