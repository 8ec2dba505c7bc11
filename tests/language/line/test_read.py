"""Ingredient lines: laws that hold for any text, and nouns that a bare number counts."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.finding import Severity
from cardsmith.language.line.preparation import remarks_of
from cardsmith.language.line.read import read_text
from cardsmith.language.nouns import countable
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import tokenize
from cardsmith.measure.larder import load_larder
from cardsmith.reference import table

LARDER = load_larder()
WORDS = (
    "1|2|½|1/2|1/0|1,5|1,000|.5|00|70%|16/20|T55|No.|7-grain|a|half|two|dozen|to|-|–|(|)|,|;|:|/|=|?|"
    "[|]|g|kg|cup|cups|tbsp|T|oz|oz.|can|cans|pack|bunch|cloves|large|small|plus|or|and|of|each|with|"
    "into|about|up to|juice|zest|salt|flour|butter|eggs|lemon|carrots|wedges|to taste|divided|"
    "for dusting|reserved|x|×|°C|inch|in all|l|TK|few|per person"
)
PIECES = st.sampled_from(WORDS.split("|"))
LINES = (
    st.lists(PIECES, max_size=12).map(" ".join)
    | st.lists(PIECES, max_size=8).map("".join)
    | st.text(max_size=40)
)


@given(LINES)
def test_the_stretches_of_a_line_join_to_it(text: str) -> None:
    line = read_text(text, LARDER)
    assert [one.start for one in line.cover] == [0, *(one.end for one in line.cover[:-1])][: len(line.cover)]
    assert "".join(text[one.start : one.end] for one in line.cover) == text


@given(LINES)
def test_each_numeral_lies_in_one_stretch_or_the_line_is_refused(text: str) -> None:
    line = read_text(text, LARDER)
    refused = any(fault.severity is Severity.ERROR for fault in line.faults)
    unread = [one for one in line.cover if one.kind is Kind.UNREAD]
    assert refused or not unread
    for token in tokenize(text).all:
        if token.is_number and not refused:
            holds = [one for one in line.cover if one.start <= token.start and token.end <= one.end]
            assert len(holds) == 1
            assert holds[0].kind is not None


@given(LINES)
def test_every_statement_stands_where_it_says(text: str) -> None:
    line = read_text(text, LARDER)
    for one in line.statements:
        assert 0 <= one.start <= one.end <= len(text)
        assert one.quantity.low <= one.quantity.high
    for fault in line.faults:
        assert 0 <= fault.start < fault.end <= max(len(text), 1)
        assert fault.what
        assert fault.instead


@pytest.mark.parametrize(
    ("noun", "number", "counted"),
    [
        ("leeks", "2", True),
        ("leek", "1/2", True),
        ("red onion", "2", True),
        ("sea bass", "2", True),
        ("star anise", "2", True),
        ("T-bone steaks", "2", True),
        ("leg of lamb", "1", True),
        ("recipe pie dough", "1", True),
        ("saffron threads", "20", True),
        ("cloves", "4", True),
        ("frobnitzes", "3", True),
        ("frobnitz", "1", True),
        ("frobnitzes", "200", False),
        ("frobnitz", "3", False),
        ("all-purpose flour", "200", False),
        ("olive oil", "3/2", False),
        ("butter", "75", False),
        ("sugar", "2", False),
        ("oats", "200", False),
        ("lentils", "150", False),
        ("long-grain white rice", "3/2", False),
        ("dark chocolate", "180", False),
        ("", "2", False),
    ],
)
def test_what_a_bare_number_counts(noun: str, number: str, counted: bool) -> None:
    assert countable(noun, Fraction(number), LARDER) is counted


def test_nouns_stand_once() -> None:
    nouns = [row["noun"] for row in table("counted_nouns")]
    assert len(nouns) == len(set(nouns))
    assert {row["counted"] for row in table("counted_nouns")} == {"yes", "no", "few", "plural"}


@pytest.mark.parametrize(
    "size",
    ["about 100 g each", "(about 100 g each)", "each about 100 g", "100 g apiece", "(3½ oz. each), scrubbed"],
)
def test_the_size_of_each_piece_of_what_is_weighed_is_told_and_not_taken_for_its_weight(size: str) -> None:
    joint = " " if size.startswith("(") else ", "
    line = read_text(f"1 kg potatoes{joint}{size}", LARDER)
    assert line.faults == ()
    assert [one.quantity.low for one in line.statements] == [1000]
    assert "each" in " ".join(line.remarks.prep) or "apiece" in " ".join(line.remarks.prep)


@pytest.mark.parametrize("sorts", ["2% or whole", "whole or 2%", "35% or 38% fat"])
def test_sorts_in_brackets_are_a_remark_and_no_part_of_the_name(sorts: str) -> None:
    line = read_text(f"3 tbsp milk ({sorts})", LARDER)
    assert (line.item, line.remarks.prep, line.faults) == ("milk", (sorts,), ())


def test_each_use_of_its_own_is_kept() -> None:
    remarks = remarks_of(("melted", "for the pan", "to serve"))
    assert (remarks.prep, remarks.for_use) == (("melted",), "for the pan, to serve")
