"""What `language/` reads of a line of a list, read once, since sorting asks about the same line often."""

from __future__ import annotations

from functools import lru_cache

from cardsmith.language.line.read import Line, read_text
from cardsmith.measure.larder import Larder

LEAD = 12  # characters before an amount: "about", "a good"


@lru_cache(maxsize=1 << 12)
def line_of(text: str, larder: Larder) -> Line:
    """What a text says, taken as a line of a list of ingredients."""
    return read_text(text, larder)


def is_listed(text: str, larder: Larder) -> bool:
    """Whether a line begins as an ingredient does, with an amount of a food of the larder."""
    line = line_of(text, larder)
    return line.main is not None and line.main.start < LEAD and line.match is not None
