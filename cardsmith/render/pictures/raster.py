"""A drawing as dots, for those who take no drawing: search engines, and who shows a link to a page."""

from __future__ import annotations

import io
from typing import Any

from PIL import Image


def rastered(drawing: bytes, width: int) -> bytes:
    """An SVG drawing, ``width`` dots across, as PNG; it stands on white and has no lettering of any font.

    Raises:
        ValueError: the drawing can't be read; `drawings.inspect_drawing` refuses such a one with a remedy.
    """
    from resvg_py import svg_to_bytes  # noqa: PLC0415 - only where a page is made

    return bytes(
        svg_to_bytes(svg_string=drawing.decode(), width=width, background="#ffffff", skip_system_fonts=True)
    )


def as_picture(drawing: bytes, width: int) -> Any:
    """The same, decoded: an opaque picture in sRGB.

    Raises:
        ValueError: as `rastered`.
    """
    with Image.open(io.BytesIO(rastered(drawing, width))) as dots:
        return dots.convert("RGB")  # it stands on white: none of it is transparent
