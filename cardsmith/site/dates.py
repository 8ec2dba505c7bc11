"""A day in words."""

from __future__ import annotations

from datetime import date


def long_date(day: str, language: str) -> str:
    """``2026-06-20`` as ``June 20, 2026`` in American English, ``20 June 2026`` in British; "" for none.

    Source: Unicode CLDR, the long form of a language's dates; English of no country has the American form.
    """
    if not day:
        return ""
    from babel.dates import format_date  # noqa: PLC0415 - only where a page is made

    return format_date(date.fromisoformat(day), "long", locale=language.replace("-", "_"))


def months_of(quarter: int, language: str) -> str:
    """``June – August``: the first and the last of three months; 0 begins with December."""
    from babel.dates import get_month_names  # noqa: PLC0415

    names = get_month_names("wide", locale=language.replace("-", "_"))
    return f"{names[(quarter * 3 - 1) % 12 + 1]} – {names[quarter * 3 + 2]}"
