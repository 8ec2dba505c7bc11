"""What a sheet has in its margins beside the slug: cut marks, targets for register, a bar of its inks.

A press sets ink by the bar and brings its plates together by the targets; both stand outside all bleeds and
are cut off.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import pairwise

from cardsmith.render.press.patches import HIGH, WIDE, patches_of
from cardsmith.render.sheets.imposition import MARK, MARK_GAP, SLUG_LINE, Grid, SheetPoint

CLEAR = Fraction(4)  # points between cut marks and what stands between them
TARGET = SLUG_LINE  # points across a target: there is room for a line of the slug at least
ENDS = TARGET + 2  # points kept for a target at each end of a card's edge
_CIRCLE = Fraction(5, 2)  # points, its radius
_BEND = Fraction(5523, 10_000)  # of a radius: where the curve of a quarter of a circle is drawn to


def written(value: Fraction) -> str:
    """A length as a PDF writes it."""
    return f"{float(value):.4f}"


def _line(start: SheetPoint, end: SheetPoint) -> str:
    return f"{written(start[0])} {written(start[1])} m {written(end[0])} {written(end[1])} l S"


def marks_of(grid: Grid) -> str:
    """Drawing operators for all that must print on every plate; the same from the front and from behind."""
    drawn = [*_cut_marks(grid), *(line for point in _targets(grid) for line in _target(point))]
    return "\n".join(["q /Registration CS 1 SCN 0.25 w", *drawn, "Q"])


def _cut_marks(grid: Grid) -> Iterator[str]:
    """At the ends of every cut; none between cards, where it would lie on a neighbour's bleed."""
    near = grid.bleed + MARK_GAP
    for x in grid.cuts_across():
        for edge, way in ((grid.foot, -1), (grid.height - grid.foot, 1)):
            yield _line((x, edge + way * near), (x, edge + way * min(near + MARK, grid.foot)))
    for y in grid.cuts_down():
        for edge, way in ((grid.left, -1), (grid.width - grid.left, 1)):
            yield _line((edge + way * near, y), (edge + way * min(near + MARK, grid.left), y))


def _targets(grid: Grid) -> Iterator[SheetPoint]:
    """The middles of the four targets: at the ends of the two sides that have more room."""
    along, across = CLEAR + TARGET / 2, -(grid.bleed + MARK_GAP + TARGET / 2)
    x, y = (along, across) if grid.slug_at_foot else (across, along)
    for left in (grid.left + x, grid.width - grid.left - x):
        for foot in (grid.foot + y, grid.height - grid.foot - y):
            yield left, foot


def _target(point: SheetPoint) -> Iterator[str]:
    x, y = point
    arm, bend = TARGET / 2, _CIRCLE * _BEND
    yield _line((x - arm, y), (x + arm, y))
    yield _line((x, y - arm), (x, y + arm))
    corners = ((1, 0), (0, 1), (-1, 0), (0, -1), (1, 0))
    path = f"{written(x + _CIRCLE)} {written(y)} m"
    for (a, b), (c, d) in pairwise(corners):
        near = f"{written(x + a * _CIRCLE - b * bend)} {written(y + b * _CIRCLE + a * bend)}"
        far = f"{written(x + c * _CIRCLE + d * bend)} {written(y + d * _CIRCLE - c * bend)}"
        path += f" {near} {far} {written(x + c * _CIRCLE)} {written(y + d * _CIRCLE)} c"
    yield f"{path} S"


def bars(grid: Grid, spot: str = "") -> str:
    """Drawing operators for a bar beside every card of the side over against the slug.

    Once for each, since a press sets its ink in zones across the sheet. ``spot`` is the name of the colour
    space of a spot ink; empty where none is printed.
    """
    patches = patches_of(spot)
    starts = grid.cuts_across()[::2] if grid.slug_at_foot else grid.cuts_down()[::2]
    length = grid.card_width if grid.slug_at_foot else grid.card_height
    wide = min(WIDE, (length - 2 * (CLEAR + ENDS)) / len(patches))
    return "\n".join(["q", *_placed(grid, patches, starts, wide), "Q"])


def _placed(grid: Grid, patches: Iterable[str], starts: Iterable[Fraction], wide: Fraction) -> Iterator[str]:
    high = min(HIGH, grid.slug_room)
    beyond = grid.bleed + MARK_GAP
    for start in starts:
        for number, patch in enumerate(patches):
            along = start + CLEAR + ENDS + number * wide
            if grid.slug_at_foot:
                box = (along, grid.height - grid.foot + beyond, wide, high)
            else:
                box = (grid.width - grid.left + beyond, along, high, wide)
            yield f"{patch} {' '.join(map(written, box))} re f"
