"""A heading stands over what it heads; no row and no step is divided."""

from __future__ import annotations

from typing import Any


def test_no_heading_stands_alone(read: Any) -> None:
    """What a heading heads begins below it in the same column: two rows, or a step's first two lines."""
    for part in read.card.parts:
        rows = [read.found(line.item) for line in part.ingredients]
        if part.name:
            head, over_steps = (read.found(part.name, start) for start in named_twice(part.name, read))
            step = read.found(part.steps[0].spans[0].text)
            together = [one for one in step if read.column(one) == read.column(over_steps[-1])]
            assert lines_in(together) >= min(2, lines_in(step)), part.name
            assert {read.column(row[0]) for row in rows[:2]} == {read.column(head[-1])}
    method = read.found("Method")[0]
    after = read.words[read.words.index(method) + 1 :][:8]
    assert {read.column(word) for word in after} == {read.column(method)}


def named_twice(name: str, read: Any) -> tuple[int, int]:
    """Where to look for a part's name over its list, and over its steps."""
    first = read.found(name)[-1]
    return 0, read.words.index(first) + 1


def test_no_row_and_no_step_is_split(read: Any) -> None:
    for part in read.card.parts:
        for line in part.ingredients:
            row = read.found(line.item + (f", {line.prep}" if line.prep else ""))
            assert len({read.column(word) for word in row}) == 1, line.item
        for step in part.steps:
            words = read.found(step.spans[0].text)
            assert len({read.column(word) for word in words}) == 1, step.number
            (number,) = (one for one in read.numbers if one.text == f"{step.number}.")
            assert read.column(number) == read.column(words[0])
            assert abs(number.foot - words[0].foot) < 1, step.number
            assert 0 < words[0].left - number.right < 12, step.number


def lines_in(words: list[Any]) -> int:
    return len({(word.page, round(word.foot)) for word in words})
