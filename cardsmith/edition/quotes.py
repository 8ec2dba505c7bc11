"""The quotes of an edition in a text of another: “so” outermost in one, ‘so’ in the other.

>>> requoted("Bake until it “sings” (“the ‘crumb’ test”).", "double", "single")
'Bake until it ‘sings’ (‘the “crumb” test’).'
>>> requoted("The baker’s ‘last’ loaf, a 9\\" tin", "single", "double")
'The baker’s “last” loaf, a 9" tin'
"""

from __future__ import annotations

import re

from cardsmith.regex import regex

MARKS = {"double": ("“", "”"), "single": ("‘", "’")}
# What is quoted begins behind no letter and ends before none, so an apostrophe and a prime are neither.
_QUOTED = {
    "double": regex(r"(?<!\w)[“\"](?=\S)([^“”\"]*[^“”\"\s])[”\"](?!\w)"),
    "single": regex(r"(?<!\w)‘(?=\S)((?:[^‘’]|’(?=\w))*[^‘’\s])’(?!\w)"),
}


def requoted(text: str, home: str, wanted: str) -> str:
    """``text`` with the quotes of the other edition, and what is quoted within as that has it."""
    if home == wanted or not any(mark in text for mark in ('"', *MARKS[home])):
        return text
    begin, end = MARKS[wanted]

    def told(match: re.Match[str]) -> str:
        return f"{begin}{_QUOTED[wanted].sub(_outer(home), match[1])}{end}"

    return _QUOTED[home].sub(told, text)


def _outer(form: str) -> str:
    begin, end = MARKS[form]
    return rf"{begin}\1{end}"
