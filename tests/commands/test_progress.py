"""How far work has come: seen once it takes long, and never between what is counted and who asks for it."""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator

import pytest

from cardsmith.commands.progress import LONG, estimate, progress

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
    assert lines == ["2 of 12 recipes", "7 of 12 recipes, about 5 s left", "12 of 12 recipes"]
    assert not told(io.StringIO(), monkeypatch, 12, 0.1, shown=True)


@pytest.mark.parametrize(
    ("seconds", "said"),
    [
        (0.001, ""),
        (9.6, "about 10 s left"),
        (89, "about 89 s left"),
        (840, "about 14 min left"),
        (7800, "about 2 h 10 min left"),
    ],
)
def test_what_is_left_is_told_in_round_words(seconds: float, said: str) -> None:
    assert estimate(0, 100, 2000, lambda: seconds, 1050) == said


def test_what_came_at_once_tells_nothing_of_the_pace(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 1,000 cards 980 stand; each of the others takes four seconds."""
    now, errors = 0.0, io.StringIO()

    def things() -> Iterator[int]:
        nonlocal now
        for thing in range(1000):
            now += 4 if thing >= 980 else 0
            yield thing

    monkeypatch.setattr(sys, "stderr", errors)
    list(progress(things(), 1000, shown=True, clock=lambda: now))
    assert errors.getvalue().splitlines()[:2] == ["981 of 1000 cards", "983 of 1000 cards, about 68 s left"]


def test_a_bar_says_what_is_left(monkeypatch: pytest.MonkeyPatch) -> None:
    assert "about 20 s left" in told(Terminal(), monkeypatch, MANY, 1, shown=True)
