"""Words written from right to left, kept in place among words and numbers that run from left to right.

After a Hebrew or Arabic word a number is taken for part of it: "20 g" would stand on its other side, and a
typesetter would turn a whole line that begins with one. A left-to-right mark on either side prevents both
(Unicode Standard Annex 9, 2.6 "Implicit Directional Marks", and its rules P2 and W7).
"""

from __future__ import annotations

from cardsmith.regex import regex

LEFT_TO_RIGHT = "\u200e"
# Blocks of scripts that run from right to left, and their presentation forms. Source: UAX 9, table 4 (R, AL).
_LETTER = "[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff]"
_PHRASE = regex(rf"{_LETTER}(?:[\W\d_]*{_LETTER})*")  # with the blanks, marks and figures between its words


def steady(text: str) -> str:
    """The text with each right-to-left phrase between two marks; any other text is unchanged."""
    if text.isascii():
        return text
    return _PHRASE.sub(rf"{LEFT_TO_RIGHT}\g<0>{LEFT_TO_RIGHT}", text)
