from __future__ import annotations

from fractions import Fraction

import pytest
from bench import field, found
from safety_cases import dish

from cardsmith.check.keeping import kept_warm, seconds


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Keeps two days at room temperature.", "room temperature"),
        (
            "Keeps two days, loosely covered, at room temperature, or four days in the refrigerator.",
            "room temperature",
        ),
        ("Keeps one week in a cool, dark place.", "in a cool, dark place"),
        ("Keeps three weeks in an airtight tin.", "in an airtight tin"),
        ("Keeps a year in the cupboard.", "in the cupboard"),
        ("Keeps overnight on the counter.", "on the counter"),
        ("Keeps two weeks in the refrigerator.", ""),
        ("Do not keep at room temperature.", ""),
        ("A refrigerator pickle, not for the shelf.", ""),
        ("Never leave it on the counter.", ""),
        ("Leave no more than 2 hours at room temperature.", ""),
        ("Keeps two hours at room temperature, or three days in the refrigerator.", ""),
        ("Keeps three days chilled. Bring back to room temperature before serving.", ""),
        ("Serve at room temperature.", ""),
        ("Cool to room temperature, then refrigerate.", ""),
    ],
)
def test_words_that_keep_food_warm(text: str, words: str) -> None:
    assert kept_warm(field(text)) == words


@pytest.mark.parametrize(
    ("text", "hours"),
    [("two hours", 2), ("1 hour", 1), ("overnight", 8), ("three days or a week", 168), ("no time at all", 0)],
)
def test_longest_time_in_a_text(text: str, hours: int) -> None:
    assert seconds(field(text)) == Fraction(hours * 3600)


def test_finding_names_the_food_and_the_words() -> None:
    (told,) = found(
        "perishable-kept-warm",
        dish("500 g ground lamb", "Bake.", kind="sausage", storage="Keeps three days at room temperature."),
    )
    assert told.what == "storage keeps cooked meat (ground lamb) warm: “room temperature”"
