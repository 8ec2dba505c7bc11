"""Days of a month in running text, in the form of another English: October 31, 31 October.

>>> in_form("From October 31, 2026 to November 2nd; made in June.", "day-first")
'From 31 October 2026 to 2 November; made in June.'
>>> in_form("On 31 October 2026, or the 1st of May.", "month-first")
'On October 31, 2026, or the 1st of May.'

A month is told by its capital; a span of days (October 1–3) stays as it is, and "March 3 eggs in" counts.

>>> in_form("March 3 eggs in on March 3.", "day-first")
'March 3 eggs in on 3 March.'
"""

from __future__ import annotations

import re

from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind
from cardsmith.regex import regex

_MONTH = (
    r"(?P<month>January|February|March|April|May|June|July|August|September|October|November|December"
    r"|Jan\.?|Feb\.?|Mar\.?|Apr\.?|Aug\.?|Sept?\.?|Oct\.?|Nov\.?|Dec\.?)"
)
_DAY = r"(?P<day>3[01]|[12]\d|[1-9])(?:st|nd|rd|th)?"
_YEAR = r"(?:,? (?P<year>(?:19|20)\d\d))?"
_END = r"(?!\d| ?[-–] ?\d| (?:to|and|or) \d)"  # a span of days stays as it is
_DATED = frozenset({Kind.REFERENCE, Kind.NAME})
_FORMS = {
    "day-first": regex(rf"\b{_MONTH} {_DAY}{_YEAR}{_END}"),
    "month-first": regex(rf"\b{_DAY} {_MONTH}{_YEAR}{_END}"),
}


def in_form(text: str, form: str) -> str:
    """``text`` with its days as ``form`` has them: ``day-first`` or ``month-first``."""
    if _FORMS[form].search(text) is None:
        return text
    days = {reading.start for reading in readings(text) if reading.kind in _DATED}

    def told(match: re.Match[str]) -> str:
        if match.start("day") not in days:
            return match[0]
        month, day, year = match["month"], match["day"], match["year"]
        if form == "day-first":
            return " ".join(filter(None, (day, month, year)))
        return f"{month} {day}, {year}" if year else f"{month} {day}"

    return _FORMS[form].sub(told, text)
