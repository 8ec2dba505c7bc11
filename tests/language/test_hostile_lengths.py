"""Long texts of nothing but numerals and joints are read in time that grows as they do: calls are counted."""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import FrameType

import pytest

from cardsmith.finding import Where
from cardsmith.language.line.read import LONGEST_LINE, read_text
from cardsmith.language.prose.sentences import readings
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.fields.lines import read_ingredient_fields
from cardsmith.recipe.model import Text

HERE = Where(file="recipe.yaml")
GROWTH = 2.4  # of twice the text; what grew with its square would come to 4
RUNS = (
    "-1-", "1 ", "1/", "½", "1 to ", "1 or ", "3 by 4 ", "1 cup plus ", "1 cup (", "(1 g; ", "180 °C ",
    "200C/", "1, ", "about ", "twenty ", "1:30 ", "step 3, ", "up to ", "1 of ", "and ", "1 % to ", "(",
)  # fmt: skip


def calls(read: Callable[[], object]) -> int:
    """How many functions of Python reading calls."""
    count = 0

    def counted(_frame: FrameType, event: str, _of: object) -> None:
        nonlocal count
        count += event == "call"

    before = sys.getprofile()
    sys.setprofile(counted)
    try:
        read()
    finally:
        sys.setprofile(before)
    return count


@pytest.mark.parametrize("run", RUNS)
def test_a_sentence_twice_as_long_asks_for_twice_the_work(run: str) -> None:
    readings("Warm 1 cup of it to 60 °C.")  # what is loaded once is loaded
    once, twice = (calls(lambda many=many: readings(run * many)) for many in (400, 800))
    assert twice <= GROWTH * once


@pytest.mark.parametrize("run", RUNS)
def test_a_line_within_bounds_is_read_in_bounded_work(run: str) -> None:
    larder = load_larder()
    read_text("1 cup milk, plus 1 tbsp for the pan", larder)
    text = (run * LONGEST_LINE)[:LONGEST_LINE]
    assert calls(lambda: read_text(text, larder)) < 1000 * LONGEST_LINE


def test_a_line_beyond_them_is_refused_in_every_form() -> None:
    text = "-1-" * 10_000
    larder = load_larder()
    assert [fault.name for fault in read_text(text, larder).faults] == ["line-too-long"]
    fields = {"amount": Text(text="1 g", where=HERE), "item": Text(text=text, where=HERE)}
    line, findings = read_ingredient_fields(fields, HERE, larder)
    assert "line-too-long" in {one.name for one in findings}
    assert len(line.item) <= LONGEST_LINE
