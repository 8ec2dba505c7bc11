"""Several words in a row of a sentence."""

from __future__ import annotations

import pytest

from cardsmith.language.listing import listed


@pytest.mark.parametrize(
    ("words", "said"),
    [([], ""), (["flour"], "flour"), (["flour", "salt"], "flour or salt"), (["a", "b", "c"], "a, b or c")],
)
def test_the_last_two_are_joined_by_a_word(words: list[str], said: str) -> None:
    assert listed(words, "or") == said
    assert listed(words) == said.replace(" or ", " and ")
