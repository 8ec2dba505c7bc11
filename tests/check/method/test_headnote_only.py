from __future__ import annotations

import pytest
from bench import found, recipe

from cardsmith.finding import Severity

STEPS = ["Mix to a dough.", "Roll out and bake for 20 minutes, until golden."]


@pytest.mark.parametrize(
    "headnote",
    [
        "The dough is chilled overnight, which keeps the edges sharp.",
        "A pastry that rests for 2 hours before it is rolled.",
        "The meat marinates for 24 hours in yoghurt.",
        "Everything soaks overnight in cold tea.",
        "It rises for an hour and a half, so begin early.",
    ],
)
def test_step_that_only_the_headnote_tells_is_asked_about(headnote: str) -> None:
    (told,) = found("headnote-step-missing", recipe(["500 g bread flour"], STEPS, headnote=headnote))
    assert told.severity is Severity.WARNING


@pytest.mark.parametrize(
    "headnote",
    [
        "The dough can be chilled overnight.",
        "They rise well, stay soft for two days and need no butter.",
        "If you have time, rest it for an hour.",
        "A crisp, chilled white wine goes with it.",
        "For the rest of the week we ate soup.",
    ],
)
def test_other_words_of_a_headnote_are_left_alone(headnote: str) -> None:
    assert found("headnote-step-missing", recipe(["500 g bread flour"], STEPS, headnote=headnote)) == ()


def test_headnote_that_a_step_bears_out_is_left_alone() -> None:
    steps = ["Mix to a dough. Cover and refrigerate overnight.", *STEPS]
    headnote = "The dough is chilled overnight."
    assert found("headnote-step-missing", recipe(["500 g bread flour"], steps, headnote=headnote)) == ()
