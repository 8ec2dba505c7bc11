"""Word by word: what is not marked stands in both texts, in one order."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.proof.word_changes import Hunk, Marks, compare_words

WORDS = st.lists(
    st.sampled_from("bake the dough for 25 to 30 minutes until it is golden".split()), max_size=25
)


@pytest.mark.parametrize(
    ("old", "new", "hunks", "marks"),
    [
        ("½ tsp salt", "½ tsp salt", (), Marks()),
        (
            "bake 25 to 30 minutes",
            "bake 20 to 30 minutes",
            (Hunk(before="bake", old="25", new="20", after="to 30 minutes"),),
            Marks(new=frozenset({1})),
        ),
        (
            "stir well and rest",
            "stir and rest",
            (Hunk(before="stir", old="well", new="", after="and rest"),),
            Marks(gaps=frozenset({1})),
        ),
        (
            "stir and rest",
            "stir",
            (Hunk(before="stir", old="and rest", new="", after=""),),
            Marks(gaps=frozenset({1})),
        ),
        (
            "",
            "new words",
            (Hunk(before="", old="", new="new words", after=""),),
            Marks(new=frozenset({0, 1})),
        ),
    ],
)
def test_a_change_is_marked_and_nothing_else(
    old: str, new: str, hunks: tuple[Hunk, ...], marks: Marks
) -> None:
    assert compare_words(old, new) == (hunks, marks)


@given(WORDS, WORDS)
def test_the_words_left_unmarked_are_those_of_both_texts(old: list[str], new: list[str]) -> None:
    hunks, marks = compare_words(" ".join(old), " ".join(new))
    kept = [word for at, word in enumerate(new) if at not in marks.new]
    gone = [word for hunk in hunks for word in hunk.old.split()]
    came = [word for hunk in hunks for word in hunk.new.split()]
    assert sorted([*kept, *gone]) == sorted(old)
    assert sorted([*kept, *came]) == sorted(new)
    rest = iter(old)
    assert all(word in rest for word in kept)  # in the order of the old text
    assert bool(hunks) == bool(marks) == (old != new)


@given(WORDS, st.data())
def test_every_edited_word_is_marked(old: list[str], data: st.DataObject) -> None:
    places = data.draw(st.sets(st.integers(0, max(0, len(old) - 1)))) if old else set()
    new = [f"new{at}" if at in places else word for at, word in enumerate(old)]
    _, marks = compare_words(" ".join(old), " ".join(new))
    assert places <= marks.new
