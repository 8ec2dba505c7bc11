"""Pounds that are no weight: those of a gauge, by what is said of them or where food is canned.

>>> from cardsmith.language.tokens import tokenize
>>> is_pressure(tokenize("at 10 pounds pressure"), 3), is_pressure(tokenize("can 5 pounds of plums"), 3)
(True, False)
"""

from __future__ import annotations

from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.noun_phrases import phrase_at
from cardsmith.language.tokens import Tokens

_FARTHEST = 80  # tokens; so that time grows with the length of a text
_CANNER = frozenset({"pressure", "canner", "psi", "gauge", "dial-gauge", "weighted-gauge", "vent", "exhaust"})
_CANNING = frozenset({"process", "can", "vent", "exhaust"})


def is_pressure(tokens: Tokens, end: int) -> bool:
    """Whether pounds are those of pressure, by what is said of them or where food is canned.

    "10 pounds pressure", "process at 11 pounds in the canner", "at 10 lb pressure, or 15 lb above 900 m".
    """
    place = end + (tokens[end].low == "of")
    if tokens[place].low == "pressure":
        return True
    if phrase_at(tokens, place).words:
        return False  # can 5 pounds of tomatoes in a pressure canner
    canning = any(tokens[at].low in _CANNER for at in range(max(0, end - 10), end + 8))
    if canning and any(tokens[at].low in _CANNING for at in range(max(0, end - 10), end)):
        return True
    begins = max(end - _FARTHEST, 1)
    stop = (at for at in range(end - 2, begins, -1) if tokens.is_stop(at) and tokens[at].text != ";")
    said = range(end - 2, next(stop, begins), -1)
    pressed = (at for at in said if tokens[at].low == "pressure" and unit_at(tokens, at - 1) is not None)
    return any(tokens[at].low == "psi" for at in said) or any(pressed)
