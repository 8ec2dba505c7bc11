"""Signatures: which pages lie beside each other on a sheet, so that the sheets read in order once folded.

Lengths are points, exact. A sheet is folded once, head up on both sides, and turned over its upright edge.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.render.booklet.plan import FOLDED, Binding

SIGNATURE = 16  # pages of a signature to be glued: four sheets; common practice, no source
MILLED = Fraction(720, 254) * 3  # points, 3 mm of each leaf's inner edge: common practice, no source


@frozen
class Spread:
    """One side of a sheet: the numbers of its left and its right page, and how far both move to the fold."""

    signature: int  # from 1
    sheet: int  # of the signature, from 1, the outermost first
    front: bool
    left: int
    right: int
    creep: Fraction


def spreads(
    count: int, binding: Binding, thickness: Fraction, signature: int = SIGNATURE
) -> Iterator[Spread]:
    """Both sides of every sheet for so many pages, a multiple of four, of paper of a thickness.

    A sheet inside others is pushed out at the fore edge by their thickness at the fold, and the trimmer cuts
    that off; so its pages move as far to the fold, and all outer margins come out alike (common practice, no
    source: one thickness of paper for each sheet around it).
    """
    assert count % FOLDED == 0, "a sheet folded once has four pages"
    long = count if binding is Binding.SADDLE else signature
    for number, start in enumerate(range(0, count, long), 1):
        pages = min(long, count - start)
        for sheet in range(pages // FOLDED):
            first, last = start + 2 * sheet + 1, start + pages - 2 * sheet
            for front, left, right in ((True, last, first), (False, first + 1, last - 1)):
                yield Spread(
                    signature=number,
                    sheet=sheet + 1,
                    front=front,
                    left=left,
                    right=right,
                    creep=sheet * thickness,
                )


def spine(count: int, thickness: Fraction) -> Fraction:
    """How thick so many pages are, side by side: the width of a glued booklet's spine."""
    return Fraction(count, 2) * thickness
