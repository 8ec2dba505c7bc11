"""Pans by geometry, and as two markets mark one pan."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction

import pytest

from cardsmith.measure.pans import INCH, PI, Pan, edges, pans
from cardsmith.reference import OURS


def test_pi_is_near_enough_for_areas() -> None:
    assert math.isclose(PI, math.pi, rel_tol=3e-7)


@pytest.mark.parametrize(
    ("shape", "sides", "area"),
    [("round", (200,), 31415.93), ("square", (200,), 40000), ("rectangle", (200, 300), 60000)],
)
def test_the_area_of_a_bottom(shape: str, sides: tuple[int, ...], area: float) -> None:
    pan = Pan(shape=shape, edges=tuple(map(Fraction, sides)))
    assert math.isclose(pan.area, area, rel_tol=1e-6)
    assert pan.volume is None


def test_a_pan_holds_its_area_times_its_depth() -> None:
    """In ml: a box of 10 × 20 × 5 cm is one litre."""
    assert Pan(shape="loaf", edges=(Fraction(100), Fraction(200)), depth=Fraction(50)).volume == 1000


def test_a_9_by_13_inch_pan_is_one_of_23_by_33_centimetres() -> None:
    sold = next(one for one in pans() if one.us.edges == (9 * INCH, 13 * INCH))
    assert sold.metric.edges == (230, 330)
    assert (sold.us.depth, sold.metric.depth) == (2 * INCH, 50)


def test_an_edge_leads_to_the_other_market_s_and_back() -> None:
    found = edges()
    assert found["us"][9 * INCH] == 230
    assert found["metric"][Fraction(230)] == 9 * INCH
    assert len(found["us"]) == len(found["metric"])


ROW = {"shape": "round", "inches": "9", "inches_across": "", "inches_deep": "2",
       "centimetres": "23", "centimetres_across": "", "centimetres_deep": "5"}  # fmt: skip


class _Tables:
    """Tables with pans of their own."""

    def __init__(self, *rows: Mapping[str, str]) -> None:
        self.rows = lambda name: rows if name == "pans" else OURS.rows(name)


def test_two_marks_of_one_pan_differ_by_a_few_hundredths_at_most() -> None:
    assert len(pans(_Tables(ROW))) == 1
    with pytest.raises(ValueError, match="mm and 260 mm are not one edge"):
        pans(_Tables({**ROW, "centimetres": "26"}))


def test_an_edge_has_one_mark_in_each_market() -> None:
    with pytest.raises(ValueError, match=r"an edge is 9 in and 23 cm, another 9 in and 22\.5 cm"):
        edges(_Tables(ROW, {**ROW, "centimetres": "22.5", "shape": "square"}))
