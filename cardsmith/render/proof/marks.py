"""What a proof draws over a card: bars, lines and wedges, each with its number in the list of changes.

A bar beside a line says that something in it changed, a line under words which. A small wedge points at words
that went out, and one in the margin, with a fine rule as far as the text, at a whole line or step that did.
Nothing of it lies over text, and all of it is as clear in black as in its colour.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize

MARGIN = Fraction(20)  # points around the cut, for its marks and what is drawn here
PIXEL = 0.75  # points
_INK = "0.64 0 0.24"  # RGB, as --change in proof.css; dark enough for a grey of 80 %
_BAR, _BAR_AWAY = 2.0, 7.0  # points: how thick a bar is, and how far its outer edge from the cut
_TYPE, _LINE = 6.5, 7.0  # points: figures beside the bars, as .entry in proof.css
_NEAR = 2.5  # points between text and the rule that points at it


@enum.unique
class Mark(enum.Enum):
    """What is shown at a word."""

    CHANGED = "changed"  # it is new
    GAP = "gap"  # words went out before it
    GAP_AT_END = "gap-end"  # words went out after it
    MOVED = "moved"  # its text stood elsewhere
    BEFORE = "before"  # a whole text before this one was removed
    AFTER = "after"  # a whole text after this one was removed

    @property
    def is_gone(self) -> bool:
        """Whether a whole text was removed."""
        return self in {Mark.BEFORE, Mark.AFTER}


@frozen
class Spot:
    """A marked word on a page; CSS px from the top left of the cut."""

    page: int  # from 1
    left: float
    right: float
    top: float
    baseline: float
    mark: Mark
    entry: int  # of the list of changes, from 1; 0 for none


@frozen
class MarkNumber:
    """The number of an entry beside its bar or wedge; points from the top left of the drawing."""

    text: str
    top: float
    right: bool  # on which side of the card


def drawn(spots: Sequence[Spot], size: CardSize) -> str:
    """The marks of one page as PDF operators; points from the bottom left of the cut (ISO 32000-1, 8.5)."""
    height = float(size.height)
    parts = [
        f"q {_INK} RG {_INK} rg",
        *_bars([spot for spot in spots if not spot.mark.is_gone], size),
        *(_under(spot, height) for spot in spots),
        *(_pointer(spot, size) for spot in spots if spot.mark.is_gone),
        "Q",
    ]
    return "\n".join(part for part in parts if part)


def labels(spots: Sequence[Spot], size: CardSize) -> tuple[MarkNumber, ...]:
    """The numbers of one page's entries, each at its first mark on its side, without overlaps."""
    numbers: list[MarkNumber] = []
    for right in (False, True):
        first: dict[int, float] = {}
        for spot in spots:
            if spot.entry and _on_right(spot, size) is right:
                middle = _height_of(spot) if spot.mark.is_gone else (spot.top + spot.baseline) / 2 * PIXEL
                first[spot.entry] = min(middle, first.get(spot.entry, middle))
        reached = float("-inf")
        for entry, middle in sorted(first.items(), key=lambda pair: (pair[1], pair[0])):
            top = max(middle + float(MARGIN) - _LINE / 2, reached)
            reached = top + _LINE
            numbers.append(MarkNumber(text=str(entry), top=top, right=right))
    return tuple(numbers)


def _on_right(spot: Spot, size: CardSize) -> bool:
    """A word's bar stands on the nearer side; what points at a whole text, beside its column."""
    if spot.mark.is_gone and size.columns == 1:
        return False
    return spot.left * PIXEL > float(size.width) / 2


def _bars(spots: Sequence[Spot], size: CardSize) -> Iterator[str]:
    """A bar beside every line with a mark; lines that touch share one."""
    height, width = float(size.height), float(size.width)
    ordered = sorted(spots, key=lambda spot: (_on_right(spot, size), spot.top))
    for right, group in groupby(ordered, key=lambda spot: _on_right(spot, size)):
        joined: list[tuple[float, float]] = []
        for top, foot in ((spot.top - 1, spot.baseline + 3) for spot in group):
            if joined and top <= joined[-1][1] + 4:
                joined[-1] = (joined[-1][0], max(joined[-1][1], foot))
            else:
                joined.append((top, foot))
        x = width + _BAR_AWAY - _BAR if right else -_BAR_AWAY
        for top, foot in joined:
            yield f"{x:.4f} {height - foot * PIXEL:.4f} {_BAR} {(foot - top) * PIXEL:.4f} re f"


def _under(spot: Spot, height: float) -> str:
    """A line under a new word; a wedge under the space where words were removed, below all descenders."""
    left, right = spot.left * PIXEL, spot.right * PIXEL
    y = height - spot.baseline * PIXEL
    if spot.mark is Mark.CHANGED:
        return f"{left:.4f} {y - 2:.4f} {right - left:.4f} 0.8 re f"
    if spot.mark not in {Mark.GAP, Mark.GAP_AT_END}:
        return ""
    x = right + 1 if spot.mark is Mark.GAP_AT_END else left - 1
    y -= 0.32 * (spot.baseline - spot.top) * PIXEL  # of the height of a capital: descenders are shorter
    return f"{x:.4f} {y:.4f} m {x - 2:.4f} {y - 3:.4f} l {x + 2:.4f} {y - 3:.4f} l f"


def _pointer(spot: Spot, size: CardSize) -> str:
    """A wedge beside the cut, and from it a fine rule through the margin, as far as the text."""
    y = float(size.height) - _height_of(spot)
    width, side = float(size.width), float(size.side)
    edge, sign, inside = (width, 1.0, width - side) if _on_right(spot, size) else (0.0, -1.0, side)
    base, tip = edge + sign * _BAR_AWAY, edge + sign * (_BAR_AWAY - 4.5)
    end = inside + sign * _NEAR
    wedge = f"{base:.4f} {y + 2.6:.4f} m {base:.4f} {y - 2.6:.4f} l {tip:.4f} {y:.4f} l f"
    return f"{wedge} 0.5 w {tip:.4f} {y:.4f} m {end:.4f} {y:.4f} l S"


def _height_of(spot: Spot) -> float:
    """Between two texts, in points from the top of the cut."""
    capital = spot.baseline - spot.top
    return (spot.top - 0.35 * capital if spot.mark is Mark.BEFORE else spot.baseline + 0.45 * capital) * PIXEL
