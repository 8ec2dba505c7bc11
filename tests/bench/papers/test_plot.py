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


Spot = tuple[float, float, str]


def labels(plot: Plot) -> list[Spot]:
    """The left end of each label's foot, but for those of the axes."""
    root = ET.fromstring(plot.svg)
    return [
        (float(one.attrib["x"]), float(one.attrib["y"]), one.text or "")
        for one in root.iter()
        if one.tag.endswith("text") and (one.text or "").startswith("T")
    ]


def test_a_label_stands_at_its_own_dot() -> None:
    points = [(4.6, 49, "T1"), (4.6, 48, "T2"), (4.6, 46, "T3"), (4.6, 47.6, "T4"), (6.2, 52, "T5")]
    plot = scatter("H", "x", "y", points)
    dots_of = dict(zip((label for *_, label in points), circles(plot), strict=True))
    for x, y, label in labels(plot):
        nearest = min(dots_of, key=lambda name: abs(dots_of[name][0] - x) + abs(dots_of[name][1] - y))
        assert nearest == label


def test_dots_on_each_other_share_a_label() -> None:
    plot = scatter("H", "x", "y", [(1, 10, "T1"), (2, 20, "T2"), (1, 10, "T3")])
    assert sorted(label for *_, label in labels(plot)) == ["T1, T3", "T2"]


def test_a_label_far_from_its_dot_is_led_to_it() -> None:
    crowd = [(1 + number / 40, 10 + number % 3, f"T{number}") for number in range(12)] + [(9.0, 30.0, "T99")]
    plot = scatter("H", "x", "y", crowd)
    assert 'stroke-width="0.5"' in plot.svg
    assert 'stroke-width="0.5"' not in scatter("H", "x", "y", [(1, 10, "T1"), (2, 20, "T2")]).svg


@given(st.lists(st.tuples(st.floats(0, 10), st.floats(0, 10)), min_size=1, max_size=9))
def test_no_label_lies_on_a_dot_or_a_label(places: list[tuple[float, float]]) -> None:
    """At 6.5 px a letter and 12 px a line, none of nine trials, wherever they fall."""
    plot = scatter("t", "x", "y", [(x, y, f"T{number}") for number, (x, y) in enumerate(places)])
    boxes = [(x, y - 9, x + 6.5 * len(text), y + 3) for x, y, text in labels(plot)]
    boxes += [(x - 4, y - 4, x + 4, y + 4) for x, y in set(circles(plot))]
    words = len(labels(plot))
    for at in range(words):
        for other in boxes[at + 1 :]:
            one = boxes[at]
            gaps = (other[0] - one[2], one[0] - other[2], other[1] - one[3], one[1] - other[3])
            assert max(gaps) > -0.2  # places are written to a tenth


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
