"""The progress bar: seen on a terminal, and never between what is counted and who asks for it."""

from __future__ import annotations

import io
import sys

import pytest

from cardsmith.commands.progress import LONG, progress


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(
    ("errors", "number", "shown", "bar"),
    [
        (Terminal(), LONG, True, True),
        (Terminal(), LONG - 1, True, False),  # a bar for so few is noise
        (Terminal(), LONG, False, False),
        (io.StringIO(), LONG, True, False),  # a file, a pipe
    ],
)
def test_a_bar_stands_on_a_terminal_only(
    monkeypatch: pytest.MonkeyPatch, errors: io.StringIO, number: int, shown: bool, bar: bool
) -> None:
    monkeypatch.setattr(sys, "stderr", errors)
    assert list(progress(iter(range(number)), number, shown=shown)) == list(range(number))
    told = errors.getvalue()
    assert (f"{number}/{number}" in told) is bar
    assert bar or not told
