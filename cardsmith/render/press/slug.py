"""The line of small type outside the cut that says which file a page is from, and which press it is for.

Its letters are set once a process and written into each file by their numbers in the font, without kerning:
laying it out for every file would cost more than kerning shows at 6 points.
"""

from __future__ import annotations

import io
import re
from collections.abc import Mapping
from functools import lru_cache
from string import printable
from typing import Any

import pikepdf
from markupsafe import escape
from pikepdf import Name

from cardsmith.frozen import frozen
from cardsmith.render.look import look
from cardsmith.render.typesetter import Typesetter

SIZE = 6  # points of type
_LINE = 8  # points
_BASELINE = 2  # points above the foot of the line
_ALPHABET = frozenset(printable.strip() + " ·×–")
_MAPPED = re.compile(r"<([0-9a-f]{4})> <([0-9a-f]+)>")
_RESOURCE = Name.SlugType
_TAG = "SLUGAA+"  # before a subset's name, another for each subset of a file (ISO 32000-1, 9.6.4)


@frozen
class _SlugFont:
    """A font of a few letters, and the number of each in it."""

    file: pikepdf.Pdf  # holds the font; it must stay open
    font: Any
    numbers: Mapping[str, str]  # four hexadecimal digits


@lru_cache(maxsize=4)
def _letters(typesetter: Typesetter, letters: frozenset[str]) -> _SlugFont:
    """The house's text face, of these letters alone.

    Raises:
        LayoutError: the house's fonts lack one.
    """
    family = look(typesetter.templates).text
    html = (
        '<!DOCTYPE html><html lang="en"><head><title>slug</title><style>@page { size: 900pt } '
        f"p {{ font: {SIZE}pt '{family}'; font-variant-ligatures: none }}</style></head>"
        f"<body><p>{escape(' '.join(sorted(letters)))}</p></body></html>"
    )
    written = typesetter.write(typesetter.lay_out(html, {}, styled=False))
    file = pikepdf.open(io.BytesIO(written))
    fonts = file.pages[0].Resources.Font
    (font,) = (fonts[key] for key in fonts.keys())  # noqa: SIM118 - a PDF's dictionary iterates otherwise
    inner = font.DescendantFonts[0]
    name = Name("/" + _TAG + str(font.BaseFont).partition("+")[2])
    font.BaseFont = inner.BaseFont = inner.FontDescriptor.FontName = name
    mapped = _MAPPED.findall(font.ToUnicode.read_bytes().decode())
    numbers = {bytes.fromhex(text).decode("utf-16-be"): number for number, text in mapped}
    return _SlugFont(file=file, font=font, numbers=numbers)


def draw_slugs(
    pdf: pikepdf.Pdf, typesetter: Typesetter, lines: tuple[str, ...], width: float, below: float
) -> None:
    """A line on each page, ``width`` points of it, its foot ``below`` points under the cut; in black.

    Raises:
        LayoutError: the house's fonts lack a letter.
    """
    letters = _letters(typesetter, _ALPHABET | frozenset("".join(lines)))
    font = pdf.copy_foreign(letters.font)
    for page, line in zip(pdf.pages, lines, strict=True):
        page.add_resource(font, Name.Font, _RESOURCE)
        x, y = float(page.trimbox[0]) + SIZE, float(page.trimbox[1]) - below
        shown = "".join(letters.numbers[letter] for letter in line)
        page.contents_add(
            f"q 1 0 0 1 {x:.4f} {y:.4f} cm 0 0 {width:.4f} {_LINE} re W n 0 g "
            f"BT {_RESOURCE} {SIZE} Tf 0 {_BASELINE} Td <{shown}> Tj ET Q".encode()
        )
