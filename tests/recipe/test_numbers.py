"""Numbers in figures and in letters."""

from __future__ import annotations

import unicodedata
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.finding import Where
from cardsmith.recipe.numbers import VULGAR, in_words, number_at, spelled_at, vulgar

HALF = Fraction(1, 2)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2", 2), ("12", 12), ("1 1/2", Fraction(3, 2)), ("1-1/2", Fraction(3, 2)),
        ("1½", Fraction(3, 2)),
        ("1 ½", Fraction(3, 2)), ("1-½", Fraction(3, 2)), ("1\u00a0½", Fraction(3, 2)), ("½", HALF),
        ("1/2", HALF),
        ("1⁄2", HALF), ("1 1⁄2", Fraction(3, 2)), ("1 and 1/2", Fraction(3, 2)),
        ("1 and a half", Fraction(3, 2)),
        ("2 and a quarter", Fraction(9, 4)), ("⅔", Fraction(2, 3)),
        ("2⅞", Fraction(23, 8)), ("1/3", Fraction(1, 3)),
        ("3/2", Fraction(3, 2)), ("1.5", Fraction(3, 2)), (".5", HALF), ("0.125", Fraction(1, 8)), ("2.0", 2),
        ("2 dozen", 24), ("007", 7), ("1/16", Fraction(1, 16)),
    ],
)  # fmt: skip
def test_figures(text: str, value: Fraction) -> None:
    found = number_at(text, 0)
    assert found is not None
    assert (found.value, found.end, found.faults) == (value, len(text), ())


@pytest.mark.parametrize(
    ("text", "end", "value"),
    [
        ("2 cups", 1, 2),
        ("1½-inch", 2, Fraction(3, 2)),
        ("9-inch", 1, 9),
        ("2 3 cups", 1, 2),
        ("1.", 1, 1),
        ("1, 4 oz", 1, 1),
        ("1-2", 1, 1),  # a range; only a proper fraction after a hyphen is part of the number
        ("1-1½", 1, 1),
        ("1-1/2-2", 5, Fraction(3, 2)),
    ],
)
def test_a_number_ends_where_it_ends(text: str, end: int, value: Fraction) -> None:
    found = number_at(text, 0)
    assert found is not None
    assert (found.value, found.end) == (value, end)


@pytest.mark.parametrize(
    ("text", "value", "name"),
    [
        ("1,5", Fraction(3, 2), "decimal-comma"),
        ("0,125", Fraction(1, 8), "decimal-comma"),
        ("12,50", Fraction(25, 2), "decimal-comma"),
        ("1,000", Fraction(1000), "thousands-comma"),
        ("1,250,000", Fraction(1_250_000), "thousands-comma"),
        ("1,2,3", None, "unreadable-amount"),
        ("1/0", None, "unreadable-amount"),
        ("1//2", None, "unreadable-amount"),
        ("1/2/3", None, "unreadable-amount"),
        ("1 / 2", None, "unreadable-amount"),
        ("½½", None, "unreadable-amount"),
        ("½2", None, "unreadable-amount"),
        ("1.2.3", None, "unreadable-amount"),
        ("180/160", None, "unreadable-amount"),
        ("1 3/2", None, "unreadable-amount"),
        ("2 1/11", None, "unreadable-amount"),
        ("1" * 13, None, "number-too-long"),
        ("9" * 10_000, None, "number-too-long"),
        ("1/" + "9" * 10_000, None, "number-too-long"),
        ("0." + "3" * 5_000, None, "number-too-long"),
    ],
)
def test_doubt_is_told(text: str, value: Fraction | None, name: str) -> None:
    found = number_at(text, 0)
    assert found is not None
    assert found.value == value
    (fault,) = found.faults
    assert (fault.name, fault.start, fault.end) == (name, 0, len(text))


def test_a_fault_becomes_a_finding_at_its_column() -> None:
    found = number_at("a 1,5 kg bag", 2)
    assert found is not None
    finding = found.faults[0].finding(Where(file="recipe.yaml", line=3, column=5))
    assert str(finding) == "recipe.yaml:3:7: warning: “1,5” is read as 1.5 - “1.5” [decimal-comma]"
    assert finding.width == 3


@pytest.mark.parametrize("text", ["", "x", "cup", "-", "/", ".", ",5", "a"])
def test_no_figures(text: str) -> None:
    assert number_at(text, 0) is None


@pytest.mark.parametrize(
    ("text", "value", "end"),
    [
        ("one", 1, 3), ("Twelve eggs", 12, 6), ("a cup", 1, 1), ("an egg", 1, 2), ("half a cup", HALF, 6),
        ("half an onion", HALF, 7), ("half cup", HALF, 4), ("half of a lemon", HALF, 9), ("a dozen", 12, 7),
        ("half a dozen", 6, 12), ("two dozen", 24, 9), ("one and a half cups", Fraction(3, 2), 14),
        ("two thirds of a cup", Fraction(2, 3), 15), ("two-thirds cup", Fraction(2, 3), 10),
        ("a third of the butter", Fraction(1, 3), 10), ("three quarters", Fraction(3, 4), 14),
        ("a quarter of a cup", Fraction(1, 4), 14), ("one-inch", 1, 3),
    ],
)  # fmt: skip
def test_letters(text: str, value: Fraction, end: int) -> None:
    found = spelled_at(text, 0)
    assert found is not None
    assert (found.value, found.end) == (value, end)


@pytest.mark.parametrize(
    "text", ["onecup", "tender", "another", "one-pan dish", "", "half-and-half", "atoms"]
)
def test_no_letters(text: str) -> None:
    assert spelled_at(text, 0) is None


@pytest.mark.parametrize("character", VULGAR)
def test_vulgar_fractions_are_those_of_unicode(character: str) -> None:
    # The Unicode Character Database gives each one's numeric value, as a float.
    assert float(vulgar(character)) == pytest.approx(unicodedata.numeric(character), abs=1e-7)


@given(st.fractions(min_value=0, max_value=999, max_denominator=10))
def test_printed_numbers_read_back(value: Fraction) -> None:
    found = number_at(in_words(value), 0)
    assert found is not None
    assert (found.value, found.faults) == (value, ())


@given(st.text("0123456789/⁄.,½⅓ -and", max_size=30), st.integers(0, 5))
def test_any_text(text: str, start: int) -> None:
    for found in (number_at(text, start), spelled_at(text, start)):
        if found is not None:
            assert start < found.end <= len(text)
            assert found.value is not None or found.faults
