"""Phrases of a table's cell are found wherever one pattern of them all would find them."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.facts.cell_phrases import phrases

FOUND = [
    ("pickle*", "Pickled beets", "Pickled"),
    ("pickle", "Pickled beets", None),
    ("room temperature", "at room-temperature", "room-temperature"),
    ("taste ... dough", "Taste a little of the dough", "Taste a little of the dough"),
    ("taste ... dough", "taste the first small crumb of your own dough", None),  # more than five words
    ("dry ice ~ glass", "Dry ice in each punch glass.", "Dry ice in each punch glass"),
    ("dry ice ~ glass", "Add dry ice. Fill a glass.", None),
    ("* oil", "in rosemary oil", "rosemary oil"),
    ("* oil", "in oiled paper", None),
    ("on the shelf|on", "put on the shelf", "on the shelf"),
    ("on|on the shelf", "put on the shelf", "on"),  # the first of the cell holds
]


@pytest.mark.parametrize(("cell", "text", "found"), FOUND)
def test_a_phrase_is_found_by_its_words(cell: str, text: str, found: str | None) -> None:
    looked_for = phrases(cell)
    assert looked_for is not None
    match = looked_for.search(text)
    assert (match and match.group()) == found


def test_an_empty_cell_has_no_phrases() -> None:
    assert phrases(" ") is None


@pytest.mark.parametrize("cell", ["-ish", "ab*"])
def test_a_phrase_that_no_word_leads_to_is_refused(cell: str) -> None:
    with pytest.raises(ValueError, match="begin with a word"):
        phrases(cell)


WORDS = ("cold", "coldest", "in", "the", "ice", "icebox", "water", "a")
CELLS = ("cold*", "in the ice", "ice", "the cold|cold", "water", "in a")


@given(st.lists(st.sampled_from(CELLS), min_size=1), st.lists(st.sampled_from(WORDS)), st.integers(0, 30))
def test_many_phrases_are_found_as_one_pattern_finds_them(
    cells: list[str], words: list[str], start: int
) -> None:
    """Left to right, none over another, the first of the cell where two begin at one place."""
    text = " ".join(words)
    cell = "|".join(cells)
    looked_for = phrases(cell)
    assert looked_for is not None
    pattern = re.compile(rf"\b(?:{cell.replace('*', '[a-z]*')})\b")
    wanted = [match.span() for match in pattern.finditer(text, start)]
    assert [match.span() for match in looked_for.finditer(text, start)] == wanted
    assert looked_for.without(text) == pattern.sub(" ", text)
