"""The house's colour on a press: which colour of the screen it is, and what prints it there."""

from __future__ import annotations

from pathlib import Path

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.house.printers import AccentInk, Printer
from cardsmith.render.look import look
from cardsmith.render.press.inks import Inks

Levels = tuple[int, int, int]  # red, green, blue, each 0 to 255
_WHITE = 255
_ALIKE = 6  # levels between a tint and what looks like one of the accent; from looking, no source
_HUE = 24  # levels between the strongest and the weakest: less reads as a grey; from looking, no source


@frozen
class Accent:
    """What stands for one colour of the screen on one press."""

    screen: Levels | None = None  # None where the house has no second ink
    inks: Inks | None = None  # its build; of a spot ink, what stands for it
    spot: str = ""  # the name of its plate; empty for a build
    fine: bool = False  # whether type and hairlines may be printed in it; else they are black
    tint: Levels | None = None  # the colour of the screen that is a tint of it; None where the house has none
    share: float = 0.0  # of the ink, that prints the tint


NO_ACCENT = Accent()


def accent_on(ink: AccentInk, templates: Path, made_for: Printer) -> Accent:
    """The house's colour on one press.

    Raises:
        CardsmithError: the house has a second ink, and its look no colour for it.
    """
    if not ink.cmyk:
        return NO_ACCENT
    cyan, magenta, yellow, black = (float(share) for share in ink.cmyk)
    runs = bool(ink.name) and made_for.name in (ink.printers or (made_for.name,))
    screen, tint = _screen(templates), look(templates).tint
    share = _share(screen, tint) if tint else 0.0
    return Accent(
        screen=screen,
        tint=tint if share else None,
        share=share,
        inks=(cyan, magenta, yellow, black),
        spot=ink.name if runs else "",
        fine=runs or ink.sharp,
    )


def _share(of: Levels, tint: Levels) -> float:
    """The share of a colour that gives a tint on white paper, in whole hundredths; 0 where none does."""
    depths = [_WHITE - level for level in of]
    share = round(
        sum((_WHITE - level) * depth for level, depth in zip(tint, depths, strict=True)) / _of(depths), 2
    )
    off = max(abs(_WHITE - share * depth - level) for level, depth in zip(tint, depths, strict=True))
    return share if off <= _ALIKE and share < 1 else 0.0


def _of(depths: list[int]) -> int:
    return sum(depth * depth for depth in depths)


def _screen(templates: Path) -> Levels:
    levels = look(templates).accent
    if levels is None or max(levels) - min(levels) < _HUE:
        raise CardsmithError(
            f"{templates / 'look.css'}: house.yaml has an accent_ink, and --accent is a grey or no colour; "
            "write --accent: #17525c, say, or take accent_ink out"
        )
    return levels
