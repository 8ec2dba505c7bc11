"""DOCX: the paragraphs, lists and tables of a Word file, with what stands beside its text.

Read as ECMA-376 has it (WordprocessingML): w:p is a paragraph, w:r a run, w:t its text, w:numPr a place in a
list. What was taken out while changes were tracked, comments, footnotes and running heads are kept.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from cardsmith.draft.lines import Draft, ListMark, Sort
from cardsmith.draft.reading.archives import Archive
from cardsmith.draft.reading.gathering import Gathering
from cardsmith.finding import CardsmithError

_W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_FALLBACK = "{http://schemas.openxmlformats.org/markup-compatibility/2006}Fallback"
_TEXTS = {f"{_W}tab": "\t", f"{_W}br": "\n", f"{_W}cr": "\n", f"{_W}noBreakHyphen": "-"}
_INSIDE = frozenset({f"{_W}sdt", f"{_W}sdtContent", f"{_W}smartTag", f"{_W}customXml", f"{_W}ins"})
MOST_LEVELS = 12  # of tables within tables


def read_word(data: bytes, name: str) -> Draft:
    """The lines of a Word file.

    Raises:
        CardsmithError: it is damaged, or larger than any recipe.
    """
    archive = Archive(data, name)
    root = archive.tree_of("word/document.xml")
    body = root.find(f"{_W}body") if root is not None else None
    if body is None:
        raise CardsmithError(f"{name} holds no text; save it anew, or paste its text")
    word = _Word(archive)
    word.blocks(body, 0)
    word.around()
    return Draft(name=name, lines=tuple(word.found.lines))


class _Word:
    """The walk; a class only to hold the styles and lists that paragraphs refer to."""

    def __init__(self, archive: Archive) -> None:
        self.archive = archive
        self.found = Gathering()
        self.styles = dict(_styles(archive.tree_of("word/styles.xml")))
        self.remarks = dict(_remarks(archive))
        self.formats = dict(_formats(archive.tree_of("word/numbering.xml")))

    def blocks(self, parent: Any, depth: int) -> None:
        for element in parent:
            if element.tag == f"{_W}p":
                self.paragraph(element, depth)
            elif element.tag == f"{_W}tbl" and depth < MOST_LEVELS:
                for row in element.iter(f"{_W}tr"):
                    if _table_of(row) is element:
                        self.found.add_row(tuple(map(_cell, row.iterchildren(f"{_W}tc"))))
                        self.beside(row)
                self.found.blank()
            elif element.tag in _INSIDE and depth < MOST_LEVELS:
                self.blocks(element, depth + 1)

    def paragraph(self, element: Any, depth: int) -> None:
        style = self.styles.get(_value(element, "pStyle"), "")
        mark, level = self.mark_of(element, style)
        self.found.add(_text(element), mark, level)
        self.beside(element)
        for box in element.iter(f"{_W}txbxContent"):
            if depth < MOST_LEVELS and not any(outer.tag == _FALLBACK for outer in box.iterancestors()):
                self.blocks(box, depth + 1)

    def mark_of(self, element: Any, style: str) -> tuple[ListMark, int]:
        """Whether a paragraph is a heading or stands in a list, by its style or its own properties."""
        if style.startswith("heading") or style == "title":
            level = style.removeprefix("heading").strip()
            return ListMark.HEADING, int(level) if level.isdigit() else 1
        number = element.find(f"{_W}pPr/{_W}numPr")
        listed = self.formats.get(_value(number, "numId", direct=True), "") if number is not None else ""
        if listed == "bullet" or (not listed and style.startswith("list bullet")):
            return ListMark.BULLET, 0
        if (listed and listed != "none") or style.startswith("list number"):
            return ListMark.NUMBER, 0
        return ListMark.NONE, 0

    def beside(self, element: Any) -> None:
        """What stands beside a paragraph or a row: what was taken out of it, comments, notes at the foot."""
        for remark in element.iter(f"{_W}del", *_REFERENCES):
            if remark.tag == f"{_W}del":
                self.found.beside(
                    "taken out", "".join(text.text or "" for text in remark.iter(f"{_W}delText"))
                )
            else:
                remark_there = self.remarks.pop((remark.tag, remark.get(f"{_W}id", "")), ("", ""))
                self.found.beside(*remark_there)

    def around(self) -> None:
        """What no place in the text refers to, and what runs along the head and the foot of pages."""
        for what, text in self.remarks.values():
            if any(map(str.isalnum, text)):
                self.found.add(f"{what}: {text}", said=Sort.KEPT)
        for part in sorted(self.archive.parts):
            what = next((kind for lead, kind in _RUNNING.items() if part.startswith(lead)), "")
            tree = self.archive.tree_of(part) if what and part.endswith(".xml") else None
            for element in tree.iter(f"{_W}p") if tree is not None else ():
                if any(map(str.isalnum, text := _text(element))):
                    self.found.add(f"{what}: {text}", said=Sort.KEPT)


_RUNNING = {"word/header": "running head", "word/footer": "foot of the page"}
_REFERENCES = {  # by the mark in the text: the part that holds what it refers to, and under which name
    f"{_W}commentReference": ("word/comments.xml", "comment"),
    f"{_W}footnoteReference": ("word/footnotes.xml", "footnote"),
    f"{_W}endnoteReference": ("word/endnotes.xml", "endnote"),
}


def _remarks(archive: Archive) -> Iterator[tuple[tuple[str, str], tuple[str, str]]]:
    """Comments and notes by the mark in the text that refers to each: what it is, and what it says."""
    for mark, (part, what) in _REFERENCES.items():
        root = archive.tree_of(part)
        for style in root if root is not None else ():
            author = style.get(f"{_W}author", "").strip()
            text = " ".join(map(_text, style.iter(f"{_W}p")))
            yield (mark, style.get(f"{_W}id", "")), (f"{what} by {author}" if author else what, text)


def _value(element: Any, tag: str, *, direct: bool = False) -> str:
    """The value of a property of a paragraph, or of its own child."""
    child = element.find(f"{_W}{tag}" if direct else f"{_W}pPr/{_W}{tag}")
    return child.get(f"{_W}val", "") if child is not None else ""


def _styles(root: Any) -> Iterator[tuple[str, str]]:
    for style in root.iter(f"{_W}style") if root is not None else ():
        yield style.get(f"{_W}styleId", ""), _value(style, "name", direct=True).lower()


def _formats(root: Any) -> Iterator[tuple[str, str]]:
    """How each list is numbered: bullet, decimal …"""
    if root is None:
        return
    abstract = {
        definition.get(f"{_W}abstractNumId", ""): next(
            (_value(level, "numFmt", direct=True) for level in definition.iter(f"{_W}lvl")), ""
        )
        for definition in root.iter(f"{_W}abstractNum")
    }
    for numbering in root.iter(f"{_W}num"):
        yield (
            numbering.get(f"{_W}numId", ""),
            abstract.get(_value(numbering, "abstractNumId", direct=True), ""),
        )


def _table_of(row: Any) -> Any:
    return next(table for table in row.iterancestors(f"{_W}tbl"))


def _cell(cell: Any) -> str:
    return "\n".join(filter(None, (_text(paragraph).strip() for paragraph in cell.iter(f"{_W}p"))))


def _text(paragraph: Any) -> str:
    """The text of a paragraph, without that of text boxes in it."""
    return "".join(_pieces(paragraph))


def _pieces(element: Any) -> Iterator[str]:
    for child in element:
        if child.tag == f"{_W}t":
            yield child.text or ""
        elif child.tag in _TEXTS:
            yield _TEXTS[child.tag]
        elif child.tag not in (f"{_W}txbxContent", f"{_W}del", f"{_W}pPr", f"{_W}rPr", _FALLBACK):
            yield from _pieces(child)
