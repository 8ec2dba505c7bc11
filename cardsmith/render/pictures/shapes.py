"""Shapes of an SVG drawing: what of them is drawn, how long their outlines are and how large they lie.

Names, defaults and inheritance: SVG 2, chapters 5, 7, 10 and 13; units: CSS Values 3, 5 and 6.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from cardsmith.regex import regex

# Attributes that place a shape, and those that paint it, which may stand in a style as well. What else an
# editor writes draws nothing, or is drawn by browsers alone.
PLACES = frozenset(
    "id class style href viewBox preserveAspectRatio transform x y x1 y1 x2 y2 cx cy r rx ry fx fy fr width "
    "height d points offset gradientUnits gradientTransform patternUnits patternContentUnits "
    "patternTransform clipPathUnits version".split()
)
PAINTS = frozenset(
    "fill fill-opacity fill-rule stroke stroke-width stroke-opacity stroke-linecap stroke-linejoin "
    "stroke-miterlimit stroke-dasharray stroke-dashoffset opacity color stop-color stop-opacity clip-path "
    "clip-rule display visibility overflow".split()
)
INHERITED = ("fill", "stroke", "stroke-width", "stroke-dasharray")
_MEASURES = ("width", "height", "rx", "ry", "r", "x1", "y1", "x2", "y2")
_UNITS = {"": 1.0, "px": 1.0, "pt": 4 / 3, "pc": 16.0, "mm": 96 / 25.4, "cm": 96 / 2.54, "in": 96.0,
          "em": 16.0, "ex": 8.0}  # fmt: skip
_LENGTH = regex(r"\s*(?P<number>[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?)(?P<unit>[a-z%]*)\s*")
_PIECE = regex(r"[MmLlHhVvCcSsQqTtAaZz]|[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?")
_TRANSFORM = regex(r"(?P<name>[a-zA-Z]+)\s*\((?P<values>[^)]*)\)")
_COMMENT = regex(r"(?s)/\*.*?\*/")
_NUMBERS = {"M": 2, "L": 2, "T": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "A": 7, "Z": 0}
Point = tuple[float, float]


class Unfit(Exception):  # noqa: N818 - the name says what is the matter
    """What a drawing has that it may not, and what to do about it."""

    def __init__(self, what: str, instead: str = "save it as a plain drawing") -> None:
        super().__init__(f"{what}; {instead}")
        self.what, self.instead = what, instead


@dataclass(slots=True)
class Shape:
    """An element, with what it draws besides itself."""

    name: str  # empty where it is none of SVG
    attributes: dict[str, str] = field(default_factory=dict)  # of `PLACES` and `PAINTS`
    within: list[Shape] = field(default_factory=list)
    uses: list[str] = field(default_factory=list)  # ids

    def paints(self) -> Mapping[str, str]:
        """How it is painted, by its attributes and, before these, by its own style."""
        said = {name: value for name, value in self.attributes.items() if name in PAINTS}
        return said | dict(declared(self.attributes.get("style", "")))


def declared(style: str) -> Iterator[tuple[str, str]]:
    """The declarations of a style that paint."""
    for declaration in _COMMENT.sub("", style).split(";"):
        name, _, value = declaration.partition(":")
        if name.strip().lower() in PAINTS and value.strip():
            yield name.strip().lower(), value.strip()


def length(value: str | None, whole: float = 0.0) -> float:
    """A length in the drawing's own units; a share is one of ``whole``. 0 for none.

    Raises:
        Unfit: it is no number with a unit of SVG.
    """
    if value is None or not value.strip():
        return 0.0
    match = _LENGTH.fullmatch(value.lower())
    if match and match["unit"] == "%":
        return float(match["number"]) * whole / 100
    if not match or match["unit"] not in _UNITS:
        raise Unfit(f"has a length that is none ({value.strip()[:20]})", "export it once more")
    return float(match["number"]) * _UNITS[match["unit"]]


def lengths(value: str, whole: float = 0.0) -> tuple[float, ...]:
    """Lengths behind each other."""
    return tuple(length(part, whole) for part in value.replace(",", " ").split())


def outline(shape: Shape, whole: float) -> tuple[float, float, float]:
    """At most how long a shape's outline is, and how wide and high it lies; a share is one of ``whole``."""
    at = {name: length(shape.attributes.get(name), whole) for name in _MEASURES}
    if shape.name == "rect":
        return 2 * (abs(at["width"]) + abs(at["height"])), abs(at["width"]), abs(at["height"])
    if shape.name in ("circle", "ellipse"):
        across, down = (2 * max(abs(at[name]), abs(at["r"])) for name in ("rx", "ry"))
        return 2 * (across + down), across, down
    if shape.name == "line":
        return _traced([[(at["x1"], at["y1"]), (at["x2"], at["y2"])]])
    if shape.name in ("polyline", "polygon"):
        numbers = lengths(shape.attributes.get("points", ""))
        points = list(zip(numbers[::2], numbers[1::2], strict=False))
        return _traced([[*points, *points[:1]]])
    return _traced(list(_legs(shape.attributes.get("d", ""))))


def _traced(lines: list[list[Point]]) -> tuple[float, float, float]:
    """How long lines are together, and how wide and high they lie."""
    points = [point for line in lines for point in line]
    if not points:
        return 0.0, 0.0, 0.0
    long = sum(math.dist(begin, end) for line in lines for begin, end in pairwise(line))
    across, down = ([point[axis] for point in points] for axis in (0, 1))
    return long, max(across) - min(across), max(down) - min(down)


def _legs(path: str) -> Iterator[list[Point]]:
    """Each piece of a path by the points that bound it: a curve is no longer than the line through these."""
    pieces = _PIECE.findall(path)
    here = start = (0.0, 0.0)
    place, command = 0, "M"
    while place < len(pieces):
        if pieces[place].isalpha():
            command, place = pieces[place], place + 1
        wanted = _NUMBERS[command.upper()]
        if command in "Zz":
            yield [here, start]
            here = start
            if place < len(pieces) and not pieces[place].isalpha():
                return  # numbers after an end: nothing more is drawn (SVG 2, 9.5.4)
            continue
        numbers = pieces[place : place + wanted]
        if len(numbers) < wanted or any(number.isalpha() for number in numbers):
            return
        place += wanted
        points = list(_points(command, [float(number) for number in numbers], here))
        if command not in "Mm":
            yield [here, *points]
        else:
            start, command = points[-1], "L" if command == "M" else "l"
        here = points[-1]


def _points(command: str, numbers: list[float], here: Point) -> Iterator[Point]:
    left, top = here if command.islower() else (0.0, 0.0)
    match command.upper():
        case "H":
            yield numbers[0] + left, here[1]
        case "V":
            yield here[0], numbers[0] + top
        case "A":
            wide = 2 * max(map(abs, numbers[:2])) + math.dist(here, (numbers[5] + left, numbers[6] + top))
            for across, down in (
                (wide, 0),
                (wide, wide),
                (0, wide),
            ):  # no arc leaves this square, or is longer
                yield here[0] + across, here[1] + down
            yield numbers[5] + left, numbers[6] + top
        case _:
            for across, down in zip(numbers[::2], numbers[1::2], strict=True):
                yield across + left, down + top


def scales(transform: str) -> tuple[float, float]:
    """How far a transform stretches what lies along each axis, at least.

    Raises:
        Unfit: it is none of SVG.
    """
    whole = (1.0, 0.0, 0.0, 1.0)
    for transformed in _TRANSFORM.finditer(transform):
        whole = _times(whole, _matrix(transformed))
    a, b, c, d = whole
    across, down = math.hypot(a, b), math.hypot(c, d)
    flat = abs(a * d - b * c)  # a slant brings the lines of a pattern nearer to each other
    return (flat / down if down else 0.0, flat / across if across else 0.0)


def _matrix(transformed: re.Match[str]) -> tuple[float, float, float, float]:
    try:
        values = [float(number) for number in transformed["values"].replace(",", " ").split()]
        match transformed["name"], values:
            case "matrix", [a, b, c, d, _, _]:
                return a, b, c, d
            case "translate", _:
                return 1.0, 0.0, 0.0, 1.0
            case "scale", [x, *rest]:
                return x, 0.0, 0.0, rest[0] if rest else x
            case "rotate", [turn, *_]:
                sine, cosine = math.sin(math.radians(turn)), math.cos(math.radians(turn))
                return cosine, sine, -sine, cosine
            case "skewX", [turn]:
                return 1.0, 0.0, math.tan(math.radians(turn)), 1.0
            case "skewY", [turn]:
                return 1.0, math.tan(math.radians(turn)), 0.0, 1.0
    except ValueError:
        pass
    raise Unfit(f"has a transform that is none ({transformed[0][:30]})", "export it once more")


def _times(first: tuple[float, ...], second: tuple[float, ...]) -> tuple[float, float, float, float]:
    a, b, c, d = first
    e, f, g, h = second
    return a * e + c * f, b * e + d * f, a * g + c * h, b * g + d * h
