from __future__ import annotations

import pytest
from bench import steps

from cardsmith.check.method.cues import _verbs
from cardsmith.finding import Severity
from cardsmith.reference import table

TIME_WITHOUT_CUE = [
    "Bake for 18 to 22 minutes.",
    "Cover and refrigerate for 4 hours.",
    "Cover and leave to rise at 24 °C for 1 hour 15 minutes.",
    "Add the leeks, cover and simmer gently for 15 minutes.",
    "Whip the cream for 3 minutes.",
    "Cook the onions until soft, then bake for 20 minutes.",
    "Set the pie on the hot pan and bake for 20 minutes.",
    "Bake for 20 minutes. Serve with cream.",
]
TIME_WITH_CUE = [
    "Bake for 18 to 22 minutes, until golden.",
    "Bake until dry and crisp all the way through, 25 to 30 minutes.",
    "Bake for 20 minutes. It is done when a skewer comes out clean.",
    "Roast for 65 minutes; it should read 74 °C at the thigh.",
    "Bring to a boil and boil hard for 10 minutes.",
    "Cover and refrigerate overnight, or for at least 8 hours.",
    "Pour over the brine and refrigerate for 24 hours to brine.",
    "Rest the dough for 20 minutes.",
    "Leave the cake in the pan for 10 minutes.",
    "Fry for 30 seconds, shaking the pan.",
    "Cook for 3 to 4 minutes more, until springy; turn after 2 minutes.",
    "Boil the pasta for 2 minutes less than the packet says.",
    "Serve with the baked apples within 20 minutes.",
]
CUE_WITHOUT_TIME = [
    "Bake until well risen and golden.",
    "Add the stock and simmer until the potatoes fall apart.",
    "Cover and refrigerate until set.",
    "Leave to rise until doubled.",
    "Gently fry until crisp. Drain on paper.",
]
CUE_WITH_TIME = [
    "Bake for 14 minutes, until well risen and golden.",
    "Bake until golden. This takes about 14 minutes.",
    "Cook until the curd reads 77 °C.",
    "Simmer until 77 °C.",
    "Bake until golden, 25 to 30.",  # the reader asks what the figures measure
    "Melt the butter until it foams.",
    "Stir until the sugar has dissolved.",
    "Beat the butter until creamy.",
    "Heat the oven to 180 °C. Toast alongside.",
    "Stop as soon as the batter is smooth; bake at once.",
]


@pytest.mark.parametrize("text", TIME_WITHOUT_CUE)
def test_time_without_cue_is_asked_about(text: str) -> None:
    (told,) = steps("time-without-cue", text)
    assert told.severity is Severity.WARNING
    assert "no sign of when it is done" in told.what


@pytest.mark.parametrize("text", TIME_WITH_CUE)
def test_time_with_cue_is_not(text: str) -> None:
    assert steps("time-without-cue", text) == ()


@pytest.mark.parametrize("text", CUE_WITHOUT_TIME)
def test_cue_without_time_is_asked_about(text: str) -> None:
    (told,) = steps("cue-without-time", text)
    assert told.severity is Severity.WARNING
    assert told.what.endswith("about how long does it take?")


@pytest.mark.parametrize("text", CUE_WITH_TIME)
def test_cue_with_time_is_not(text: str) -> None:
    assert steps("cue-without-time", text) == ()


def test_finding_underlines_the_words() -> None:
    (told,) = steps("cue-without-time", "Add the stock and simmer until thick.")
    assert (told.where.column, told.width) == (5 + 14, len("and simmer until thick"))


@pytest.mark.parametrize("row", table("timed_verbs"), ids=lambda row: row["verb"])
def test_every_verb_of_the_table_is_heard(row: dict[str, str]) -> None:
    for verb in row["verb"].split("|"):
        assert _verbs(long=False).search(f"{verb.capitalize()} it for 20 minutes.")
        assert bool(_verbs(long=True).search(f"Stir, then {verb} it.")) is (row["long"] == "yes")
