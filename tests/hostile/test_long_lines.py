"""Lines that make a careless pattern try everything: reading stays about as long as the text."""

from __future__ import annotations

import pytest

from cardsmith.finding import Where
from cardsmith.language.prose.fields import LONGEST_TEXT
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.fields.steps import read_step
from tests.pace import within

WHERE, LARDER = Where(file="x", line=1, column=1), load_larder()
PIECES = [
    "1×1×", "1 x ", "1 by ", "1 °C ", "350 °", "1-", "1–2 ", "1/", "½", "(", "[a](", "`", "**a",
    "\u00a0", "\t ", "1 cup plus ", "1 h 1 min ", "to ", "a ", "9", "e\u0301", "\u05d0", "{{", "<a>", "&amp;",
]  # fmt: skip


@pytest.mark.parametrize("piece", PIECES)
@pytest.mark.parametrize("before", ["", "1 cup "])
def test_a_long_line_ends_soon(piece: str, before: str) -> None:
    with within(3):  # the slowest took 23 when four numbers could be sides
        for length in (LONGEST_TEXT, 10_000):
            text = (before + piece * 10_000)[:length]
            read_line(text, WHERE, LARDER)
            read_step(text, WHERE)
