"""Pictures as a finished file holds them: cropped, scaled, and for a press in its inks."""

from __future__ import annotations

import io
from collections.abc import Iterator

import pikepdf

from cardsmith.frozen import frozen


@frozen
class HeldPicture:
    """One picture of a PDF, taken out as it is; ``ending`` is that of its kind of file: ``.jpg``."""

    ending: str
    data: bytes
    width: int  # pixels
    height: int


def pictures_in(pdf: bytes) -> tuple[HeldPicture, ...]:
    """Every picture made of pixels, in the order of its pages, each once; a drawing is none."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return tuple(_held(opened))


def _held(opened: pikepdf.Pdf) -> Iterator[HeldPicture]:
    seen: set[tuple[int, int]] = set()
    for page in opened.pages:
        for drawn in _drawn(page.obj):
            if drawn.objgen in seen:
                continue
            seen.add(drawn.objgen)
            picture = pikepdf.PdfImage(drawn)
            out = io.BytesIO()
            ending = picture.extract_to(stream=out)
            yield HeldPicture(ending=ending, data=out.getvalue(), width=picture.width, height=picture.height)


def _drawn(holder: pikepdf.Object) -> Iterator[pikepdf.Stream]:
    """The pictures among the resources of a page, and of the drawings that it places."""
    placed = holder.get("/Resources", pikepdf.Dictionary()).get("/XObject", pikepdf.Dictionary())
    for _, drawn in sorted(placed.items()):
        if drawn.get("/Subtype") == "/Image" and isinstance(drawn, pikepdf.Stream):
            yield drawn
        elif drawn.get("/Subtype") == "/Form":
            yield from _drawn(drawn)
