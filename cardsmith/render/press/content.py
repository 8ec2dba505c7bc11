"""What a page paints, and in which colours: its content read operator by operator (ISO 32000-1, 8 and 9)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from math import hypot
from typing import Any

import pikepdf
from pikepdf import Array, Name

from cardsmith.frozen import frozen

_FILLS = {"f", "F", "f*", "B", "B*", "b", "b*"}
_STROKES = {"S", "s", "B", "B*", "b", "b*"}
_SHOWS = {"Tj", "TJ", "'", '"'}
_DEVICE = {"g": "DeviceGray", "rg": "DeviceRGB", "k": "DeviceCMYK"}
_COMPONENTS = {"DeviceGray": (0.0,), "DeviceRGB": (0.0, 0.0, 0.0), "DeviceCMYK": (0.0, 0.0, 0.0, 1.0)}
_INVISIBLE = 3  # text rendering mode
_DEEPEST = 12  # drawings inside drawings
Matrix = tuple[float, float, float, float, float, float]
_IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


@frozen
class Painted:
    """One thing painted: text, a shape, a line or an image, and its colour."""

    what: str  # text, shape, line, image
    space: str  # DeviceCMYK, DeviceGray, Separation, Pattern …
    inks: tuple[float, ...] = ()  # of a colour in DeviceCMYK, each 0 to 1
    resolution: float = 0.0  # of an image, dots per inch as it stands on the page
    size: float = 0.0  # of text, points
    image: Any = None  # of an image, the object in the file
    overprints: bool = False  # whether it overprints: leaves plates untouched on which it has no ink

    @property
    def printable(self) -> bool:
        """Whether a press can print it as it is; gradients and tiles are examined separately."""
        return self.space in {"DeviceCMYK", "DeviceGray", "Separation", "Pattern", "ImageMask"}


@dataclass(slots=True)
class _GraphicsState:
    matrix: Matrix = _IDENTITY
    space: dict[str, str] = field(default_factory=lambda: {"fill": "DeviceGray", "stroke": "DeviceGray"})
    values: dict[str, tuple[float, ...]] = field(default_factory=lambda: {"fill": (0.0,), "stroke": (0.0,)})
    text: Matrix = _IDENTITY
    size: float = 0.0
    mode: int = 0
    overprints: dict[str, bool] = field(default_factory=lambda: {"fill": False, "stroke": False})

    def copy(self) -> _GraphicsState:
        return replace(
            self, space=dict(self.space), values=dict(self.values), overprints=dict(self.overprints)
        )

    def change(self, name: str, operands: Any, resources: Any) -> None:
        """Applies an operator that paints nothing."""
        which = "fill" if name.islower() else "stroke"
        if name == "cm":
            self.matrix = _times(_matrix(operands), self.matrix)
        elif name == "Tm":
            self.text = _matrix(operands)
        elif name == "Tr":
            self.mode = int(operands[0])
        elif name == "Tf":
            self.size = float(operands[1])
        elif name.lower() in _DEVICE:
            self.space[which] = _DEVICE[name.lower()]
            self.values[which] = tuple(float(value) for value in operands)
        elif name in {"cs", "CS"}:
            self.space[which] = _space(operands[0], resources)
            self.values[which] = _COMPONENTS.get(self.space[which], ())
        elif name in {"sc", "scn", "SC", "SCN"}:
            self.values[which] = tuple(float(value) for value in operands)
        elif name == "gs":
            given = resources.ExtGState[operands[0]]
            if Name.OP in given or Name.op in given:
                stroke = bool(given.get(Name.OP, self.overprints["stroke"]))
                # Where only OP stands, it means both (ISO 32000-1, table 58).
                self.overprints = {"fill": bool(given.get(Name.op, stroke)), "stroke": stroke}

    def thing(self, what: str, which: str) -> Painted:
        """Something painted in the current colour."""
        inks = self.values[which] if self.space[which] == "DeviceCMYK" else ()
        scale = _times(self.text, self.matrix)
        size = self.size * hypot(scale[2], scale[3]) if what == "text" else 0.0
        return Painted(
            what=what, space=self.space[which], inks=inks, size=size, overprints=self.overprints[which]
        )


def painted(page: pikepdf.Page) -> Iterator[Painted]:
    """Everything a page paints, its forms and tiles included."""
    yield from _painted(page, page.get(Name.Resources), _GraphicsState(), 0)


def _painted(holder: Any, resources: Any, state: _GraphicsState, depth: int) -> Iterator[Painted]:
    if depth > _DEEPEST:
        raise ValueError("drawings inside drawings without end")
    stack: list[_GraphicsState] = []
    for instruction in pikepdf.parse_content_stream(holder):
        operands: Any = instruction.operands
        name = str(instruction.operator)
        if name == "q":
            stack.append(state.copy())
        elif name == "Q":
            state = stack.pop()
        elif name in _SHOWS and state.mode != _INVISIBLE:
            yield state.thing("text", "fill")
        elif name == "Do":
            yield from _object(resources.XObject[operands[0]], resources, state, depth)
        elif name == "INLINE IMAGE":
            yield Painted(what="image", space="inline image")
        elif name in {"scn", "SCN"} and operands and isinstance(operands[-1], Name):
            yield from _tile(operands[-1], resources, state, depth)
        else:
            state.change(name, operands, resources)
        if name in _FILLS:
            yield state.thing("shape", "fill")
        if name in _STROKES:
            yield state.thing("line", "stroke")


def _object(item: Any, resources: Any, state: _GraphicsState, depth: int) -> Iterator[Painted]:
    if item.get(Name.Subtype) == Name.Image:
        across = hypot(state.matrix[0], state.matrix[1]) / 72
        down = hypot(state.matrix[2], state.matrix[3]) / 72
        space = "ImageMask" if item.get(Name.ImageMask) else _space(item.get(Name.ColorSpace), resources)
        resolution = min(int(item.Width) / across, int(item.Height) / down)
        yield Painted(what="image", space=space, resolution=resolution, image=item)
        return
    inner = state.copy()
    if Name.Matrix in item:
        inner.matrix = _times(_matrix(item.Matrix), inner.matrix)
    yield from _painted(item, item.get(Name.Resources, resources), inner, depth + 1)


def _tile(name: Any, resources: Any, state: _GraphicsState, depth: int) -> Iterator[Painted]:
    pattern = resources.Pattern[name]
    if pattern.get(Name.PatternType) == 1:
        inner = _GraphicsState(matrix=_times(_matrix(pattern.get(Name.Matrix, _IDENTITY)), state.matrix))
        yield from _painted(pattern, pattern.get(Name.Resources, resources), inner, depth + 1)


def _space(given: Any, resources: Any) -> str:
    if isinstance(given, Array):
        return str(given[0])[1:]
    spaces = resources.get(Name.ColorSpace, {}) if resources is not None else {}
    if given is not None and given in spaces:
        return _space(spaces[given], resources)
    return str(given)[1:]


def _matrix(operands: Any) -> Matrix:
    a, b, c, d, e, f = (float(value) for value in operands)
    return (a, b, c, d, e, f)


def _times(one: Matrix, other: Matrix) -> Matrix:
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return (
        a * g + b * i,
        a * h + b * j,
        c * g + d * i,
        c * h + d * j,
        e * g + f * i + k,
        e * h + f * j + m,
    )
