"""What the typesetter leaves out of a tagged PDF, or gets wrong (ISO 14289-1:2014).

Which way a table's heading cells look (7.5); that running heads and feet are no part of the text (7.1); and
where a picture stands, which it gives in pixels from the top (7.3).
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

_TAGGED = re.compile(rb"/\w+\s*<<\s*/MCID\s+(\d+)\s*>>\s*BDC")
_POINTS = 0.75  # of a CSS pixel


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

    Cells of a THead and cells that head a part (alone in their row) head columns, all others head rows.
    """
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return _scoped(document)


def _scoped(document: pikepdf.Pdf) -> bytes:
    elements = list(_elements(document.Root.StructTreeRoot))
    _running_artifacts(document, elements)
    _pictures_in_points(elements)
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


def _running_artifacts(document: pikepdf.Pdf, elements: list[Any]) -> None:
    """Mark as artifacts what is tagged outside the tree: the typesetter's running heads and feet."""
    within = {element.objgen for element in elements}
    numbers = document.Root.StructTreeRoot.ParentTree.Nums
    parents = {int(numbers[place]): numbers[place + 1] for place in range(0, len(numbers), 2)}
    for page in document.pages:
        tagged = parents.get(int(page.obj.get(Name.StructParents, -1)), ())
        outside = {number for number, element in enumerate(tagged) if element.objgen not in within}

        def retagged(match: re.Match[bytes], outside: set[int] = outside) -> bytes:
            return b"/Artifact <</Type /Pagination>> BDC" if int(match[1]) in outside else match[0]

        if outside:
            content = b"\n".join(part.read_bytes() for part in _list(page.obj.Contents))
            page.Contents = document.make_stream(_TAGGED.sub(retagged, content))


def _pictures_in_points(elements: list[Any]) -> None:
    """Give each picture's box in points from the foot of its page (ISO 32000-1, table 345)."""
    for element in elements:
        for given in _list(element.get(Name.A)):
            if Name.BBox in given and element.get(Name.Pg) is not None:
                left, foot, right, top = (float(edge) for edge in element.Pg.MediaBox)
                box = [float(edge) * _POINTS for edge in given.BBox]
                found = (left + box[0], top - box[3], left + box[2], top - box[1])
                inside = (max(found[0], left), max(found[1], foot), min(found[2], right), min(found[3], top))
                given.BBox = Array([round(edge, 4) for edge in inside])


def _elements(element: Any) -> Iterator[Any]:
    yield element
    for kid in _kids(element):
        if Name.S in kid:
            yield from _elements(kid)


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
