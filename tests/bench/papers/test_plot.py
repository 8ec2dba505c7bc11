from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.bench.papers.plot import LEFT, RIGHT, WIDTH, Dot, Plot, _ticks, dots, scatter

FLOATS = st.floats(-1e4, 1e4, allow_nan=False)


def circles(plot: Plot) -> list[tuple[float, float]]:
    root = ET.fromstring(plot.svg)
    return [
        (float(one.attrib["cx"]), float(one.attrib["cy"]))
        for one in root.iter()
        if one.tag.endswith("circle")
    ]


def test_dots_stand_where_their_values_are() -> None:
    plot = dots("Liking", "points", [Dot(label="a", value=1), Dot(label="b & c", value=9)], (1, 9))
    (first, top), (last, below) = circles(plot)
    ticks = _ticks(1, 9)
    width = WIDTH - LEFT - RIGHT
    assert first == pytest.approx(LEFT + width * (1 - ticks[0]) / (ticks[-1] - ticks[0]), abs=0.1)
    assert last == pytest.approx(LEFT + width * (9 - ticks[0]) / (ticks[-1] - ticks[0]), abs=0.1)
    assert top < below
    assert plot.alt == "Liking. points: a 1; b & c 9."


def test_an_interval_is_drawn_and_told() -> None:
    plain = dots("L", "x", [Dot(label="a", value=5)], (1, 9))
    plot = dots("L", "x", [Dot(label="a", value=5, low=4, high=6.5)], (1, 9))
    assert plot.svg.count("<path") == plain.svg.count("<path") + 1
    assert "a 5 (4 to 6.5)" in plot.alt


def test_a_scatter_goes_up_with_its_measure() -> None:
    plot = scatter("H", "x", "y", [(1, 10, "T1"), (2, 20, "T2")])
    (x1, y1), (x2, y2) = circles(plot)
    assert x1 < x2
    assert y1 > y2


@given(FLOATS, FLOATS)
def test_ticks_span_the_values_and_are_few(one: float, other: float) -> None:
    low, high = sorted((one, other))
    ticks = _ticks(low, high)
    assert ticks[0] <= low
    assert ticks[-1] >= high
    assert 2 <= len(ticks) <= 9


@given(st.lists(st.tuples(FLOATS, FLOATS, st.text(max_size=4)), min_size=1, max_size=8))
def test_any_values_give_sound_svg_and_the_same_twice(points: list[tuple[float, float, str]]) -> None:
    points = [(x, y, re.sub(r"[^ -~]", "?", label)) for x, y, label in points]
    plot = scatter("t", "x", "y", points)
    assert plot == scatter("t", "x", "y", points)
    assert len(circles(plot)) == len(points)
