"""One room reads words: elsewhere no pattern takes a figure, a unit or a number word out of a text.

Rooms that judge, reckon, print or publish ask the spans of `cardsmith.language`. A pattern is a literal that
`regex` or a function of `re` is given; what stands in it is looked at as it would be matched, its repetitions
(``{0,3}``) and escapes aside. What is allowed reads the syntax of a file, or sets ready words in type.
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
from cardsmith.language.figures.numbers import NUMBER_WORDS
from cardsmith.measure.units import Dimension, units
from cardsmith.reference import table

PACKAGE = Path(cardsmith.__file__).parent
ROOMS = (
    *("recipe", "facts", "bench", "portion", "check", "rewrite", "readback", "proof", "render", "site"),
    *("measure", "draft"),
)
MODULES = sorted(file for room in ROOMS for file in (PACKAGE / room).rglob("*.py"))
COUNTED = {Dimension.COUNT}  # a clove, a can: nouns
# Words that are a unit or a number by chance: "in the oven", "the second half", "the next day".
OF_TWO_MEANINGS = frozenset(
    {"in", "ins", "second", "seconds", "one", "half", "bar", "day", "gas", "mil", "foot"}
)
# Patterns that read no recipe's words: what each takes is named by the constant or the call it stands in.
ALLOWED = {
    ("bench/file/yaml_text.py", "_PLAIN"): "a scalar that YAML leaves without quotes",
    ("draft/reading/recipe_data.py", "_SPAN"): "a length of time in ISO 8601, as a page's data have it",
    ("recipe/file/blocks.py", "_NUMBER"): "the number that a list of steps begins a line with",
    ("recipe/file/events.py", "_DIFFERENT"): "marks that mean something to YAML",
    ("recipe/folder.py", "NAME"): "a folder's name",
    ("recipe/load.py", "_OUTSIDE"): "a path that leads out of the folder",
    ("recipe/file/source.py", "_RUN"): "a run of one character, which no recipe has",
    ("recipe/file/yaml_traps.py", "_BLOCK"): "the head of a block of text in YAML",
    ("recipe/file/yaml_traps.py", "_TEXT_AFTER_BLOCK"): "words behind that head",
    ("measure/food_words.py", "_WORD"): "a word of a food's name, 2 % milk among them",
    ("proof/issued.py", "_NAME"): "the name of an issued proof",
    ("measure/pint_units.py", "_UNIT"): "what pint's parser may be given",
    ("render/direction.py", "_PHRASE"): "words from right to left, with what stands between them",
    ("render/pictures/drawings.py", "_NUMBER"): "a number of SVG",
    ("render/pictures/drawings.py", "_SIZE"): "a length of SVG",
    ("render/pictures/drawings.py", "_HUGE"): "a number of SVG beyond all paper",
    ("render/pictures/shapes.py", "_LENGTH"): "a length of SVG",
    ("render/pictures/shapes.py", "_PIECE"): "a number of an SVG path",
    ("render/pictures/prepare.py", "_PLACE"): "a photo's focus, as CSS has it",
    ("render/card/view.py", "_FOCUS"): "the same",
    ("render/press/version.py", "_VERSION"): "the identifier in a press file's metadata",
    ("render/weasyprint_savings.py", "_ARRAY"): "a C type",
    ("render/press/slug.py", "_MAPPED"): "a font's map of characters in PDF",
    ("render/tagging.py", "_TAGGED"): "marked content in PDF",
    # What these miss costs a better line, never a number: each match is set as it stands.
    ("render/typeset.py", "_MARKS"): "spaces, dashes, primes and signs beside figures",
    ("render/typeset.py", "_BRACKETED"): "brackets that a line may not end inside",
    ("render/typeset.py", "_JOINED"): "words that a line may not end inside",
    ("render/typeset.py", "_LAST_WORD"): "a long last word",
    ("render/typeset.py", "_SLASHED"): "a fraction that fonts draw",
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
    named = {
        _name(one): one.value
        for one in ast.walk(tree)
        if isinstance(one, ast.Assign | ast.AnnAssign) and one.value is not None
    }
    for one in ast.walk(tree):
        if isinstance(one, ast.comprehension):
            named |= {name.id: one.iter for name in ast.walk(one.target) if isinstance(name, ast.Name)}
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
    if isinstance(node, ast.Assign | ast.AnnAssign):
        return ast.unparse(node.targets[0] if isinstance(node, ast.Assign) else node.target)
    return getattr(node, "name", "")


@pytest.mark.parametrize("file", MODULES, ids=lambda file: file.relative_to(PACKAGE).as_posix())
def test_no_pattern_reads_a_figure_or_a_unit(file: Path) -> None:
    place = file.relative_to(PACKAGE).as_posix()
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


def test_a_pattern_of_a_table_is_read_too() -> None:
    source = "MARKS: tuple = tuple(re.compile(one) for one, mark in ((r'\\d g', ''), ('x', '')))\n"
    ((name, pattern),) = patterns(source)
    assert name == "MARKS"
    assert r"\d" in readings_of(pattern)


def test_what_is_allowed_is_there() -> None:
    for place, name in ALLOWED:
        assert name in dict(patterns((PACKAGE / place).read_text(encoding="utf-8"))), (place, name)
