"""Yields and times in an author's words."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.finding import Severity, Where
from cardsmith.measure.units import System
from cardsmith.recipe.fields.yields import read_time, read_yield
from cardsmith.recipe.file.tree import Mapping, Scalar

PLACE = Where(file="x", line=1, column=1)


def keys(**texts: str) -> Mapping:
    entries = [(Scalar(text=key, where=PLACE), Scalar(text=text, where=PLACE)) for key, text in texts.items()]
    return Mapping(entries=tuple(entries), where=PLACE)


@pytest.mark.parametrize(
    ("text", "count", "high", "item"),
    [
        ("60 crackers", 60, None, "crackers"),
        ("60 to 64 crackers", 60, 64, "crackers"),
        ("about 24 (3-inch) biscuits", 24, None, "(3-inch) biscuits"),
        ("one 23 cm cake", 1, None, "23 cm cake"),
        ("2 loaves", 2, None, "loaves"),
        ("2 dozen buns", 24, None, "buns"),
        ("a dozen buns", 12, None, "buns"),
        ("1½ loaves", Fraction(3, 2), None, "loaves"),
        ("8 slices", 8, None, "slices"),
        ("840 ml", None, None, "840 ml"),
        ("2 cups", None, None, "2 cups"),
        ("1 kg dough", None, None, "1 kg dough"),
        ("Cuts into 10 slices", 10, None, "slices"),
        ("makes about 24 rolls", 24, None, "rolls"),
    ],
)
def test_makes(text: str, count: int | None, high: int | None, item: str) -> None:
    found, findings = read_yield(keys(makes=text), System.US)
    assert (found.makes_count, found.makes_high, found.makes_item) == (count, high, item)
    assert findings == ()


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("10", 10, 10),
        ("4 to 6", 4, 6),
        ("4–6", 4, 6),
        ("about 4", 4, 4),
        ("four", 4, 4),
        ("4 people", 4, 4),
        ("5 or 6 with rice", 5, 6),
    ],
)
def test_serves(text: str, low: int, high: int) -> None:
    found, findings = read_yield(keys(serves=text), System.US)
    assert (found.serves_low, found.serves_high) == (low, high)
    assert findings == ()


@pytest.mark.parametrize("text", ["Serves 4 as a main", "serves 4"])
def test_who_is_fed_may_stand_where_it_says_what_is_made(text: str) -> None:
    found, findings = read_yield(keys(makes=text), System.US)
    assert (found.makes, found.serves_low, findings) == (None, 4, ())
    assert found.serves is not None
    assert (found.serves.text, found.serves.where.column) == (text[len("serves ") :], 1 + len("serves "))


@pytest.mark.parametrize("text", ["a crowd", "10 buns", "many", "2 cups", "6 to 4", "1/0"])
def test_serves_no_number_of_people(text: str) -> None:
    _, findings = read_yield(keys(serves=text), System.US)
    assert findings


@pytest.mark.parametrize(
    ("text", "base"),
    [("6 g", 6), ("6.5 g", Fraction(13, 2)), ("30 ml", 30), ("1 oz", Fraction("28.349523125"))],
)
def test_piece(text: str, base: Fraction) -> None:
    # an ounce is 28.349523125 g exactly: NIST Handbook 44, appendix C
    found, findings = read_yield(keys(piece=text), System.US)
    assert found.piece is not None
    assert found.piece.low == base
    assert findings == ()


@pytest.mark.parametrize(
    "text", ["83 g of dough", "83 g", "83 g each or so", "83 g raw", "83 g before baking"]
)
def test_piece_with_words_for_what_it_is_of(text: str) -> None:
    found, findings = read_yield(keys(piece=text), System.US)
    assert found.piece is not None
    assert not findings
    assert (found.piece.low, found.piece.written) == (83, "83 g")


@pytest.mark.parametrize("text", ["6 buns", "20 min", "big", "6 g (8 g raw)"])
def test_piece_without_a_size(text: str) -> None:
    found, findings = read_yield(keys(piece=text), System.US)
    assert found.piece is None
    assert [finding.name for finding in findings] == ["unreadable-amount"]


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("25 min", 25),
        ("1 h 40 min", 100),
        ("1 hour 40 minutes", 100),
        ("1½ hours", 90),
        ("24 h", 1440),
        ("20 minutes preparation", 20),
        ("30 minutes' work", 30),
        ("20 min prep and 1 hour’s waiting", 80),
    ],
)
def test_time(text: str, minutes: int) -> None:
    found, findings = read_time(keys(active=text, total=text), System.US)
    assert found.active is not None
    assert found.total is not None
    assert found.active.low == found.total.low == minutes * 60
    assert findings == ()


@pytest.mark.parametrize(
    "text", ["overnight", "35 g", "35", "soon", "20 min or so", "20 min and work", "20 min of fun"]
)
def test_no_time(text: str) -> None:
    found, findings = read_time(keys(total=text), System.US)
    assert found.total is None
    assert [finding.name for finding in findings] == ["unreadable-amount"]


@given(st.text(max_size=40), st.text(max_size=40))
def test_no_text_raises(one: str, other: str) -> None:
    read_yield(keys(makes=one, serves=other, piece=one), System.US)
    read_time(keys(active=one, total=other), System.US)


@pytest.mark.parametrize(
    "text", ["0 crackers", "0", "1000000000 crackers", "100,001 crackers", "0 to 4 people"]
)
def test_a_number_that_no_recipe_makes_is_an_error(text: str) -> None:
    for key in ("makes", "serves") if "crackers" not in text else ("makes",):
        _, findings = read_yield(keys(**{key: text}), System.US)
        assert [one.severity for one in findings] == [Severity.ERROR], (key, findings)


@pytest.mark.parametrize(
    ("text", "says_the_wait"),
    [("overnight", True), ("1 h, plus overnight chilling", True), ("1 h + cooling", True), ("soon", False)],
)
def test_a_wait_without_a_figure_is_asked_for(text: str, says_the_wait: bool) -> None:
    _, (asked,) = read_time(keys(total=text), System.US)
    assert ("the wait too" in asked.instead) is says_the_wait
