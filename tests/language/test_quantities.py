"""Values that fill a whole cell or begin an entry: each is read, and what is none is refused."""

from __future__ import annotations

import doctest
from fractions import Fraction

import pytest

from cardsmith.language import quantities
from cardsmith.language.quantities import read_clock, read_count, read_degrees, read_number, read_percent


@pytest.mark.parametrize(
    ("text", "number"),
    [("5.4", "5.4"), ("12", "12"), ("0", "0"), ("2.45", "2.45"), ("12 g", None), ("twelve", None),
     ("-3", None), ("", None), ("1-2", None)],
)  # fmt: skip
def test_a_number_alone(text: str, number: str | None) -> None:
    assert read_number(text) == (None if number is None else Fraction(number))


@pytest.mark.parametrize(
    ("text", "ends"),
    [("4.2 %", ("4.2", "4.2")), ("3 to 5 %", ("3", "5")), ("3–5%", ("3", "5")), ("3 % to 5 %", ("3", "5")),
     ("12 per cent", ("12", "12")), ("5", None), ("5 % of it", None), ("5 g", None), ("", None),
     ("5 % 6 %", None)],
)  # fmt: skip
def test_a_share_in_per_cent(text: str, ends: tuple[str, str] | None) -> None:
    assert read_percent(text) == (None if ends is None else (Fraction(ends[0]), Fraction(ends[1])))


@pytest.mark.parametrize(
    ("text", "count"),
    [("12", (12, "")), ("6 large", (6, "large")), ("10 extra-large", (10, "extra-large")), ("6 kg", None),
     ("1.5", None), ("large", None), ("6 large eggs", None)],
)  # fmt: skip
def test_a_count_with_its_size(text: str, count: tuple[int, str] | None) -> None:
    assert read_count(text) == count


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("+6 °C", 6), ("−6 °C", -6), ("-6 C", -6), ("8 °C cooler", -8), ("9 °F hotter", 5),
     ("-9 °F, cooler", -5), ("+ 6 °C", 6), ("6", None), ("hot", None), ("5 to 10 °C", None),
     ("6 degrees", None)],
)  # fmt: skip
def test_degrees_hotter_or_cooler(text: str, degrees: int | None) -> None:
    assert read_degrees(text) == degrees


@pytest.mark.parametrize(
    ("text", "minutes", "words"),
    [("22:30 mixed", 1350, "mixed"), ("07:15 – shaped", 435, "shaped"), ("8.05 bake", 485, "bake"),
     ("9:15, then fold", 555, "then fold"), ("2:30 pm mixed", 870, "mixed"), ("0:05", 5, "")],
)  # fmt: skip
def test_the_clock_of_an_entry(text: str, minutes: int, words: str) -> None:
    assert read_clock(text) == (minutes, words)


@pytest.mark.parametrize("text", ["no clock", "25:00 bake", "8:60 bake", "350 °F", "1.5 hours", "8: 30", ""])
def test_what_is_no_clock(text: str) -> None:
    assert read_clock(text) is None


def test_examples_hold() -> None:
    results = doctest.testmod(quantities)
    assert results.attempted
    assert not results.failed
