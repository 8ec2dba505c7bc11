"""How far work has come: seen once it takes long, and never between what is counted and who asks for it."""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator

import pytest

from cardsmith.commands.progress import LONG, progress

MANY = 40


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def told(
    errors: io.StringIO, monkeypatch: pytest.MonkeyPatch, number: int, seconds: float, shown: bool
) -> str:
    """What is said of work whose things come ``seconds`` apart."""
    now = 0.0

    def slowly() -> Iterator[int]:
        nonlocal now
        for thing in range(number):
            now += seconds
            yield thing

    monkeypatch.setattr(sys, "stderr", errors)
    passed = progress(slowly(), number, shown=shown, noun="recipes", clock=lambda: now)
    assert list(passed) == list(range(number))
    return errors.getvalue()


@pytest.mark.parametrize(
    ("number", "seconds", "shown", "bar"),
    [
        (MANY, 1, True, True),
        (MANY, 0.01, True, False),  # it is over before anyone wonders
        (LONG - 1, 9, True, False),  # a bar for so few is noise
        (MANY, 1, False, False),
    ],
)
def test_a_bar_stands_on_a_terminal_once_it_takes_long(
    monkeypatch: pytest.MonkeyPatch, number: int, seconds: float, shown: bool, bar: bool
) -> None:
    said = told(Terminal(), monkeypatch, number, seconds, shown)
    assert (f"{number}/{number}" in said) is bar
    assert bar or not said


def test_a_file_gets_a_line_every_few_seconds(monkeypatch: pytest.MonkeyPatch) -> None:
    lines = told(io.StringIO(), monkeypatch, 12, 1, shown=True).splitlines()
    assert lines == ["2 of 12 recipes", "7 of 12 recipes", "12 of 12 recipes"]
    assert not told(io.StringIO(), monkeypatch, 12, 0.1, shown=True)
