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
    """Whether a line has an amount of a food of the larder where a list has it: before it, or behind it."""
    line = line_of(text, larder)
    if line.main is None or line.match is None:
        return False
    return line.main.start < LEAD or not text[line.main.end :].strip(" .;,)")
