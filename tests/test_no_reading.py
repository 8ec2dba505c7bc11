"""One room reads words: elsewhere no pattern takes a figure, a unit or a number word out of a text.

Rooms that judge, reckon or publish ask the spans of `cardsmith.language`. A pattern is a literal given to
`regex` or to a function of `re`; what stands in it is looked at as it would be matched, its own repetitions
(``{0,3}``) and escapes aside.
"""

from __future__ import annotations

import ast
import re
import unicodedata
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import pytest

import cardsmith
from cardsmith.language.numbers import NUMBER_WORDS
from cardsmith.measure.units import Dimension, units
from cardsmith.reference import table

PACKAGE = Path(cardsmith.__file__).parent
ROOMS = ("check", "bench", "portion", "site")
MODULES = sorted(file for room in ROOMS for file in (PACKAGE / room).glob("*.py"))
COUNTED = {Dimension.COUNT}  # a clove, a can: nouns
# Words that are a unit or a number by chance: "in the oven", "the second half", "the next day".
OF_TWO_MEANINGS = frozenset(
    {"in", "ins", "second", "seconds", "one", "half", "bar", "day", "gas", "mil", "foot"}
)
# Patterns that read no recipe's words: what each takes is named by the constant or the call it stands in.
ALLOWED = {
    ("bench/draft.py", "_PLAIN"): "a scalar that YAML leaves without quotes",
}


@cache
def unit_words() -> frozenset[str]:
    """Every word of a unit with an agreed size, in small letters."""
    rows = (row for row in table("units") if units()[row["name"]].dimension not in COUNTED)
    words = {
        word.strip(" .").lower()
        for row in rows
        if row["system"] != "vague"
        for word in row["words"].split("|")
    }
    return frozenset(word for word in words if len(word) > 1 and word.isalpha()) - OF_TWO_MEANINGS


def readings_of(pattern: str) -> Iterator[str]:
    """What a pattern would read: digits, signs of numbers and degrees, units, number words."""
    if r"\d" in pattern:
        yield r"\d"
    bare = re.sub(r"\{\d*,?\d*\}|\\x[0-9a-f]{2}|\\u[0-9a-f]{4}|\\[1-9]", " ", pattern)
    yield from (
        sign for sign in dict.fromkeys(bare) if unicodedata.category(sign) in {"Nd", "No"} or sign in "°℃℉%"
    )
    for word in re.findall(r"[a-z]+", re.sub(r"\\.|\(\?P<\w+>", " ", bare).lower()):
        if word in unit_words() or word in NUMBER_WORDS - OF_TWO_MEANINGS:
            yield word


def patterns(source: str) -> Iterator[tuple[str, str]]:
    """Each pattern of a module with the name it is given, or that of the function it stands in."""
    tree = ast.parse(source)
    named = {_name(one): one.value for one in ast.walk(tree) if isinstance(one, ast.Assign)}
    for outer in tree.body:
        for node in ast.walk(outer):
            if isinstance(node, ast.Call) and node.args and _takes_pattern(node.func):
                yield _name(outer), " ".join(_literals(node.args[0], named))


def _takes_pattern(called: ast.expr) -> bool:
    if isinstance(called, ast.Attribute):
        return isinstance(called.value, ast.Name) and called.value.id == "re" and called.attr != "escape"
    return isinstance(called, ast.Name) and called.id == "regex"


def _literals(node: ast.expr, named: Mapping[str, ast.expr]) -> Iterator[str]:
    """The text of a pattern, with that of the names it is put together from."""
    for part in ast.walk(node):
        if isinstance(part, ast.Constant) and isinstance(part.value, str):
            yield part.value
        elif isinstance(part, ast.Name) and part.id in named:
            yield from _literals(
                named[part.id], {name: one for name, one in named.items() if name != part.id}
            )


def _name(node: ast.stmt) -> str:
    if isinstance(node, ast.Assign):
        return ast.unparse(node.targets[0])
    return getattr(node, "name", "")


@pytest.mark.parametrize("file", MODULES, ids=lambda file: f"{file.parent.name}/{file.stem}")
def test_no_pattern_reads_a_figure_or_a_unit(file: Path) -> None:
    place = f"{file.parent.name}/{file.name}"
    found = {
        (name, told)
        for name, pattern in patterns(file.read_text(encoding="utf-8"))
        for told in readings_of(pattern)
        if (place, name) not in ALLOWED
    }
    assert found == set()
    assert "WHOLES" not in file.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("pattern", "told"),
    [
        (r"(\d+) batches", [r"\d"]),
        ("[0-4]", ["0", "4"]),
        ("[½¼]", ["½", "¼"]),
        (r"°([CF])", ["°"]),
        (r"(?:\w+ ){0,3}oven", []),
        (r"minutes? to go", ["minutes"]),
        (r"\b(?:tea|table)spoon\b|\bcup\b", ["cup"]),
        (r"the second half in the oven", []),
        (r"(?P<cup>both|three) eggs", ["three"]),
        ("for the pan|a pinch", []),
    ],
)
def test_what_a_pattern_would_read(pattern: str, told: list[str]) -> None:
    assert list(readings_of(pattern)) == told


def test_a_pattern_is_read_with_what_it_is_put_together_from() -> None:
    source = "COUNT = r'\\d+'\n\ndef f(text):\n    return re.search(rf'{COUNT} eggs', text)\n"
    ((name, pattern),) = patterns(source)
    assert (name, list(readings_of(pattern))) == ("f", [r"\d"])


def test_what_is_allowed_is_there() -> None:
    for place, name in ALLOWED:
        assert name in dict(patterns((PACKAGE / place).read_text(encoding="utf-8"))), (place, name)
