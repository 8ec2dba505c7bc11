"""What a page paints, and in which colours: its content read operator by operator (ISO 32000-1, 8 and 9)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from math import hypot
from typing import Any

import pikepdf
from pikepdf import Array, Name

from cardsmith.frozen import frozen
from cardsmith.render.press.paths import (
    ENDS_PATH,
    FILLS,
    STROKES,
    Matrix,
    Path,
    fill_thickness,
    instructions,
    scale,
    times,
)

_SHOWS = {"Tj", "TJ", "'", '"'}
_DEVICE = {"g": "DeviceGray", "rg": "DeviceRGB", "k": "DeviceCMYK"}
_COMPONENTS = {"DeviceGray": (0.0,), "DeviceRGB": (0.0, 0.0, 0.0), "DeviceCMYK": (0.0, 0.0, 0.0, 1.0)}
_INVISIBLE = 3  # text rendering mode
_DEEPEST = 12  # drawings inside drawings
_PICTURE = Name.Figure
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
    plate: str = ""  # of a colour in Separation, the plate it prints on
    tint: float = 1.0  # of a colour in Separation, 0 to 1
    thick: float = 0.0  # of a shape or line, points across it
    opacity: float = 1.0  # 0 to 1
    picture: bool = False  # whether it is part of a picture

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
    plate: dict[str, str] = field(default_factory=lambda: {"fill": "", "stroke": ""})
    opacity: dict[str, float] = field(default_factory=lambda: {"fill": 1.0, "stroke": 1.0})
    width: float = 1.0
    picture: bool = False

    def copy(self) -> _GraphicsState:
        return replace(
            self,
            space=dict(self.space),
            values=dict(self.values),
            overprints=dict(self.overprints),
            plate=dict(self.plate),
            opacity=dict(self.opacity),
        )

    def change(self, name: str, operands: Any, resources: Any) -> None:
        """Applies an operator that paints nothing."""
        which = "fill" if name.islower() else "stroke"
        if name == "cm":
            self.matrix = times(_matrix(operands), self.matrix)
        elif name == "Tm":
            self.text = _matrix(operands)
        elif name == "Tr":
            self.mode = int(operands[0])
        elif name == "Tf":
            self.size = float(operands[1])
        elif name.lower() in _DEVICE:
            self.space[which] = _DEVICE[name.lower()]
            self.plate[which] = ""
            self.values[which] = tuple(float(value) for value in operands)
        elif name in {"cs", "CS"}:
            self.space[which] = _space(operands[0], resources)
            self.values[which] = _COMPONENTS.get(self.space[which], ())
            self.plate[which] = _plate(operands[0], resources)
        elif name in {"sc", "scn", "SC", "SCN"}:
            self.values[which] = tuple(float(value) for value in operands)
        elif name == "w":
            self.width = float(operands[0])
        elif name == "gs":
            given = resources.ExtGState[operands[0]]
            for key, painted_as in ((Name.ca, "fill"), (Name.CA, "stroke")):
                self.opacity[painted_as] = float(given.get(key, self.opacity[painted_as]))
            if Name.OP in given or Name.op in given:
                stroke = bool(given.get(Name.OP, self.overprints["stroke"]))
                # Where only OP stands, it means both (ISO 32000-1, table 58).
                self.overprints = {"fill": bool(given.get(Name.op, stroke)), "stroke": stroke}

    def path(self, path: Path, name: str) -> Iterator[Painted]:
        """What an operator makes of a path: the area that it fills, the line that it draws."""
        if name in FILLS:
            yield self.thing("shape", "fill", fill_thickness(path, name))
        if name in STROKES:
            yield self.thing("line", "stroke", self.width)

    def thing(self, what: str, which: str, thick: float = 0.0) -> Painted:
        """Something painted in the current colour; ``thick`` is in the units of the drawing."""
        inks = self.values[which] if self.space[which] == "DeviceCMYK" else ()
        shown = times(self.text, self.matrix)
        size = self.size * hypot(shown[2], shown[3]) if what == "text" else 0.0
        return Painted(
            what=what,
            space=self.space[which],
            inks=inks,
            size=size,
            overprints=self.overprints[which],
            plate=self.plate[which],
            tint=self.values[which][0] if self.plate[which] and self.values[which] else 1.0,
            thick=thick * scale(self.matrix),
            opacity=self.opacity[which],
            picture=self.picture,
        )


def painted(page: pikepdf.Page) -> Iterator[Painted]:
    """Everything a page paints, its forms and tiles included."""
    yield from _painted(page, page.get(Name.Resources), _GraphicsState(), 0)


def _painted(holder: Any, resources: Any, state: _GraphicsState, depth: int) -> Iterator[Painted]:
    if depth > _DEEPEST:
        raise ValueError("drawings inside drawings without end")
    stack: list[_GraphicsState] = []
    marks = [state.picture]  # whether what stands in each open piece of marked content is a picture
    for instruction, name, path in instructions(holder):
        operands: Any = instruction.operands
        if name == "q":
            stack.append(state.copy())
        elif name == "Q":
            state = stack.pop()
        elif name in {"BMC", "BDC", "EMC"}:
            marks = marks[:-1] if name == "EMC" else [*marks, marks[-1] or operands[0] == _PICTURE]
        elif name in ENDS_PATH:
            yield from state.path(path, name)
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
        state.picture = marks[-1]


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
        inner.matrix = times(_matrix(item.Matrix), inner.matrix)
    yield from _painted(item, item.get(Name.Resources, resources), inner, depth + 1)


def _tile(name: Any, resources: Any, state: _GraphicsState, depth: int) -> Iterator[Painted]:
    pattern = resources.Pattern[name]
    if pattern.get(Name.PatternType) == 1:
        inner = _GraphicsState(matrix=times(_matrix(pattern.get(Name.Matrix, _IDENTITY)), state.matrix))
        yield from _painted(pattern, pattern.get(Name.Resources, resources), inner, depth + 1)


def _space(given: Any, resources: Any) -> str:
    if isinstance(given, Array):
        return str(given[0])[1:]
    spaces = resources.get(Name.ColorSpace, {}) if resources is not None else {}
    if given is not None and given in spaces:
        return _space(spaces[given], resources)
    return str(given)[1:]


def _plate(given: Any, resources: Any) -> str:
    """The name of the plate of a Separation space; empty for any other."""
    spaces = resources.get(Name.ColorSpace, {}) if resources is not None else {}
    space = spaces.get(given, given)
    is_plate = isinstance(space, Array) and space[0] == Name.Separation
    return str(space[1])[1:] if is_plate else ""


def _matrix(operands: Any) -> Matrix:
    a, b, c, d, e, f = (float(value) for value in operands)
    return (a, b, c, d, e, f)
