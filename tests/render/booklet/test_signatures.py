"""Signatures, folded in the head: the pages of the folded sheets must read in order."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from cardsmith.render.booklet.plan import Binding
from cardsmith.render.booklet.signatures import Spread, spine, spreads

THIN = Fraction(2835, 10000)  # points, about 0.1 mm


def folded(found: list[Spread]) -> list[int]:
    """The pages as they follow each other when the sheets of each signature lie in each other, folded.

    Walking from the first leaf to the fold and out again: of each sheet the right half of its front and the
    left half of its back going in, the right half of its back and the left half of its front coming out.
    """
    read: list[int] = []
    for signature in sorted({one.signature for one in found}):
        sheets = sorted({one.sheet for one in found if one.signature == signature})
        of = {(one.sheet, one.front): one for one in found if one.signature == signature}
        for sheet in sheets:
            read += [of[sheet, True].right, of[sheet, False].left]
        for sheet in reversed(sheets):
            read += [of[sheet, False].right, of[sheet, True].left]
    return read


@given(st.integers(1, 40), st.sampled_from(list(Binding)), st.sampled_from([4, 8, 12, 16, 32]))
def test_folded_sheets_read_in_order(sheets: int, binding: Binding, signature: int) -> None:
    found = list(spreads(4 * sheets, binding, THIN, signature))
    assert folded(found) == list(range(1, 4 * sheets + 1))
    assert len(found) == 2 * sheets


def test_the_pages_of_eight_by_hand() -> None:
    """The printer's rule for eight pages: 8 1 | 2 7 | 6 3 | 4 5."""
    found = [(one.left, one.right) for one in spreads(8, Binding.SADDLE, THIN)]
    assert found == [(8, 1), (2, 7), (6, 3), (4, 5)]


def test_creep_grows_by_one_thickness_a_sheet_and_starts_anew_with_each_signature() -> None:
    saddle = [one.creep for one in spreads(24, Binding.SADDLE, THIN)]
    assert saddle == [sheet * THIN for sheet in range(6) for _ in range(2)]
    glued = [one.creep for one in spreads(24, Binding.PERFECT, THIN, 16)]
    assert glued == [sheet * THIN for sheet in (0, 1, 2, 3, 0, 1) for _ in range(2)]


def test_a_spine_is_as_thick_as_its_leaves() -> None:
    assert spine(48, THIN) == 24 * THIN
