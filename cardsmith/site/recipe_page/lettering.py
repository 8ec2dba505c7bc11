"""Words as outlines of a house's web font: a drawing shown as a picture may load no font."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from io import BytesIO
from pathlib import Path

from cardsmith.frozen import frozen
from cardsmith.render.look import look


@frozen
class Face:
    """The letters of one font: how wide each is, as a share of the type's size, and its outline in units."""

    units: int  # to the type's size
    widths: Mapping[str, float]
    outlines: Mapping[str, str]  # path data, y upward

    def holds(self, words: str) -> bool:
        """Whether every letter is one of its own."""
        return all(letter in self.widths for letter in words)

    def width(self, words: str) -> float:
        """Of a line set at size 1."""
        return sum(self.widths[letter] for letter in words)


def face_for(templates: Path, words: str) -> Face | None:
    """The first web font of the house that has all the letters, its display face before others."""
    return next((face for face in map(_face, _files(templates)) if face.holds(words)), None)


def _files(templates: Path) -> Iterator[Path]:
    display = look(templates).display.replace(" ", "")
    files = sorted((templates / "webfonts").glob("*.woff2"))
    yield from sorted(files, key=lambda file: ("Italic" in file.stem, not file.stem.startswith(display)))


@cache
def _face(file: Path) -> Face:
    from fontTools.pens.svgPathPen import SVGPathPen  # noqa: PLC0415 - only where a tile is drawn
    from fontTools.ttLib import TTFont  # noqa: PLC0415

    font = TTFont(BytesIO(file.read_bytes()))
    glyphs, signs, units = font.getGlyphSet(), font.getBestCmap(), font["head"].unitsPerEm
    outlines: dict[str, str] = {}
    for sign, name in signs.items():
        pen = SVGPathPen(glyphs, ntos=lambda value: f"{value:.0f}")
        glyphs[name].draw(pen)
        outlines[chr(sign)] = pen.getCommands()
    widths = {chr(sign): glyphs[name].width / units for sign, name in signs.items()}
    return Face(units=units, widths=widths, outlines=outlines)
