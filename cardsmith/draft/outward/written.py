"""Rows of a recipe as plain text, as Markdown, as a Word file."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from itertools import pairwise

from cardsmith.draft.outward.rows import LetterRow, RowRole

_LISTS = frozenset({RowRole.INGREDIENT, RowRole.STEP, RowRole.NOTE, RowRole.FACT})


def as_text(rows: Sequence[LetterRow]) -> bytes:
    """Plain text in UTF-8: bullets, numbered steps, a blank line between lists."""
    return _joined(rows, _plain)


def as_markdown(rows: Sequence[LetterRow]) -> bytes:
    """CommonMark in UTF-8."""
    return _joined(rows, _marked)


def _joined(rows: Sequence[LetterRow], written: Callable[[LetterRow], str]) -> bytes:
    paragraphs: list[str] = []
    for before, row in pairwise((None, *rows)):
        assert row is not None
        if before is not None and not (row.role is before.role and row.role in _LISTS):
            paragraphs.append("")
        paragraphs.append(written(row))
    return ("\n".join(paragraphs) + "\n").encode()


def _plain(row: LetterRow) -> str:
    match row.role:
        case RowRole.INGREDIENT | RowRole.NOTE:
            return f"- {row.text}"
        case RowRole.STEP:
            return f"{row.number}. {row.text}"
        case RowRole.LABEL | RowRole.PART:
            return f"{row.text}:"
        case _:
            return row.text


def _marked(row: LetterRow) -> str:
    match row.role:
        case RowRole.TITLE:
            return f"# {row.text}"
        case RowRole.LABEL | RowRole.PART:
            return f"## {row.text}"
        case RowRole.FACT:
            return f"- {row.text}"
        case _:
            return _plain(row)


def as_word(rows: Sequence[LetterRow]) -> bytes:
    """A Word file (DOCX), its title and subheads as headings, its lists as lists."""
    from docx import Document  # noqa: PLC0415 - most commands write none

    document = Document()
    for row in rows:
        if row.role is RowRole.TITLE:
            document.add_heading(row.text, 1)
        elif row.role in (RowRole.LABEL, RowRole.PART):
            document.add_heading(row.text, 2)
        else:
            document.add_paragraph(_numbered(row), style=_STYLES.get(row.role))
    stream = io.BytesIO()
    document.save(stream)
    return stream.getvalue()


_STYLES = {RowRole.INGREDIENT: "List Bullet", RowRole.NOTE: "List Bullet"}


def _numbered(row: LetterRow) -> str:
    """A step with its number typed: a Word list would go on counting from part to part."""
    return f"{row.number}. {row.text}" if row.role is RowRole.STEP else row.text


FORMS: dict[str, tuple[str, Callable[[Sequence[LetterRow]], bytes]]] = {
    "text": ("txt", as_text),
    "markdown": ("md", as_markdown),
    "docx": ("docx", as_word),
}
