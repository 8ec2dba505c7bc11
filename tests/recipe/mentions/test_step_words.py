"""The words of a step: their sentence, and the clause that makes one a cue."""

from __future__ import annotations

import re

import pytest
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


@pytest.mark.parametrize(
    ("text", "before"),
    [
        ("Whisk the eggs. Add the oil", "add the"),
        ("Is it smooth? Add the oil", "add the"),
        ("Add approx. the oil", "add approx the"),
        ("Whisk; add the oil", "add the"),
        ("For the dip: add the oil", "add the"),
        ("Whisk, add the oil", "whisk add the"),
    ],
)
def test_the_words_before_one_are_those_of_its_sentence(text: str, before: str) -> None:
    step = StepWords(step=0, part=0, text=text, told=tokens(text), foods=frozenset())
    assert " ".join(step.sentence(len(step.told) - 1)) == before


def test_a_mark_asked_for_begins_a_sentence_too() -> None:
    text = "Whisk, add the oil"
    step = StepWords(step=0, part=0, text=text, told=tokens(text), foods=frozenset())
    assert step.sentence(len(step.told) - 1, ", ") == ["add", "the"]
