"""Spelling by table, what no table settles, and quotes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardsmith.edition.markets import Market, markets
from cardsmith.edition.quotes import requoted
from cardsmith.edition.spelling import doubtful, doubts, spellings
from cardsmith.edition.words import Wording
from cardsmith.reference import table

US, UK, AU = (markets()[key] for key in ("us", "uk", "au"))
OXFORD = replace(UK, endings="ize")


@pytest.mark.parametrize(
    ("home", "market", "text", "told"),
    [
        (
            US,
            UK,
            "Caramelize until colored; a program.",
            "Caramelise until coloured; a programme.",
        ),
        (US, AU, "Caramelize until colored; a program.", "Caramelise until coloured; a program."),
        (US, OXFORD, "Caramelize and analyze the color.", "Caramelize and analyse the colour."),
        (UK, US, "Caramelise the coloured yoghurt.", "Caramelize the colored yogurt."),
        (UK, AU, "A programme of colour.", "A program of colour."),
        (US, US, "Color stays.", "Color stays."),
    ],
)
def test_words_are_spelled_by_table(home: Market, market: Market, text: str, told: str) -> None:
    assert Wording.of(spellings(home, market)).told(text)[0] == told


@pytest.mark.parametrize(
    ("home", "market", "text", "found"),
    [
        (US, UK, "Flambize the medium-size prize of maize.", ["Flambize"]),
        (US, OXFORD, "Flambize the maize.", []),
        (US, OXFORD, "Flambyze the maize.", ["Flambyze"]),
        (UK, US, "Flambise; otherwise braise, and exercise the star-anise.", ["Flambise"]),
        (UK, AU, "Flambise it.", []),
    ],
)
def test_a_word_that_no_table_settles_is_doubted(
    home: Market, market: Market, text: str, found: list[str]
) -> None:
    assert [word for word, _, _ in doubtful(text, home, market)] == found


def test_a_word_of_another_meaning_is_doubted_with_why() -> None:
    told = {one.word: one for one in doubts(US, UK)}
    assert "scone" in told["biscuit"].why
    assert "jelly bag" in told["jelly"].same
    assert "biscuit" in {one.word for one in doubts(UK, US)}
    assert "biscuit" not in {one.word for one in doubts(UK, AU)}
    assert "February" in {one.word for one in doubts(UK, AU)} & {one.word for one in doubts(US, AU)}
    assert "February" not in {one.word for one in doubts(US, UK)}


def test_every_spelling_has_a_source_and_no_word_two_rows() -> None:
    rows = table("spelling_pairs")
    assert all(row["source"] and row["us"] and row["uk"] and row["au"] for row in rows)
    assert len({row["us"] for row in rows}) == len(rows)
    assert all(row["source"] for name in ("spelling_endings", "edition_doubts") for row in table(name))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("It “sings”.", "It ‘sings’."),
        ('It "sings".', "It ‘sings’."),
        ("The baker’s “‘crumb’ test” isn’t", "The baker’s ‘“crumb” test’ isn’t"),
        ('A 9" tin and a 13" one', 'A 9" tin and a 13" one'),
        ("Not ‘so’", "Not ‘so’"),
    ],
)
def test_quotes_are_those_of_the_edition(text: str, told: str) -> None:
    assert requoted(text, "double", "single") == told
    assert requoted(text, "double", "double") == text
