"""Every word of a card stands on it once, in order, where it can be read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from cardsmith.house.style import House
from cardsmith.language.spans import Words
from cardsmith.rewrite.card.model import Card

SAFE = 9.0  # points from the cut: an eighth of an inch (common practice, no source)


def test_every_word_stands_once_and_in_order(
    read: Any, house: House, expected_of: Callable[[Card, House], str]
) -> None:
    """The headnote may stand on the back, before the method."""
    told = expected_of(read.card, house)
    headnote = expected_of(replace(read.card, headnote=(Words(text="|"),)), house)
    before, _, after = headnote.partition("|")
    moved = told[len(before) : len(told) - len(after)]
    need, method, steps = after.partition("method")
    assert read.letters() in (told, f"{before}{need}{moved}{method}{steps}")


def test_every_word_stands_in_the_text_area(read: Any) -> None:
    size = read.size
    for word in read.words + read.numbers:
        assert word.left >= float(size.side) - 1.5, word
        assert word.right <= float(size.width - size.side) + 1.5, word
        assert word.top >= float(size.top) - 1.5, word
        assert word.foot <= float(size.height - size.foot) + 1.5, word
    for word in read.furniture:
        assert word.left >= SAFE, word
        assert word.right <= float(size.width) - SAFE, word
        assert word.top >= SAFE, word
        assert word.foot <= float(size.height) - SAFE, word


def test_no_word_stands_over_another(read: Any) -> None:
    every = sorted(read.words + read.numbers + read.furniture, key=lambda word: (word.page, word.top))
    for place, word in enumerate(every):
        for other in every[place + 1 :]:
            if other.page != word.page or other.top >= word.foot:
                break
            assert min(word.right, other.right) - max(word.left, other.left) < 0.75, (word, other)
