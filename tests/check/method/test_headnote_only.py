from __future__ import annotations

import pytest

from cardsmith.finding import Severity
from tests.check.bench import found, recipe

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


@pytest.mark.parametrize(
    ("headnote", "step"),
    [
        ("It needs no machine and no churning.", "Churn for 20 minutes, until thick."),
        ("A no-bake cake for hot days.", "Bake for 40 minutes, until firm."),
        ("Bread without kneading.", "Knead for 10 minutes, until smooth."),
        ("No soaking, so supper is soon on the table.", "Soak the beans in cold water overnight."),
        ("Crisp, and nothing is fried.", "Fry for 4 minutes, until golden."),
        ("There is no rolling, only pressing.", "Roll out the dough 3 mm thick."),
    ],
)
def test_deed_that_the_headnote_does_without_is_asked_about(headnote: str, step: str) -> None:
    (told,) = found("headnote-denied-by-steps", recipe(["500 g bread flour"], [step], headnote=headnote))
    assert told.severity is Severity.WARNING  # nobody cooks by the headnote


@pytest.mark.parametrize(
    ("headnote", "step"),
    [
        ("It needs no machine and no churning.", "Freeze for 4 hours, until firm."),
        ("There's no baking powder in it.", "Bake for 40 minutes, until firm."),
        ("No churning, unless you own a machine.", "Churn for 20 minutes, until thick."),
        ("Bread without kneading.", "Do not knead; fold it over three times."),
    ],
)
def test_headnote_that_no_step_denies_is_left_alone(headnote: str, step: str) -> None:
    assert found("headnote-denied-by-steps", recipe(["500 g bread flour"], [step], headnote=headnote)) == ()
