"""The patches of a bar of inks, by which a press sets them. Which there are: common practice, no source."""

from __future__ import annotations

from fractions import Fraction

HIGH, WIDE = Fraction(10), Fraction(12)  # points of a patch at most
# Each ink solid, and half of it, which shows how dots grow; two on each other, which shows how they take; a
# grey of three, which beside the half of black shows a cast.
_PATCHES = (
    *((1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1)),
    *((0.5, 0, 0, 0), (0, 0.5, 0, 0), (0, 0, 0.5, 0), (0, 0, 0, 0.5)),
    *((1, 1, 0, 0), (1, 0, 1, 0), (0, 1, 1, 0)),
    (0.5, 0.4, 0.4, 0),
)
_SPOT_TINTS = (1, 0.5)


def patches_of(spot: str = "") -> tuple[str, ...]:
    """Operators that set the colour of each patch.

    ``spot`` is the name of the colour space of a spot ink; empty where none is printed.
    """
    built = (" ".join(f"{ink:g}" for ink in inks) + " k" for inks in _PATCHES)
    return (*built, *(f"/{spot} cs {tint:g} scn" for tint in _SPOT_TINTS if spot))
