"""A word for what the recipe makes is no ingredient; a word after what is shaped from it stays one."""

from __future__ import annotations

import pytest

from cardsmith.recipe.mentions.result_words import SHAPED


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("Roll into balls and shape them as apples, pears and oranges.", "apples, pears and oranges"),
        ("Shape the mince into patties and coat with the flour.", ""),
        ("Form as you like, then stir in the butter.", "you like,"),
    ],
)
def test_what_is_only_shaped_like_a_food(text: str, what: str) -> None:
    match = SHAPED.search(text)
    assert (match["what"] if match else "") == what
