"""What the typesetter leaves out of a tagged PDF: which way a table's heading cells look."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name


def screened(pdf: bytes) -> bytes:
    """The PDF of a card cut to its trimmed pages, since a screen has no bleed, its headings scoped."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        for page in document.pages:
            page.mediabox = page.trimbox
            for box in ("/TrimBox", "/BleedBox"):
                if box in page:
                    del page[box]
        return _scoped(document)


def scoped(pdf: bytes) -> bytes:
    """The PDF with a Scope on every TH (ISO 14289-1:2014, 7.5); same bytes in, same bytes out.

    Cells of a THead and cells that head a part (alone in their row) look down, all others along the row.
    """
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return _scoped(document)


def _scoped(document: pikepdf.Pdf) -> bytes:
    for row, inside_head in _rows(document.Root.StructTreeRoot, inside_head=False):
        cells = [kid for kid in _kids(row) if kid.get(Name.S) in (Name.TH, Name.TD)]
        down = inside_head or len(cells) == 1
        for cell in cells:
            if cell.S == Name.TH:
                scope = Dictionary(O=Name.Table, Scope=Name.Column if down else Name.Row)
                given = cell.get(Name.A)
                cell.A = scope if given is None else Array([*_list(given), scope])
    out = io.BytesIO()
    document.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def _rows(element: Any, *, inside_head: bool) -> Iterator[tuple[Any, bool]]:
    head = inside_head or element.get(Name.S) == Name.THead
    if element.get(Name.S) == Name.TR:
        yield element, head
    for kid in _kids(element):
        yield from _rows(kid, inside_head=head)


def _kids(element: Any) -> list[Any]:
    return [kid for kid in _list(element.get(Name.K)) if isinstance(kid, Dictionary)]


def _list(value: Any) -> list[Any]:
    """A tag's kids or attributes: one object, an array of them, or nothing."""
    if value is None:
        return []
    return list(value) if isinstance(value, Array) else [value]
