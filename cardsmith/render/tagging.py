"""What the typesetter leaves out of a tagged PDF, or gets wrong (ISO 14289-1:2014).

Which way a table's heading cells look (7.5); that running heads and feet are no part of the text (7.1); where
a picture stands, which it gives in pixels from the top (7.3); that a paragraph holds no other and a
tag something (7.1); and what links it gives, one more for every piece of a link's words (7.18.5).
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
_PRINTS = 4  # of an annotation: it is there on paper too (ISO 32000-1, table 165)
_BLOCKS = (Name.P, Name.Div, Name.L, Name.Table, Name.H1, Name.H2, Name.H3)


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
    _divided(elements)
    _links_once(document)
    _full(document.Root.StructTreeRoot)
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
                corners = (left + box[0], top - box[3], left + box[2], top - box[1])
                inside = (
                    max(corners[0], left),
                    max(corners[1], foot),
                    min(corners[2], right),
                    min(corners[3], top),
                )
                given.BBox = Array([round(edge, 4) for edge in inside])


def _divided(elements: list[Any]) -> None:
    """Make a division of a paragraph that holds paragraphs (ISO 32000-1, 14.8.4.3)."""
    for element in elements:
        if element.get(Name.S) == Name.P and any(kid.get(Name.S) in _BLOCKS for kid in _kids(element)):
            element.S = Name.Div


def _links_once(document: pikepdf.Pdf) -> None:
    """Leave a link its own annotation, of those that also stand for words within it, and let it print."""
    parents = document.Root.StructTreeRoot.ParentTree.Nums
    elements = {int(parents[place]): parents[place + 1] for place in range(0, len(parents), 2)}
    for page in document.pages:
        kept = []
        for link in _list(page.obj.get(Name.Annots)):
            element = elements.get(int(link.get(Name.StructParent, -1)))
            if element is None or Name.Link == element.S or not _within_link(element):
                link.F = _PRINTS
                kept.append(link)
                continue
            others = [kid for kid in _list(element.K) if not _refers_to(kid, link)]
            element.K = Array(others)
            place = next(place for place in range(0, len(parents), 2) if parents[place] == link.StructParent)
            del parents[place], parents[place]
        if kept:
            page.obj.Annots = Array(kept)


def _full(element: Any) -> None:
    """Take out tags that hold nothing: places in the text that the page around it is told of."""
    kids = _list(element.get(Name.K))
    for kid in kids:
        if isinstance(kid, Dictionary) and Name.S in kid:
            _full(kid)
    full = [kid for kid in kids if not _is_empty(kid)]
    if len(full) < len(kids):
        element.K = Array(full)


def _is_empty(kid: Any) -> bool:
    bare = isinstance(kid, Dictionary) and kid.get(Name.S) in (Name.Span, Name.NonStruct)
    return bare and not _list(kid.get(Name.K))


def _within_link(element: Any) -> bool:
    while (element := element.get(Name.P)) is not None:
        if element.get(Name.S) == Name.Link:
            return True
    return False


def _refers_to(kid: Any, link: Any) -> bool:
    return isinstance(kid, Dictionary) and kid.get(Name.Type) == Name.OBJR and kid.Obj.objgen == link.objgen


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
