"""How thick a path is as it is painted, and the same path drawn thinner (ISO 32000-1, 8.5).

A border comes from the typesetter as two rectangles, the outer and the inner, of which what lies between is
filled; so a rule is a path like any other, and only its measures tell it from an area.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import hypot, sqrt
from typing import Any

import pikepdf
from pikepdf import Operator

from cardsmith.frozen import frozen

BEGINS_PATH = {"m", "re"}
FILLS = {"f", "F", "f*", "B", "B*", "b", "b*"}
STROKES = {"S", "s", "B", "B*", "b", "b*"}
ENDS_PATH = FILLS | STROKES | {"n"}
_NEAR = 1e-3  # of the path's own units

Matrix = tuple[float, float, float, float, float, float]
Edges = tuple[float, float, float, float]  # left, foot, right, top
Path = Sequence[tuple[Sequence[Any], str]]  # operands and operator, the painting one left out


@frozen
class Band:
    """A straight strip: the edges of its rectangle, in the path's own units."""

    edges: Edges

    @property
    def thickness(self) -> float:
        """Across it."""
        left, foot, right, top = self.edges
        return min(right - left, top - foot)

    def thinned(self, to: float) -> Band:
        """The same with another thickness, about its own middle."""
        left, foot, right, top = self.edges
        if right - left < top - foot:
            middle = (left + right) / 2
            return Band(edges=(middle - to / 2, foot, middle + to / 2, top))
        middle = (foot + top) / 2
        return Band(edges=(left, middle - to / 2, right, middle + to / 2))


def instructions(holder: Any) -> Iterator[tuple[Any, str, Path]]:
    """What a page or form holds, each operator by its name; a path comes with the one that paints it."""
    path: list[tuple[Sequence[Any], str]] = []
    for instruction in pikepdf.parse_content_stream(holder):
        name = str(instruction.operator)
        if name in ENDS_PATH:
            yield instruction, name, path
            path = []
        elif path or name in BEGINS_PATH:
            path.append((list(instruction.operands), name))
        else:
            yield instruction, name, ()


def scale(matrix: Matrix) -> float:
    """Points of the page to one unit of what is drawn."""
    a, b, c, d, *_ = matrix
    return sqrt(abs(a * d - b * c))


def times(first: Matrix, second: Matrix) -> Matrix:
    """Both transforms, one after the other."""
    a, b, c, d, e, f = first
    g, h, i, j, k, m = second
    return (
        a * g + b * i,
        a * h + b * j,
        c * g + d * i,
        c * h + d * j,
        e * g + f * i + k,
        e * h + f * j + m,
    )


def fill_thickness(path: Path, ends: str) -> float:
    """Of a filled path, in its own units: of a strip or frame its width, of anything else the lesser side."""
    if (band := band_of(path, ends)) is not None:
        return band.thickness
    parts = [_box(part) for part in _parts(path)]
    if not parts:
        return 0.0
    if len(parts) == 2 and ends.endswith("*"):
        outer, inner = parts if _diagonal(parts[0]) >= _diagonal(parts[1]) else parts[::-1]
        if _inside(inner, outer):
            return max(abs(out - within) for out, within in zip(outer, inner, strict=True))
    whole = _around(parts)
    return min(whole[2] - whole[0], whole[3] - whole[1])


def band_of(path: Path, ends: str) -> Band | None:
    """The strip that a path fills: of one rectangle, or of two that differ by one side."""
    if any(name != "re" for _, name in path) or not 1 <= len(path) <= 2:
        return None
    boxes = [_box([drawn]) for drawn in path]
    if len(boxes) == 1:
        return Band(edges=boxes[0])
    if not ends.endswith("*"):
        return None
    outer, inner = boxes if _diagonal(boxes[0]) >= _diagonal(boxes[1]) else boxes[::-1]
    off = [place for place in range(4) if abs(outer[place] - inner[place]) > _NEAR]
    if len(off) != 1 or not _inside(inner, outer):
        return None
    (side,) = off
    edges = list(outer)
    edges[(side + 2) % 4] = inner[side]
    return Band(edges=(edges[0], edges[1], edges[2], edges[3]))


def rectangle(band: Band) -> tuple[list[float], Operator]:
    """The strip as a path of its own."""
    left, foot, right, top = (round(edge, 6) for edge in band.edges)
    return [left, foot, round(right - left, 6), round(top - foot, 6)], Operator("re")


def _parts(path: Path) -> list[Path]:
    """The path cut where it begins anew."""
    parts: list[list[tuple[Sequence[Any], str]]] = []
    for drawn in path:
        if drawn[1] in BEGINS_PATH or not parts:
            parts.append([])
        parts[-1].append(drawn)
    return [part for part in parts if any(operands for operands, _ in part)]


def _box(part: Path) -> Edges:
    xs: list[float] = []
    ys: list[float] = []
    for operands, name in part:
        values = [float(value) for value in operands]
        if name == "re":
            x, y, width, height = values
            values = [x, y, x + width, y + height]
        xs += values[0::2]
        ys += values[1::2]
    return (min(xs), min(ys), max(xs), max(ys))


def _around(boxes: Iterable[Edges]) -> Edges:
    left, foot, right, top = zip(*boxes, strict=True)
    return (min(left), min(foot), max(right), max(top))


def _diagonal(box: Edges) -> float:
    return hypot(box[2] - box[0], box[3] - box[1])


def _inside(inner: Edges, outer: Edges) -> bool:
    return (
        inner[0] >= outer[0] - _NEAR
        and inner[1] >= outer[1] - _NEAR
        and inner[2] <= outer[2] + _NEAR
        and inner[3] <= outer[3] + _NEAR
    )
