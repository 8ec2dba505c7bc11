"""Bytes to text: encodings, sizes, invisible characters; and that text stays as it was typed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.recipe.file.source import MAX_BYTES, Source, read_source
from cardsmith.recipe.file.tree import Mapping, Node, Scalar, Sequence
from tests.pace import within


def said(source: Source) -> list[str]:
    return [str(finding) for finding in source.findings]


def plain(node: Node | None) -> object:
    """The tree as lists and dictionaries."""
    match node:
        case Scalar(text=text):
            return text
        case Sequence(items=items):
            return [plain(item) for item in items]
        case Mapping(entries=entries):
            return {key.text: plain(value) for key, value in entries}
    return None


@pytest.mark.parametrize(
    "text",
    ["0123", "1.50", "no", "Yes", "null", "~", "2026-01-02", "1_000", "12:30", ".5", "0x10", "1e3", "½"],
)
def test_text_stays_as_typed(text: str) -> None:
    source = read_source(f"a: {text}\nb: [{text}]\n".encode(), "x")
    assert plain(source.root) == {"a": text, "b": [text]}
    assert said(source) == []


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (
            b"title: Cr\xe8me\nkind: x\n",
            "x:1:10: error: byte e8 is not UTF-8; in Windows-1252 it is “è” - "
            "the same text saved as UTF-8; then look at this character [not-utf-8]",
        ),
        (
            "title: Crème\n".encode("utf-16"),
            "x:1: error: the file is in UTF-16 - "
            "the same text saved as UTF-8; editors offer it under Save with encoding [not-utf-8]",
        ),
        (
            b"title: Crackers\0\n",
            "x:1:16: error: an invisible character (U+0000) stands here - "
            "the line without it; it most likely came along when text was pasted [control-character]",
        ),
        (
            "title: a\u202eb\n".encode(),
            "x:1:9: error: an invisible character (U+202E) stands here - "
            "the line without it; it most likely came along when text was pasted [control-character]",
        ),
        (
            b"a" * (MAX_BYTES + 1),
            "x: error: the file is longer than 128,000 bytes; a long recipe has 10,000 - "
            "the recipe alone; photos stand beside it [file-too-large]",
        ),
        (
            b"a: [" + b"b, " * 10_000 + b"c]\n",
            "x:1:23996: error: the file has more than 8,000 entries - one recipe in a file [file-too-large]",
        ),
        (
            b'title: "\\ud800"\n',
            "x:1:9: error: the escape in this text stands for an invisible character (U+D800) - "
            "the text without it [control-character]",
        ),
    ],
    ids=["windows", "utf-16", "nul", "bidi", "large", "many", "surrogate"],
)
def test_what_cannot_be_text(data: bytes, told: str) -> None:
    assert said(read_source(data, "x")) == [told]


def test_a_line_in_another_encoding_does_not_hide_the_rest() -> None:
    source = read_source(b"title: Cr\xe8me\nkind: custard: baked\n", "x")
    assert plain(source.root) == {"title": "Crème", "kind": "custard: baked"}
    assert [finding.name for finding in source.findings] == ["not-utf-8", "yaml-colon"]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["bare", "marked"])
def test_line_ends_and_byte_order_mark(end: str, mark: bytes) -> None:
    source = read_source(mark + f"title: Buns{end}kind: bun{end}".encode(), "x")
    assert said(source) == []
    assert isinstance(source.root, Mapping)
    assert [(key.text, key.where.line, key.where.column) for key, _ in source.root.entries] == [
        ("title", 1, 1),
        ("kind", 2, 1),
    ]


@pytest.mark.parametrize(
    "text",
    ["[" * 90_000, "{[" * 45_000, "- " * 45_000, "? " * 45_000, "'" * 90_000, "a:\n" + "- @b\n" * 15_000,
     "a:\n" + "\t- b\n" * 15_000, "steps: |\n" + "  1. Heat\n" * 9_000, "- x\n" + "   y\n" * 15_000],
    ids=["brackets", "both", "dashes", "keys", "quotes", "traps", "tabs", "steps", "wrapped"],
)  # fmt: skip
def test_a_hostile_file_ends_soon(text: str) -> None:
    with within(20):  # none took more than 3 on a slow machine
        read_source(text.encode(), "x")


WORDS = st.text(alphabet=st.characters(codec="utf-8", categories=["L", "N"]), min_size=1, max_size=8)
TEXTS = st.lists(WORDS, min_size=1, max_size=6).map(" ".join)


@given(st.lists(st.tuples(WORDS, st.one_of(TEXTS, st.lists(TEXTS, min_size=1, max_size=4))), max_size=5))
def test_every_text_stands_where_it_says(entries: list[tuple[str, str | list[str]]]) -> None:
    text = ""
    for key, value in entries:
        listed = "".join(f"\n  - {item}" for item in value) if isinstance(value, list) else f" {value}"
        text += f"{key}:{listed}\n"
    source = read_source(text.encode(), "x")
    lines = text.split("\n")
    pending = [source.root]
    while pending:
        node = pending.pop()
        match node:
            case Scalar():
                assert lines[node.where.line - 1][node.where.column - 1 :].startswith(node.text)
            case Sequence(items=items):
                pending += items
            case Mapping(entries=found):
                pending += [part for entry in found for part in entry]
