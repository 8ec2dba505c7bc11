"""Words of an edition by table: number, article, capital, protected text, the longest phrase."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.edition.words import Wording

BRITISH = Wording.of(
    (
        ("zucchini", "courgette"),
        ("eggplant", "aubergine"),
        ("avocado", "pear"),  # no pair of an edition: for the article
        ("half-sheet pan", "large baking tray"),
        ("sheet pan", "baking tray"),
        ("confectioners' sugar", "icing sugar"),
        ("shrimp", "prawns"),
        ("skillet", "frying pan"),
        ("whole wheat flour", "wholemeal flour"),
    )
)
CASES = (
    ("Slice the zucchini.", "Slice the courgette."),
    ("two zucchinis and three eggplants", "two courgettes and three aubergines"),
    (
        "Eggplant keeps; an eggplant does, and a zucchini.",
        "Aubergine keeps; an aubergine does, and a courgette.",
    ),
    ("An avocado, or an avocado.", "A pear, or a pear."),
    ("two half-sheet pans and a sheet pan", "two large baking trays and a baking tray"),
    ("confectioners’ sugar, or confectioners' sugar", "icing sugar, or icing sugar"),
    ("the shrimp", "the prawns"),
    ("skillets; skilletful", "frying pans; skilletful"),
    ("whole  wheat flour and wheat flour", "wholemeal flour and wheat flour"),
    ("whole, wheat flour", "whole, wheat flour"),  # no phrase goes over a comma
    ("`zucchini` and [zucchini](#zucchini)", "`zucchini` and [courgette](#zucchini)"),
    ("a zucchini-bread", "a courgette-bread"),
    ("Eggplant-and-zucchini, and a shrimp-bread", "Aubergine-and-courgette, and a prawn-bread"),
    ("`zucchini-bread`", "`zucchini-bread`"),
    ("grated courgette", "grated courgette"),
    ("large baking tray", "large baking tray"),
    (
        "Skillet Corn with Shrimp and Half-Sheet Pan Zucchini",
        "Frying Pan Corn with Prawns and Large Baking Tray Courgette",
    ),
    ("Skillet-Fried Corn", "Frying Pan-Fried Corn"),
    ("Skillet corn", "Frying pan corn"),
    ("", ""),
)


@pytest.mark.parametrize(("written", "told"), CASES)
def test_a_text_is_told_in_the_words_of_the_edition(written: str, told: str) -> None:
    assert BRITISH.told(written)[0] == told


def test_every_change_is_told_and_nothing_else_changes() -> None:
    text, changes = BRITISH.told("Salt a zucchini and an eggplant; rest the `skillet`.")
    assert changes == (("zucchini", "courgette"), ("eggplant", "aubergine"))
    back = text.replace("courgette", "zucchini").replace("aubergine", "eggplant")
    assert back == "Salt a zucchini and an eggplant; rest the `skillet`."


@given(st.text(alphabet="abc zucchini,.`’-\n(12½)", max_size=60))
def test_a_text_without_a_phrase_stays_as_it_is(text: str) -> None:
    told, changes = BRITISH.told(text)
    assert changes or told == text


def test_the_first_pair_of_a_phrase_wins() -> None:
    assert Wording.of((("pan", "tray"), ("pan", "tin"))).told("a pan")[0] == "a tray"
