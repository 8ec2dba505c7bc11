"""The date of a press file that neither a proof nor a trial dates."""

from __future__ import annotations

import datetime

import pytest

from cardsmith.engine.products import printing


def test_a_day_may_be_given_for_the_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """Seconds since 1970, as reproducible-builds.org has them."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1775088000")
    assert printing.today() == "2026-04-02"


def test_otherwise_it_is_the_day_of_writing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "")
    before = datetime.datetime.now(datetime.UTC).date()
    day = datetime.date.fromisoformat(printing.today())
    assert before <= day <= datetime.datetime.now(datetime.UTC).date()
