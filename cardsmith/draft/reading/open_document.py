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
_AUTHOR = "{http://purl.org/dc/elements/1.1/}creator"
_XML_ID = "{http://www.w3.org/XML/1998/namespace}id"
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
    numbered = frozenset(_numbered(root)) | frozenset(_numbered(archive.tree_of("styles.xml")))
    walk = _Walk(numbered, dict(_taken_out(body)))
    walk.blocks(body, ListMark.NONE, 0)
    for text in walk.taken_out.values():
        if text:
            walk.found.add(f"taken out: {text}", said=Sort.KEPT)
    return Draft(name=name, lines=tuple(walk.found.lines))


def _taken_out(body: Any) -> Iterator[tuple[str, str]]:
    """What was taken out while changes were tracked, by the name of its place in the text."""
    for region in body.iter(f"{_TEXT}changed-region"):
        deleted = " ".join(_words(deletion) for deletion in region.iter(f"{_TEXT}deletion"))
        yield region.get(f"{_TEXT}id", region.get(_XML_ID, "")), deleted


def _words(element: Any) -> str:
    """All paragraphs of a comment, a footnote or a change as one text."""
    return " ".join(
        filter(None, ("".join(_pieces(paragraph)).strip() for paragraph in element.iter(f"{_TEXT}p")))
    )


def _numbered(root: Any) -> Iterator[str]:
    """The styles of lists that count."""
    for style in root.iter(f"{_TEXT}list-style") if root is not None else ():
        first = next(iter(style), None)
        if first is not None and first.tag == f"{_TEXT}list-level-style-number":
            yield style.get(f"{_NAMES}style:1.0}}name", "")


class _Walk:
    """The walk over the text; a class only to hold what its places refer to."""

    def __init__(self, numbered: frozenset[str], taken_out: dict[str, str]) -> None:
        self.found = Gathering()
        self.numbered = numbered
        self.taken_out = taken_out

    def blocks(self, parent: Any, mark: ListMark, depth: int) -> None:
        for element in parent if depth < MOST_LEVELS else ():
            if element.tag == f"{_TEXT}h":
                level = element.get(f"{_TEXT}outline-level", "1")
                heading = int(level) if level.isdigit() else 1
                self.found.add("".join(_pieces(element)), ListMark.HEADING, heading)
                self.beside(element)
            elif element.tag == f"{_TEXT}p":
                self.found.add("".join(_pieces(element)), mark)
                self.beside(element)
            elif element.tag == f"{_TEXT}list":
                style = element.get(f"{_TEXT}style-name", "")
                counts = style in self.numbered or (not style and mark is ListMark.NUMBER)
                self.blocks(element, ListMark.NUMBER if counts else ListMark.BULLET, depth + 1)
            elif element.tag == f"{_TABLE}table":
                for row in element.iter(f"{_TABLE}table-row"):
                    self.found.add_row(tuple(map(_cell, row.iterchildren(f"{_TABLE}table-cell"))))
                    self.beside(row)
                self.found.blank()
            elif element.tag not in _LEFT_OUT:
                self.blocks(element, mark, depth + 1)

    def beside(self, element: Any) -> None:
        """What stands beside a paragraph or a row: comments on it, its footnotes, what it had before."""
        for remark in element.iter(f"{_OFFICE}annotation", f"{_TEXT}note-body", f"{_TEXT}change"):
            if remark.tag == f"{_TEXT}change":
                self.found.beside("taken out", self.taken_out.pop(remark.get(f"{_TEXT}change-id", ""), ""))
            elif remark.tag == f"{_OFFICE}annotation":
                author = remark.findtext(_AUTHOR, "").strip()
                self.found.beside(f"comment by {author}" if author else "comment", _words(remark))
            else:
                self.found.beside("footnote", _words(remark))


def _cell(cell: Any) -> str:
    return "\n".join("".join(_pieces(paragraph)) for paragraph in cell.iter(f"{_TEXT}p"))


def _pieces(element: Any) -> Iterator[str]:
    """The text of a paragraph: that of its children, and what stands between them."""
    yield element.text or ""
    for child in element:
        if child.tag == f"{_TEXT}s":
            count = child.get(f"{_TEXT}c", "1")
            yield " " * (int(count) if count.isdigit() and len(count) < 4 else 1)
        elif child.tag in _BREAKS:
            yield _BREAKS[child.tag]
        elif child.tag not in _LEFT_OUT:
            yield from _pieces(child)
        yield child.tail or ""
