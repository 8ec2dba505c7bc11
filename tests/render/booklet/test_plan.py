"""Where everything stands in a booklet, and where its blanks fall."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.render.booklet.plan import Binding, BookPlan, Matter, openings, plan

BINDINGS = st.sampled_from(list(Binding))


def told(found: BookPlan) -> list[str]:
    return [page.matter.value for page in found.pages]


def test_the_smallest_saddle_stitched_booklet() -> None:
    """Cover, imprint, contents | card on facing pages | index, and the back cover last."""
    found = plan([2], contents=1, index=1, binding=Binding.SADDLE)
    assert told(found) == ["cover", "imprint", "contents", "card", "card", "index", "notes", "back"]
    assert found.first_page(0) == 4


def test_two_pages_of_contents_face_each_other() -> None:
    found = plan([2, 2], contents=2, index=2, binding=Binding.SADDLE)
    assert told(found)[:4] == ["cover", "contents", "contents", "card"]
    assert found.first(Matter.CONTENTS) == 2


def test_a_body_to_be_glued_begins_with_its_title_and_has_no_covers() -> None:
    found = plan([2], contents=1, index=2, binding=Binding.PERFECT)
    assert told(found) == ["title", "imprint", "contents", "card", "card", "index", "index", "notes"]


def test_an_imprint_that_the_contents_leave_no_room_for_fills_the_last_sheet() -> None:
    found = plan([2], contents=2, index=1, binding=Binding.PERFECT)
    assert told(found) == ["title", "contents", "contents", "card", "card", "index", "imprint", "notes"]


def test_a_short_card_may_stand_right_and_the_next_waits_for_a_left_page() -> None:
    found = plan([1, 2, 1, 1], contents=1, index=1, binding=Binding.SADDLE)
    at = [(number, page.matter.value) for number, page in enumerate(found.pages, 1)]
    assert at[3:10] == [
        (4, "card"),
        (5, "notes"),
        (6, "card"),
        (7, "card"),
        (8, "card"),
        (9, "card"),
        (10, "index"),
    ]


@given(st.lists(st.integers(1, 4), min_size=1, max_size=30), st.integers(1, 3), st.integers(1, 5), BINDINGS)
def test_any_booklet(cards: list[int], contents: int, index: int, binding: Binding) -> None:
    found = plan(cards, contents, index, binding)
    assert len(found.pages) % 4 == 0
    for number, count in enumerate(cards):
        first = found.first_page(number)
        held = [(page.card, page.at) for page in found.pages[first - 1 : first - 1 + count]]
        assert held == [(number, at) for at in range(count)]
        assert count == 1 or first % 2 == 0, "both sides of a card lie open together"
    assert told(found).count("contents") == contents
    assert told(found).count("index") == index
    assert all(one < other for one, other in pairwise(map(found.first_page, range(len(cards)))))
    if binding is Binding.SADDLE:
        assert told(found)[0] == "cover"
        assert told(found)[-1] == "back"
        assert told(found).count("cover") == told(found).count("back") == 1
    else:
        assert told(found)[0] == "title"
    blanks = [page for page in found.pages if page.matter is Matter.NOTES]
    inside = sum(1 for one, other in pairwise(found.pages) if one in blanks and other.matter is Matter.CARD)
    assert len(blanks) <= inside + 3, "beside those before a card, at most what fills the last sheet"


@pytest.mark.parametrize(
    ("count", "seen"),
    [(4, [(None, 1), (2, 3), (4, None)]), (8, [(None, 1), (2, 3), (4, 5), (6, 7), (8, None)])],
)
def test_openings_are_what_a_reader_sees(count: int, seen: list[tuple[int | None, int | None]]) -> None:
    assert list(openings(count)) == seen
