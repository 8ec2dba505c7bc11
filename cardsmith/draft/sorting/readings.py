"""What `language/` reads of a line of a list, read once, since sorting asks about the same line often."""

from __future__ import annotations

from functools import lru_cache

from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.line.read import Line, read_text
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import tokenize
from cardsmith.measure.larder import Larder

COOKING = frozenset({Kind.DURATION, Kind.TEMPERATURE})
SHORT = 5  # words
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


def is_measured(text: str, larder: Larder) -> bool:
    """Whether a line begins with an amount of something, be it in the larder or not."""
    line = line_of(text, larder)
    return line.main is not None and line.main.start == 0 and bool(line.item)


def is_unit(word: str) -> bool:
    """Whether a word by itself is a unit."""
    tokens = tokenize(word)
    unit = unit_at(tokens, 0)
    return unit is not None and unit.end == len(tokens)


def has_figure(text: str) -> bool:
    """Whether a text holds a figure, be it a fraction."""
    return any(character.isnumeric() for character in text)


def cooks_by(text: str) -> bool:
    """Whether a text names a time or a heat to cook by, or is as long as a sentence."""
    return bool({reading.kind for reading in readings(text)} & COOKING) or len(text.split()) > SHORT
