"""ODT: the paragraphs, lists and tables of an OpenDocument text (OASIS OpenDocument 1.3, part 3)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from cardsmith.draft.lines import Draft, ListMark, Sort
from cardsmith.draft.reading.archives import Archive
from cardsmith.draft.reading.gathering import Gathering
from cardsmith.finding import CardsmithError

_NAMES = "{urn:oasis:names:tc:opendocument:xmlns:"
_TEXT, _TABLE, _OFFICE = (f"{_NAMES}{name}:1.0}}" for name in ("text", "table", "office"))
_BREAKS = {f"{_TEXT}tab": "\t", f"{_TEXT}line-break": "\n"}
_LEFT_OUT = frozenset({f"{_OFFICE}annotation", f"{_TEXT}note", f"{_TEXT}tracked-changes"})
MOST_LEVELS = 20


def read_open_document(data: bytes, name: str) -> Draft:
    """The lines of an OpenDocument text.

    Raises:
        CardsmithError: it is damaged, protected, or larger than any recipe.
    """
    archive = Archive(data, name)
    if b"encryption-data" in archive.bytes_of("META-INF/manifest.xml"):
        raise CardsmithError(f"{name} is protected by a password; save it without one")
    root = archive.tree_of("content.xml")
    body = root.find(f"{_OFFICE}body/{_OFFICE}text") if root is not None else None
    if body is None:
        raise CardsmithError(f"{name} holds no text; save it anew, or paste its text")
    found = Gathering()
    numbered = frozenset(_numbered(root)) | frozenset(_numbered(archive.tree_of("styles.xml")))
    _blocks(body, found, numbered, ListMark.NONE, 0)
    for tag, what in (
        (f"{_OFFICE}annotation", "comment"),
        (f"{_TEXT}note-body", "footnote"),
        (f"{_TEXT}deletion", "taken out"),
    ):
        for element in body.iter(tag):
            text = " ".join(
                filter(None, ("".join(_pieces(one)).strip() for one in element.iter(f"{_TEXT}p")))
            )
            if text:
                found.add(f"{what}: {text}", said=Sort.KEPT)
    return Draft(name=name, lines=tuple(found.lines))


def _numbered(root: Any) -> Iterator[str]:
    """The styles of lists that count."""
    for style in root.iter(f"{_TEXT}list-style") if root is not None else ():
        first = next(iter(style), None)
        if first is not None and first.tag == f"{_TEXT}list-level-style-number":
            yield style.get(f"{_NAMES}style:1.0}}name", "")


def _blocks(parent: Any, found: Gathering, numbered: frozenset[str], mark: ListMark, depth: int) -> None:
    for element in parent if depth < MOST_LEVELS else ():
        if element.tag == f"{_TEXT}h":
            level = element.get(f"{_TEXT}outline-level", "1")
            found.add("".join(_pieces(element)), ListMark.HEADING, int(level) if level.isdigit() else 1)
        elif element.tag == f"{_TEXT}p":
            found.add("".join(_pieces(element)), mark)
        elif element.tag == f"{_TEXT}list":
            style = element.get(f"{_TEXT}style-name", "")
            inner = (
                ListMark.NUMBER
                if style in numbered or (not style and mark is ListMark.NUMBER)
                else ListMark.BULLET
            )
            _blocks(element, found, numbered, inner, depth + 1)
        elif element.tag == f"{_TABLE}table":
            for row in element.iter(f"{_TABLE}table-row"):
                cells = row.iterchildren(f"{_TABLE}table-cell")
                found.add_row(
                    tuple(
                        "\n".join("".join(_pieces(one)) for one in cell.iter(f"{_TEXT}p")) for cell in cells
                    )
                )
            found.blank()
        elif element.tag not in _LEFT_OUT:
            _blocks(element, found, numbered, mark, depth + 1)


def _pieces(element: Any) -> Iterator[str]:
    """The text of a paragraph: that of its children, and what stands between them."""
    yield element.text or ""
    for one in element:
        if one.tag == f"{_TEXT}s":
            count = one.get(f"{_TEXT}c", "1")
            yield " " * (int(count) if count.isdigit() and len(count) < 4 else 1)
        elif one.tag in _BREAKS:
            yield _BREAKS[one.tag]
        elif one.tag not in _LEFT_OUT:
            yield from _pieces(one)
        yield one.tail or ""
