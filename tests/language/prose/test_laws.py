"""Laws of reading that hold for any text: cover, one reading a numeral, no crash, linear time, no case."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardsmith.finding import Where
from cardsmith.language.commonmark import visible
from cardsmith.language.prose import counts, sentences
from cardsmith.language.prose.fields import LONGEST_TEXT, read_prose, read_spans
from cardsmith.language.prose.reading import Reading
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind
from tests.language.prose.test_cases import cases
from tests.pace import within

WHERE = Where(file="recipe.yaml", line=7, column=9, field="steps[0]")

WORDS = (
    "180|350|9|13|½|1/0|1,5|1.5|1,000|0|1½|¼|2/3|25|°C|°F|° F|F|C|c|degrees|gas mark|fan|oven|bake at|"
    "heat to|until it reads|to|–|-|(|)|[|]|/|x|×|by|inch|cm|in|g|kg|cup|cups|tbsp|T|oz.|lb|minutes|min.|h|"
    "hour|and|or|"
    "between|about|at least|up to|lower|*|**|_|`|[|](#k)|&|<|>|a|an|half|one|two|twenty|twenty-five|hundred|"
    "dozen|third|quarter|twice|times|step|No.|#|%|of|the|flour|eggs|pan|ramekins|in a|for|then|.|,|;|:|'|″|\""
)
PIECES = st.sampled_from(WORDS.split("|"))
TEXTS = (
    st.lists(PIECES, max_size=16).map(" ".join)
    | st.lists(PIECES, max_size=12).map("".join)
    | st.text("0123456789½⅓/⁄.,-–−×°CF abcgmnouhlf()[]\"'%:;", max_size=40)
    | st.text(max_size=40)
)

# --- an independent tokeniser -----------------------------------------------------------------------------

ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand dozen"
)
NUMERAL = re.compile(
    rf"\d+|[¼-¾⅐-⅞]|(?<![^\W_])(?<![^\W\d_]['’])(?:{'|'.join(ONES.split())}|half|twice)(?![^\W_])(?!['’][^\W\d_])",
    re.IGNORECASE,
)


def numerals(text: str) -> list[tuple[int, int]]:
    """Where each figure and each number word of ``text`` stands, found apart from the product."""
    return [match.span() for match in NUMERAL.finditer(text)]


def outside(text: str, found: tuple[Reading, ...]) -> list[str]:
    """Numerals that do not lie in exactly one reading."""
    return [
        text[start:end]
        for start, end in numerals(text)
        if sum(one.start <= start and end <= one.end for one in found) != 1
    ]


def check_cover(text: str) -> None:
    seen = visible(text)
    spans, _ = read_spans(text, WHERE)
    assert "".join(span.text for span in spans) == seen
    assert "".join(span.text for span in read_prose(text, WHERE)) == seen


def check_order(text: str) -> None:
    end = 0
    for one in readings(text):
        assert end <= one.start < one.end <= len(text)
        assert one.text == text[one.start : one.end]
        end = one.end


def check_numerals(text: str) -> None:
    assert outside(text, readings(text)) == []


@given(TEXTS)
@settings(max_examples=300)
def test_the_spans_of_any_text_joined_are_the_text(text: str) -> None:
    check_cover(text)


@given(TEXTS)
@settings(max_examples=300)
def test_readings_follow_one_another(text: str) -> None:
    check_order(text)


@given(TEXTS)
@settings(max_examples=500)
def test_each_numeral_of_any_text_lies_in_one_reading(text: str) -> None:
    check_numerals(text)


@pytest.mark.parametrize("name", ["steps", "fields"])
def test_each_numeral_of_the_cases_lies_in_one_reading(name: str) -> None:
    for case in cases(name):
        assert outside(case["text"], readings(case["text"])) == [], case["text"]


@given(TEXTS)
@settings(max_examples=300)
def test_a_reading_is_sound(text: str) -> None:
    for one in readings(text):
        assert all(side.low <= side.high for side in (*one.sides, *one.stated))
        assert all(0 <= fault.start < fault.end <= len(text) for fault in one.faults)
        assert one.kind is not Kind.UNREAD or one.sides or one.faults
        assert one.low <= one.high or one.faults or one.kind in {Kind.UNREAD, Kind.REFERENCE}


# --- time -------------------------------------------------------------------------------------------------

LONG = ["1 ", "a ", "9x", "(1 ", "1/2 ", "180 °C/", "between 1 and ", "twenty ", "half a dozen of the ",
        "1, ", "1-", "−1 ", "oven at 180 ", "at ", "2 cups plus ", "until it reads 7, ",
        "no more than "]  # fmt: skip


@pytest.mark.parametrize("piece", LONG)
def test_a_long_text_takes_little_time(piece: str) -> None:
    text = (piece * LONGEST_TEXT)[:LONGEST_TEXT]
    with within(3):  # the slowest takes half of one
        readings(text)


# --- case -------------------------------------------------------------------------------------------------

UNITS = st.sampled_from(
    "minutes hour grams kg ml tablespoons tbsp cups ounces oz inches cm degrees percent".split()
)
CASES: tuple[Callable[[str], str], ...] = (str.lower, str.upper, str.title)


@given(st.integers(1, 400), UNITS)
def test_the_case_of_unit_words_says_nothing(number: int, unit: str) -> None:
    told = {
        tuple(
            (one.kind, one.low, tuple((side.low, side.unit.name) for side in one.sides))
            for one in readings(f"add {number} {case(unit)} now")
        )
        for case in CASES
    }
    assert len(told) == 1


# --- tests that can fail: a rule broken on purpose --------------------------------------------------------


def read_anew(text: str) -> tuple[Reading, ...]:
    readings.cache_clear()
    found = readings(text)
    readings.cache_clear()
    return found


def test_a_reader_that_takes_a_scale_from_an_earlier_setting_is_caught(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    text = "Roast 20 minutes at 220 °C, then 1 hour at 180."
    assert [one.kind for one in read_anew(text)][-1] is Kind.UNREAD
    monkeypatch.setattr(sentences, "bare_heat", lambda *_: None)
    monkeypatch.setattr(sentences, "unread", lambda *_, **__: None)
    assert outside(text, read_anew(text)) == ["180"]


def test_a_reader_that_counts_whatever_follows_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    text = "Add 200 flour."
    assert read_anew(text)[0].kind is Kind.UNREAD
    monkeypatch.setattr(counts, "countable", lambda *_: True)
    monkeypatch.setattr(counts, "_MOST_FOODS", 1000)
    assert read_anew(text)[0].kind is Kind.COUNT


def test_a_reader_that_skips_number_words_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    text = "Bake for twenty-five minutes, then turn twice."
    assert outside(text, read_anew(text)) == []
    monkeypatch.setattr(sentences, "_OPENING", frozenset({"a", "twice"}))
    assert outside(text, read_anew(text)) == ["twenty", "five"]
