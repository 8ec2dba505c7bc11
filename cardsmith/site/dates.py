"""A day in words."""

from __future__ import annotations

_MONTHS = "January February March April May June July August September October November December".split()


def long_date(day: str, language: str) -> str:
    """``2026-06-20`` as ``June 20, 2026`` in American English, else ``20 June 2026``; "" for none."""
    if not day:
        return ""
    year, month, number = day.split("-")
    name = _MONTHS[int(month) - 1]
    return f"{name} {int(number)}, {year}" if language == "en-US" else f"{int(number)} {name} {year}"
