"""Numbers in figures and in letters."""

from __future__ import annotations

import unicodedata
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.finding import Where
from cardsmith.language.figures.numbers import Form, Number, number_at
from cardsmith.language.tokens import tokenize
from tests.language.written_numbers import VULGAR, in_words

HALF = Fraction(1, 2)


def first(text: str, start: int = 0) -> tuple[Number, int]:
    """The number that begins at character ``start``, and the character where it ends."""
    tokens = tokenize(text)
    at = next(place for place in range(len(tokens)) if tokens[place].start >= start)
    found = number_at(tokens, at)
    assert found is not None
    return found, tokens[found.end - 1].end


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
    found, end = first(text)
    assert (found.value, end, found.faults) == (value, len(text), ())


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
    found, ends = first(text)
    assert (found.value, ends) == (value, end)


@pytest.mark.parametrize(
    ("text", "value"),
    [("1,5", Fraction(3, 2)), ("0,125", Fraction(1, 8)), ("12,50", Fraction(25, 2)), ("1,000", 1000),
     ("1,250,000", 1_250_000)],
)  # fmt: skip
def test_a_comma_parts_tenths_or_thousands(text: str, value: Fraction) -> None:
    """Beside a unit that makes the other reading likely, figures/amounts.py asks."""
    found, end = first(text)
    assert (found.value, end, found.faults) == (value, len(text), ())


@pytest.mark.parametrize(
    ("text", "value", "end"),
    [("1 / 2", 1, 1), ("1//2", 1, 1), ("180/160", 180, 3), ("1 3/2", 1, 1), ("2 1/11", 2, 1)],
)
def test_what_stands_beside_a_number_is_another(text: str, value: int, end: int) -> None:
    """Two numbers, each of which has to measure something for itself: 180/160 °C, and else is asked about."""
    found, ends = first(text)
    assert (found.value, ends, found.faults) == (value, end, ())


@pytest.mark.parametrize(
    ("text", "value", "name"),
    [
        ("1,2,3", None, "unreadable-amount"),
        ("1/0", None, "unreadable-amount"),
        ("1/2/3", None, "unreadable-amount"),
        ("½½", None, "unreadable-amount"),
        ("½2", None, "unreadable-amount"),
        ("1.2.3", None, "unreadable-amount"),
        ("1" * 13, None, "number-too-long"),
        ("9" * 10_000, None, "number-too-long"),
        ("1/" + "9" * 10_000, None, "number-too-long"),
        ("0." + "3" * 5_000, None, "number-too-long"),
    ],
)
def test_doubt_is_told(text: str, value: Fraction | None, name: str) -> None:
    found, _ = first(text)
    assert found.value == value
    (fault,) = found.faults
    assert (fault.name, fault.start, fault.end) == (name, 0, len(text))


def test_a_fault_becomes_a_finding_at_its_column() -> None:
    found, _ = first("a 1.2.3 kg bag", 2)
    finding = found.faults[0].finding(Where(file="recipe.yaml", line=3, column=5))
    assert str(finding) == (
        "recipe.yaml:3:7: error: “1.2.3” can't be read as a number - a number such as 1 1/2, ½ or 0.5 "
        "[unreadable-amount]"
    )
    assert finding.width == 5


@pytest.mark.parametrize(
    "text", ["", "x", "cup", "-", "/", ".", ",5", "onecup", "tender", "another", "atoms"]
)
def test_no_number(text: str) -> None:
    assert number_at(tokenize(text), 0) is None


@pytest.mark.parametrize(
    ("text", "value", "end"),
    [
        ("one", 1, 3), ("Twelve eggs", 12, 6), ("half a cup", HALF, 6), ("half an onion", HALF, 7),
        ("half cup", HALF, 4), ("half of a lemon", HALF, 9), ("a dozen", 12, 7),
        ("half a dozen", 6, 12), ("two dozen", 24, 9), ("a dozen and a half", 18, 18),
        ("one and a half cups", Fraction(3, 2), 14), ("one and one-half cups", Fraction(3, 2), 16),
        ("two and three-quarters", Fraction(11, 4), 22), ("two and ½ cups", Fraction(5, 2), 9),
        ("two thirds of a cup", Fraction(2, 3), 15), ("two-thirds cup", Fraction(2, 3), 10),
        ("a third of the butter", Fraction(1, 3), 7), ("three quarters", Fraction(3, 4), 14),
        ("a quarter of a cup", Fraction(1, 4), 14), ("one-inch", 1, 3), ("one eighth", Fraction(1, 8), 10),
        ("twenty-five minutes", 25, 11), ("twenty five", 25, 11), ("ninety", 90, 6), ("a hundred", 100, 9),
        ("two hundred and twenty", 220, 22), ("one hundred eighty", 180, 18), ("two thousand", 2000, 12),
        ("three hundred and fifty-five", 355, 28), ("one thousand two hundred", 1200, 24),
        ("nineteen", 19, 8), ("a couple of eggs", 2, 11),
    ],
)  # fmt: skip
def test_words(text: str, value: Fraction, end: int) -> None:
    found, ends = first(text)
    assert (found.value, ends, found.form) == (value, end, Form.WORDS)


@pytest.mark.parametrize(("text", "end"), [("a cup", 1), ("an egg", 2), ("A cup", 1)])
def test_articles(text: str, end: int) -> None:
    found, ends = first(text)
    assert (found.value, ends, found.form) == (1, end, Form.ARTICLE)


def test_a_couple_is_about_two() -> None:
    assert first("a couple of minutes")[0].about


@pytest.mark.parametrize("character", sorted(VULGAR.values()))
def test_vulgar_fractions_are_those_of_unicode(character: str) -> None:
    # The Unicode Character Database gives each one's numeric value, as a float.
    value = first(character)[0].value
    assert value is not None
    assert float(value) == pytest.approx(unicodedata.numeric(character), abs=1e-7)


@given(st.fractions(min_value=0, max_value=999, max_denominator=10))
def test_printed_numbers_read_back(value: Fraction) -> None:
    found, end = first(in_words(value))
    assert (found.value, found.faults) == (value, ())
    assert end == len(in_words(value))


ONES = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen".split()
TENS = {"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80}


@given(st.sampled_from(sorted(TENS)), st.integers(1, 9), st.integers(1, 9), st.sampled_from("- \u2011\u2013"))
def test_spoken_numbers_are_their_sums(tens: str, ones: int, hundreds: int, joint: str) -> None:
    text = f"{ONES[hundreds]} hundred and {tens}{joint}{ONES[ones]} grams"
    assert first(text)[0].value == 100 * hundreds + TENS[tens] + ones


@given(st.text("0123456789/⁄.,½⅓ -andhlf", max_size=30))
def test_any_text(text: str) -> None:
    tokens = tokenize(text)
    for at in range(len(tokens)):
        found = number_at(tokens, at)
        if found is not None:
            assert at == found.first < found.end <= len(tokens)
            assert found.value is not None or found.faults
