"""Faces of the reader's machine, made as wide and as deep as those of the house, that stand in at first.

So a line ends where it will end, and nothing on a page moves when the house's type comes in. Source: CSS
Fonts Module Level 5, size-adjust and the metrics overrides; the widths are those of the table ``near_faces``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from io import BytesIO
from pathlib import Path

from cardsmith.frozen import frozen
from cardsmith.reference import table
from cardsmith.regex import regex

# Of a letter among all letters, per cent (counts of English text, from memory); a space is one sign in five.
_LETTERS = "etaoinshrdlcumwfgypbvkjxqz"
_SHARES = (12.7, 9.1, 8.2, 7.5, 7, 6.8, 6.3, 6.1, 6, 4.3, 4, 2.8, 2.8, 2.4, 2.4, 2.2, 2, 2, 1.9, 1.5, 1, 0.8)
_RARE, _SPACE = 0.12, 22.0
_FACE = regex(r"@font-face\s*{([^}]*)}")
_FAMILY = regex(r'font-family:\s*"([^"]+)"')
_FILE = regex(r'url\("([^"]+)"\)')
_STACK = regex(r'(--(?:text|display):\s*"([^"]+)")([^;}]*)')
_CUT = ("font-w", "font-s")  # weight and style
_BOLD = ("font-weight: 6", "font-weight: 7", "font-weight: 8", "font-weight: 9")


@frozen
class Metrics:
    """Of one font, in shares of its size."""

    width: float  # of English text, a letter
    ascent: float
    descent: float
    gap: float


def with_near_faces(css: str, templates: Path) -> str:
    """Style sheets with a stand-in behind every face they load, named in each list of families."""
    made: dict[str, list[str]] = {}
    serif = {family: "sans-serif" not in rest for _, family, rest in _STACK.findall(css)}
    for body in _FACE.findall(css):
        family = _FAMILY.findall(body)[0]
        made.setdefault(family, []).extend(_near(family, body, templates, serif=serif.get(family, True)))
    named = {family: ", ".join(f'"{name}"' for name in _names(family)) for family in made}

    def joined(match: re.Match[str]) -> str:
        near = named.get(match[2])
        return f"{match[1]}, {near}{match[3]}" if near else match[0]

    return _STACK.sub(joined, css) + "\n" + "\n".join(rule for rules in made.values() for rule in rules)


def _near(family: str, body: str, templates: Path, *, serif: bool) -> Iterator[str]:
    font = metrics(templates / _FILE.findall(body)[0])
    bold, italic = any(word in body for word in _BOLD), "italic" in body
    kind = "serif" if serif else "sans"
    cut = "".join(
        f"{part.strip()};" for part in body.split(";") if part.strip().startswith(("font-w", "font-s"))
    )
    for set_, name in zip(_sets(), _names(family), strict=True):
        rows = [row for row in set_ if row["kind"] == kind and bool(row["bold"]) == bold]
        row = next((row for row in rows if bool(row["italic"]) == italic), rows[0] if rows else None)
        if row:
            yield _rule(name, cut, row, font)


def _rule(family: str, cut: str, row: Mapping[str, str], font: Metrics) -> str:
    scale = font.width / float(row["width"])
    local = row["local"]
    shares = {
        "size-adjust": scale,
        "ascent-override": font.ascent / scale,
        "descent-override": font.descent / scale,
        "line-gap-override": font.gap / scale,
    }
    scales = "; ".join(f"{name}: {100 * share:.1f}%" for name, share in shares.items())
    source = f'local("{local}"), local("{local.replace(" ", "-")}")'
    return f'@font-face {{ font-family: "{family}"; {cut} src: {source}; {scales}; }}'


@cache
def _sets() -> tuple[tuple[Mapping[str, str], ...], ...]:
    """The faces of one maker each: where none of the first is there, those of the next are tried."""
    makers = {"Arial": "first", "Times": "first"}
    by_family: dict[str, list[Mapping[str, str]]] = {}
    for row in table("near_faces"):
        first = row["local"].partition(" ")[0]
        by_family.setdefault(makers.get(first, first), []).append(row)
    return tuple(tuple(rows) for rows in by_family.values())


def _names(family: str) -> tuple[str, ...]:
    return tuple(f"{family} near {number}" for number in range(1, len(_sets()) + 1))


@cache
def metrics(file: Path) -> Metrics:
    """Those of a font file."""
    from fontTools.ttLib import TTFont  # noqa: PLC0415 - only where a page is made

    font = TTFont(BytesIO(file.read_bytes()))
    units, signs, widths, heights = font["head"].unitsPerEm, font.getBestCmap(), font["hmtx"], font["hhea"]
    shares = dict.fromkeys(_LETTERS, _RARE) | dict(zip(_LETTERS, _SHARES, strict=False)) | {" ": _SPACE}
    present = {letter: share for letter, share in shares.items() if ord(letter) in signs}
    width = sum(widths[signs[ord(letter)]][0] * share for letter, share in present.items())
    return Metrics(
        width=width / units / sum(present.values()),
        ascent=heights.ascent / units,
        descent=-heights.descent / units,
        gap=heights.lineGap / units,
    )
