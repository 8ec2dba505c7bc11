"""Rules as the typesetter draws them, measured across."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.render.press.paths import Band, band_of, fill_thickness, rectangle, scale, times

OUTER, INNER = ([36, 43, 400, 35], "re"), ([36, 46, 400, 32], "re")


@pytest.mark.parametrize(
    ("path", "ends", "thick"),
    [
        ([([0, 0, 200, 2.5], "re")], "f", 2.5),
        ([([0, 2.5, 200, -2.5], "re")], "f", 2.5),
        ([OUTER, INNER], "f*", 3),  # a rule over a block, the inner rectangle first or last
        ([INNER, OUTER], "f*", 3),
        ([OUTER, INNER], "f", 35),  # both are filled: the nonzero rule leaves no hole
        ([([0, 0, 90, 50], "re"), ([1, 1, 88, 48], "re")], "f*", 1),  # a frame all around
        ([([0, 0, 90, 50], "re"), ([3, 1, 86, 48], "re")], "f*", 3),  # heavier on one side
        ([([0, 0], "m"), ([90, 0], "l"), ([90, 1], "l"), ([0, 1], "l"), ([], "h")], "f", 1),
        ([([0, 0], "m"), ([0, 9, 9, 9, 9, 0], "c"), ([], "h")], "f", 9),
        ([], "f", 0),
    ],
)
def test_how_thick_a_filled_path_is(path: list[tuple[list[float], str]], ends: str, thick: float) -> None:
    assert fill_thickness(path, ends) == pytest.approx(thick)


@pytest.mark.parametrize(
    ("inner", "edges"),
    [
        ([36, 46, 400, 32], (36, 43, 436, 46)),  # below, left, right, above
        ([39, 43, 397, 35], (36, 43, 39, 78)),
        ([36, 43, 397, 35], (433, 43, 436, 78)),
        ([36, 43, 400, 32], (36, 75, 436, 78)),
    ],
)
def test_a_border_of_one_side_is_a_strip(inner: list[float], edges: tuple[float, ...]) -> None:
    band = band_of([OUTER, (inner, "re")], "f*")
    assert band is not None
    assert band.edges == pytest.approx(edges)


def test_a_frame_is_no_strip() -> None:
    assert band_of([([0, 0, 90, 50], "re"), ([1, 1, 88, 48], "re")], "f*") is None
    assert band_of([([0, 0], "m"), ([9, 9], "l")], "f") is None


@given(
    left=st.floats(-100, 100),
    foot=st.floats(-100, 100),
    width=st.floats(0.1, 500),
    height=st.floats(0.1, 500),
    share=st.floats(0.1, 1),
)
def test_a_thinner_strip_lies_within_and_keeps_its_length(
    left: float, foot: float, width: float, height: float, share: float
) -> None:
    band = Band(edges=(left, foot, left + width, foot + height))
    thin = band.thinned(band.thickness * share)
    assert thin.thickness == pytest.approx(band.thickness * share, abs=1e-6)
    assert max(thin.edges[2] - thin.edges[0], thin.edges[3] - thin.edges[1]) == pytest.approx(
        max(width, height), abs=1e-6
    )
    given_, _ = rectangle(thin)
    assert given_[0] >= left - 1e-5
    assert given_[1] >= foot - 1e-5
    assert given_[0] + given_[2] <= left + width + 1e-5


def test_a_scale_is_that_of_all_that_stands_around() -> None:
    turned, smaller = (0, 1, -1, 0, 30, 40), (0.75, 0, 0, 0.75, 1, 1)
    assert scale(times(smaller, turned)) == pytest.approx(0.75)
    assert times((1, 0, 0, 1, 2, 0), smaller) == pytest.approx((0.75, 0, 0, 0.75, 2.5, 1))
