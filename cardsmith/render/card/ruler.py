"""The ruler at the foot of a card, true to scale: inches in eighths or centimetres in millimetres."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from cardsmith.finding import CardsmithError
from cardsmith.render.look import look
from cardsmith.render.templates import environment

TEMPLATE = "ruler.svg.j2"
_INK = (17, 17, 17)  # the edge's colour where the house has none: --ink, as it ships
_TEXT_FAMILY = re.compile(r'--text:\s*"([^"]+)"')
_CAPITAL = Fraction(73, 10)  # points of type for the numerals
_BASELINE = Fraction(96, 10)  # points below the edge
# Points from tick to tick, ticks from numeral to numeral, lengths of ticks by what divides their number.
_SCALES = {
    "in": (Fraction(9), 8, {8: "8.8", 4: "5.5", 2: "4", 1: "2.6"}),
    "cm": (Fraction(720, 254), 10, {10: "8.8", 5: "4.6", 1: "2.4"}),
}


@cache
def ruler(templates: Path, width: Fraction, unit: str) -> bytes:
    """An SVG ``width`` points wide; the numerals are outlines, so that they are no text of the card."""
    step, between, lengths = _SCALES[unit]
    last = int((width - Fraction(1, 2)) / step) // between * between  # it ends at a numeral
    ticks = "".join(
        f"M{_points(number * step + Fraction(1, 4))} 1v{_length(number, lengths)}"
        for number in range(last + 1)
    )
    outlines = _outlines(text_font(templates))
    numerals = ""
    for number in range(between, last + 1, between):
        whole = number // between
        text = f"{whole} {unit}" if number == last else str(whole)
        place = number * step + Fraction(1, 4) - Fraction(13, 10)
        numerals += outlines.drawn_before(text, place, _BASELINE)
    template = environment(templates).get_template(TEMPLATE)
    red, green, blue = look(templates).accent or _INK
    accent = f"#{red:02x}{green:02x}{blue:02x}"
    return template.render(width=_points(width), ticks=ticks, numerals=numerals, accent=accent).encode()


def text_font(templates: Path) -> Path:
    """The file of the house's regular text face: the family ``--text`` in look.css names first.

    Raises:
        CardsmithError: look.css names none, or it isn't in ``fonts/``.
    """
    look = templates / "look.css"
    named = _TEXT_FAMILY.search(look.read_text(encoding="utf-8"))
    if not named:
        raise CardsmithError(f'{look}: --text names no family; write --text: "Fira Sans", sans-serif')
    font = templates / "fonts" / f"{named[1].replace(' ', '')}-Regular.ttf"
    if not font.is_file():
        raise CardsmithError(f"{look}: --text is {named[1]}, and there is no {font}; put the file back")
    return font


def _length(number: int, lengths: dict[int, str]) -> str:
    return next(length for divisor, length in lengths.items() if number % divisor == 0)


def _points(value: Fraction) -> str:
    return f"{float(value):.3f}".rstrip("0").rstrip(".")


class _Outlines:
    """Outlines of one font's letters, set flush right."""

    def __init__(self, font: Path) -> None:
        from fontTools.ttLib import TTFont  # noqa: PLC0415 - the typesetter's own library of fonts

        self._font = TTFont(font)
        self._glyphs: Any = self._font.getGlyphSet()
        self._letters = self._font.getBestCmap()
        self._lining = _lining(self._font)
        self._scale = _CAPITAL / self._font["head"].unitsPerEm

    def drawn_before(self, text: str, right: Fraction, baseline: Fraction) -> str:
        """Path data of ``text`` that ends at ``right``."""
        names = [self._letters[ord(letter)] for letter in text]
        names = [self._lining.get(name, name) for name in names]
        left = right - sum(Fraction(self._glyphs[name].width) for name in names) * self._scale
        return "".join(self._drawn(names, left, baseline))

    def _drawn(self, names: list[str], left: Fraction, baseline: Fraction) -> Iterator[str]:
        from fontTools.pens.svgPathPen import SVGPathPen  # noqa: PLC0415
        from fontTools.pens.transformPen import TransformPen  # noqa: PLC0415

        for name in names:
            pen = SVGPathPen(self._glyphs, ntos=lambda value: f"{value:.2f}".rstrip("0").rstrip("."))
            scale = float(self._scale)
            self._glyphs[name].draw(TransformPen(pen, (scale, 0, 0, -scale, float(left), float(baseline))))
            yield pen.getCommands()
            left += Fraction(self._glyphs[name].width) * self._scale


@cache
def _outlines(font: Path) -> _Outlines:
    return _Outlines(font)


def _lining(font: Any) -> dict[str, str]:
    """The figures as tall as capitals, where the font's own are not: its OpenType feature ``lnum``."""
    if "GSUB" not in font:
        return {}
    table = font["GSUB"].table
    features = (record.Feature for record in table.FeatureList.FeatureRecord if record.FeatureTag == "lnum")
    lookups = {number for feature in features for number in feature.LookupListIndex}
    tables = (under for number in sorted(lookups) for under in table.LookupList.Lookup[number].SubTable)
    lining: dict[str, str] = {}
    for subtable in tables:
        lining |= getattr(getattr(subtable, "ExtSubTable", subtable), "mapping", {})
    return lining
