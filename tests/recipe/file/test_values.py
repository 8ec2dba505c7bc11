"""A tree that fits its schema becomes values; what a kind can make nothing of is told at its place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest

from cardsmith.finding import Finding
from cardsmith.recipe.file.shape import shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.values import values
from cardsmith.recipe.schema.kinds import Lines, Record, TextKind, UnfitError, entry


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    low: int
    high: int
    note: str = ""

    def __post_init__(self) -> None:
        if self.low > self.high:
            raise UnfitError("low is above high", "the smaller one first")


def _whole(text: str) -> int:
    if not text.isdigit():
        raise UnfitError(f"“{text}” is not a whole number")
    return int(text)


WHOLE = TextKind(made=_whole)
SPAN = Record(
    fields=(
        entry("low", WHOLE, "The low end.", "1", required=True),
        entry("high", WHOLE, "The high end.", "9", required=True),
        entry("note", TextKind(), "A remark.", "measured"),
    ),
    made=Span,
)
SCHEMA = Record(
    fields=(
        entry("span", SPAN, "From where to where.", "{low: 1, high: 9}"),
        entry("counts", Lines(noun="count", text=WHOLE, made=sum), "Counts.", "[1, 2]"),
        entry("spans", Lines(noun="span", text=None, record=SPAN), "Several.", "[{low: 1, high: 9}]"),
    )
)


def values_of(text: str) -> tuple[Any, tuple[Finding, ...], tuple[Finding, ...]]:
    source = read_source(text.encode(), "x")
    assert source.findings == ()
    assert source.root is not None
    root, misshapen = shaped(source.root, text.split("\n"), SCHEMA, "file")
    assert root is not None
    value, unfit = values(root, SCHEMA)
    return value, misshapen, unfit


def test_each_kind_makes_its_value() -> None:
    value, misshapen, unfit = values_of(
        "span: {low: ' 1', high: 9}\ncounts: [1, 2, 3]\nspans: [{low: 2, high: 2, note: x}]\n"
    )
    assert (misshapen, unfit) == ((), ())
    assert value == {"span": Span(low=1, high=9), "counts": 6, "spans": (Span(low=2, high=2, note="x"),)}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("span: {low: one, high: 9}", ["x:1:13: error: low: “one” is not a whole number - write low: 1"]),
        ("counts: [1, two]", ["x:1:13: error: counts: “two” is not a whole number - write counts: [1, 2]"]),
        ("span: {low: 9, high: 1}", ["x:1:7: error: span: low is above high - write the smaller one first"]),
        ("span: {low: a, high: b}\ncounts: [c]", ["x:1:13: ", "x:1:22: ", "x:2:10: "]),
    ],
)
def test_what_is_unfit_is_told_where_it_stands(text: str, told: list[str]) -> None:
    value, misshapen, unfit = values_of(text)
    assert value is None
    assert misshapen == ()
    assert len(unfit) == len(told)
    assert all(str(finding).startswith(start) for finding, start in zip(unfit, told, strict=True))


@pytest.mark.parametrize(
    "text", ["span: {low: 1}", "span: {low: 1, high: [2, 3]}", "span: {low: 1, high: ''}"]
)
def test_what_the_schema_refused_is_told_once(text: str) -> None:
    value, misshapen, unfit = values_of(text)
    assert value is None
    assert len(misshapen) == 1
    assert unfit == ()
