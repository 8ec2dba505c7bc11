"""Days in the form of another English."""

from __future__ import annotations

import pytest

from cardsmith.language.dates import in_form


@pytest.mark.parametrize(
    ("american", "british"),
    [
        ("October 31", "31 October"),
        ("on July 4, 2026, early", "on 4 July 2026, early"),
        ("by Dec. 24 at noon", "by 24 Dec. at noon"),
        ("May 10.", "10 May."),
    ],
)
def test_a_day_is_told_both_ways(american: str, british: str) -> None:
    assert in_form(american, "day-first") == british
    assert in_form(british, "month-first") == american


@pytest.mark.parametrize(
    "text", ["October 1–3", "October 1 to 3", "In June 300 g sugar", "It may 3 times", "Issue 31 October"]
)
def test_what_is_no_day_stays(text: str) -> None:
    assert in_form(text, "day-first") == text
