"""What a page draws, in the colours of a press: type and rules in solid ink, everything else as it was mixed.

Type and rules are black ink, or the house's second ink where they have its colour on a screen: a tint would
break them up into dots, and of several plates they would show where those are out of register (common
practice, no source). A grey hairline becomes a solid one, thinner by as much as it was lighter, so that it
lays down as much ink. What stands behind the figures of a list, where it is a tint of the second ink on a
screen, is one on the press. Pictures are left as they were drawn.

Black text overprints: the tint under it is printed through, so that no white shows beside a letter where the
plates are out of register (ISO 32000-1, 8.6.7). Nothing else does; white that overprints would vanish.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from pikepdf import ContentStreamInstruction, Name, Operator

from cardsmith.frozen import frozen
from cardsmith.house.printers import Printer
from cardsmith.render.press.accent import Accent
from cardsmith.render.press.inks import BLACK, PAPER, Colour, Inks, inks_of
from cardsmith.render.press.paths import (
    ENDS_PATH,
    FILLS,
    STROKES,
    Matrix,
    Path,
    band_of,
    fill_thickness,
    instructions,
    rectangle,
    scale,
    times,
)

HAIR = 1.0  # points: up to here a tint breaks up; common practice, no source
RULE = 3.0  # points: up to here it is a line, and of one ink
_THINNEST = 0.25  # points of solid ink that hold on a plate; common practice, no source
_DARK = 0.7  # of black: a line so dark is meant to be black
_COLOURS = {"g", "rg", "k", "sc", "scn", "G", "RG", "K", "SC", "SCN"}
_SPACES = {"cs", "CS"}
_SHOWS_TEXT = {"Tj", "TJ", "'", '"'}
_PAINTS_AS_IT_IS = {"Do", "sh", "INLINE IMAGE"}
_MARKED = {"BDC", "BMC", "EMC", "DP", "MP"}  # carries a screen file's tags; useless to a press
IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
OVERPRINT = {True: Name.OverprintOn, False: Name.OverprintOff}
SPOT = Name.AccentInk  # how a page's resources call the plate of the second ink
PICTURE = Name.Figure  # marked content that is left in a press file: what stands in it is a picture


@frozen
class SpotInk:
    """The second ink, on its own plate."""

    share: float = 1.0  # of it: less is a tint


@frozen
class Pattern:
    """A gradient or tile, by the name that the page's resources give it."""

    name: str


Paint = Inks | SpotInk | Pattern
Asked = Colour | Pattern
ACCENT_PLATE = SpotInk()
Instructions = list[ContentStreamInstruction]


@frozen
class Inking:
    """How one press prints the colours of a card."""

    made_for: Printer
    accent: Accent

    def of_area(self, asked: Asked, *, picture: bool) -> Paint:
        """What fills more than a line."""
        if isinstance(asked, Pattern):
            return asked
        if not picture and self._is_accent(asked):
            return self._accent
        if not picture and self.accent.tint and _levels(asked) == self.accent.tint:
            return self._tint
        return inks_of(asked, self.made_for)

    def of_text(self, asked: Asked | None) -> Paint:
        """What type is printed in: paper, the second ink, or black."""
        if asked is None or isinstance(asked, Pattern):
            return BLACK
        if self._is_accent(asked) and self.accent.fine:
            return self._accent
        return PAPER if inks_of(asked, self.made_for) == PAPER else BLACK

    def of_line(self, asked: Asked, thick: float) -> tuple[Paint, float]:
        """What a line of so many points is printed in, and how thick it is then."""
        if isinstance(asked, Pattern):
            return asked, thick
        if self._is_accent(asked) and self.accent.fine:
            return self._accent, thick
        inks = inks_of(asked, self.made_for)
        if inks == PAPER:
            return PAPER, thick
        coloured = any(inks[:3])
        if thick > HAIR and not coloured and inks[3] < _DARK:
            return inks, thick
        if thick > HAIR or (not coloured and inks[3] >= _DARK):
            return BLACK, thick
        return BLACK, min(thick, max(_THINNEST, thick * _darkness(asked)))

    def _is_accent(self, asked: Colour) -> bool:
        return _levels(asked) == self.accent.screen is not None

    @property
    def _tint(self) -> Paint:
        if self.accent.spot:
            return SpotInk(share=self.accent.share)
        assert self.accent.inks is not None
        cyan, magenta, yellow, black = (round(ink * self.accent.share, 4) for ink in self.accent.inks)
        return cyan, magenta, yellow, black

    @property
    def _accent(self) -> Paint:
        if self.accent.spot:
            return ACCENT_PLATE
        assert self.accent.inks is not None
        return self.accent.inks


def _levels(asked: Colour) -> tuple[int, ...]:
    """A colour of a screen in levels; empty for one of a press."""
    return tuple(round(value * 255) for value in asked) if len(asked) == 3 else ()


def _darkness(asked: Colour) -> float:
    """How far from white a colour is, 0 to 1, as a grey of the same lightness to a camera (ITU-R BT.601)."""
    if len(asked) == 4:
        return min(1.0, 0.299 * asked[0] + 0.587 * asked[1] + 0.114 * asked[2] + asked[3])
    red, green, blue = asked if len(asked) == 3 else asked * 3
    return 1 - (0.299 * red + 0.587 * green + 0.114 * blue)


@dataclass(slots=True)
class _State:
    """Colours asked for and colours set, by ``fill`` and ``stroke``; one that is missing is unchanged."""

    asked: dict[str, Asked] = field(default_factory=dict)
    given: dict[str, Paint] = field(default_factory=dict)
    overprints: bool = False
    matrix: Matrix = IDENTITY
    width: float = 1.0  # of a stroke, in the units of the drawing

    def copy(self) -> _State:
        return _State(dict(self.asked), dict(self.given), self.overprints, self.matrix, self.width)

    def overprint(self, on: bool) -> Instructions:
        """The operators that turn overprint on or off, where it is not so already."""
        if on == self.overprints:
            return []
        self.overprints = on
        return [ContentStreamInstruction([OVERPRINT[on]], Operator("gs"))]

    def setting(self, which: str, paint: Paint) -> Instructions:
        """The operators that set a colour, where it is not set already."""
        if paint == self.given.get(which):
            return []
        self.given[which] = paint
        space, inks, named = ("cs", "k", "scn") if which == "fill" else ("CS", "K", "SCN")
        if isinstance(paint, SpotInk | Pattern):
            chosen = (
                (SPOT, [paint.share]) if isinstance(paint, SpotInk) else (Name.Pattern, [Name(paint.name)])
            )
            return [
                ContentStreamInstruction([chosen[0]], Operator(space)),
                ContentStreamInstruction(chosen[1], Operator(named)),
            ]
        return [ContentStreamInstruction(list(paint), Operator(inks))]


class Recolouring:
    """One content stream with colours set only before something is painted.

    ``drawn`` is told of every drawing that it places: its name, its matrix, and whether it is a picture.
    """

    def __init__(
        self,
        inking: Inking,
        drawn: Callable[[Name, Matrix, bool], None],
        *,
        matrix: Matrix = IDENTITY,
        picture: bool = False,
    ) -> None:
        self._inking, self._drawn = inking, drawn
        self._state, self._stack = _State(matrix=matrix), list[_State]()
        self._marks = [picture]  # whether what stands in each open piece of marked content is a picture
        self._out: Instructions = []

    def of(self, holder: Any) -> Instructions:
        """The instructions of a page or form, in inks."""
        for instruction, name, path in instructions(holder):
            if name in ENDS_PATH:
                self._paint_path(path, name)
            else:
                self._take(instruction, name)
        return self._out

    def _take(self, instruction: Any, name: str) -> None:
        operands: Any = instruction.operands
        if name in _COLOURS:
            which = "fill" if name.islower() else "stroke"
            if operands:
                last = operands[-1]
                given = Pattern(name=str(last)) if isinstance(last, Name) else tuple(map(float, operands))
                self._state.asked[which] = given
        elif name in _MARKED:
            self._mark(operands, name)
        elif name not in _SPACES:
            self._prepare(operands, name)
            self._out.append(instruction)

    def _prepare(self, operands: Any, name: str) -> None:
        """What must be set before an operator that stands as it is."""
        state = self._state
        if name == "q":
            self._stack.append(state.copy())
        elif name == "Q":
            self._state = self._stack.pop()
        elif name == "cm":
            a, b, c, d, e, f = map(float, operands)
            state.matrix = times((a, b, c, d, e, f), state.matrix)
        elif name == "w":
            state.width = float(operands[0])
        elif name in _SHOWS_TEXT:
            paint = self._inking.of_text(state.asked.get("fill"))
            self._out += state.setting("fill", paint) + state.overprint(paint == BLACK)
        elif name in _PAINTS_AS_IT_IS:
            for which, asked in state.asked.items():
                self._out += state.setting(which, self._inking.of_area(asked, picture=self._picture))
            self._out += state.overprint(False)
            if name == "Do":
                self._drawn(operands[0], state.matrix, self._picture)

    @property
    def _picture(self) -> bool:
        return self._marks[-1]

    def _mark(self, operands: Any, name: str) -> None:
        """Marked content is left out, but the beginning and the end of a picture."""
        before = self._picture
        if name in {"BDC", "BMC"}:
            self._marks.append(before or operands[0] == PICTURE)
            if self._picture and not before:
                self._out.append(ContentStreamInstruction([PICTURE], Operator("BMC")))
        elif name == "EMC" and len(self._marks) > 1:
            self._marks.pop()
            if before and not self._picture:
                self._out.append(ContentStreamInstruction([], Operator("EMC")))

    def _paint_path(self, path: Path, name: str) -> None:
        """A path and what paints it; a clip alone needs no colour.

        Inside a path no colour may be set (ISO 32000-1, figure 9), so it stands before.
        """
        state = self._state
        before: Instructions = []
        after: Instructions = []
        if name in FILLS and (asked := state.asked.get("fill")) is not None:
            paint, path = self._filled(asked, path, name)
            before += state.setting("fill", paint)
        if name in STROKES and (asked := state.asked.get("stroke")) is not None:
            paint, width = self._stroked(asked)
            before += state.setting("stroke", paint)
            if width != state.width:
                before.append(ContentStreamInstruction([round(width, 6)], Operator("w")))
                after.append(ContentStreamInstruction([state.width], Operator("w")))
        self._out += before if name == "n" else before + state.overprint(False)
        self._out += [ContentStreamInstruction(list(given), Operator(operator)) for given, operator in path]
        self._out += [ContentStreamInstruction([], Operator(name)), *after]

    def _filled(self, asked: Asked, path: Path, name: str) -> tuple[Paint, Path]:
        """The paint of a filled path, and the path itself, thinner where it is a hairline in grey."""
        unit = scale(self._state.matrix)
        thick = fill_thickness(path, name) * unit
        if self._picture or not 0 < thick <= RULE:
            return self._inking.of_area(asked, picture=self._picture), path
        paint, wanted = self._inking.of_line(asked, thick)
        if wanted < thick and (band := band_of(path, name)) is not None:
            given, operator = rectangle(band.thinned(wanted / unit))
            path = [(given, str(operator))]
        return paint, path

    def _stroked(self, asked: Asked) -> tuple[Paint, float]:
        """The paint of a stroke and its width, in the units of the drawing."""
        unit, width = scale(self._state.matrix), self._state.width
        if self._picture or not unit or width * unit > RULE:
            return self._inking.of_area(asked, picture=self._picture), width
        paint, wanted = self._inking.of_line(asked, width * unit)
        return paint, (wanted / unit if wanted < width * unit else width)
