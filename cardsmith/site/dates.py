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
