"""A word is a cue where its clause has begun with until."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from cardsmith.recipe.mentions.naming import tokens
from cardsmith.recipe.mentions.step_words import StepWords

WORDS = [
    "until",
    "till",
    "when",
    "then",
    "Until",
    "oil",
    "the",
    "then_oil",
    "until's",
    ",",
    ".",
    "; ",
    " ",
    " ",
    ":",
    "-",
    "é",
]


def by_definition(text: str, start: int) -> bool:
    clause = re.split(r"[,.;:]|\bthen\b", text[:start])[-1]
    return re.search(r"\b(?:until|till|without|when)\b", clause, re.IGNORECASE) is not None


@given(st.lists(st.sampled_from(WORDS), max_size=14).map("".join))
def test_a_cue_is_found_in_its_own_clause(text: str) -> None:
    step = StepWords(step=0, part=0, text=text, told=tokens(text), foods=frozenset())
    for at, token in enumerate(step.told):
        assert step.is_cue(at) == by_definition(text, token.start), (text, token)
