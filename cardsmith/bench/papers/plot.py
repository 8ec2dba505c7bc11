"""Small plots as SVG text: dots with intervals by trial, and one measure against one lever.

The same values always give the same bytes. Lines and labels are black on white, to print on any machine;
they name no typeface, so whoever places them does.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from xml.sax.saxutils import escape

from cardsmith.bench.wording import figure
from cardsmith.frozen import frozen

WIDTH, LEFT, RIGHT, ROW, TOP, BOTTOM = 480, 150, 20, 22, 12, 40
DOT, NEAR = 4, 2.0  # the radius of a dot; from its edge to its label
LETTER, HIGH = 6.5, 12  # of a label in 11 px type: a letter's width, wide ones counted, and its height

Box = tuple[float, float, float, float]  # left, top, right, foot


@frozen
class Dot:
    """One value with its label, and the ends of its interval where it has one."""

    label: str
    value: float
    low: float | None = None
    high: float | None = None


@frozen
class Plot:
    """A finished plot: what it shows in words, for those who can't see it, and the picture."""

    title: str
    alt: str
    svg: str


def dots(title: str, axis: str, values: Sequence[Dot], ends: tuple[float, float] | None = None) -> Plot:
    """Values below one another on a common axis, with their intervals."""
    reach = [end for dot in values for end in (dot.low, dot.high, dot.value) if end is not None]
    ticks = _ticks(*(ends or (min(reach), max(reach))))
    low, high = ticks[0], ticks[-1]
    height = TOP + ROW * len(values) + BOTTOM
    floor = TOP + ROW * len(values)

    def across(value: float) -> float:
        return LEFT + (WIDTH - LEFT - RIGHT) * (value - low) / (high - low)

    parts = list(_x_axis(ticks, across, floor, axis))
    for place, dot in enumerate(values):
        y = TOP + ROW * place + ROW / 2
        if dot.low is not None and dot.high is not None:
            parts.append(_line(across(max(dot.low, low)), y, across(min(dot.high, high)), y, 1.5))
        parts.append(f'<circle cx="{across(dot.value):.1f}" cy="{y:.1f}" r="4" fill="#111"/>')
        parts.append(_text(LEFT - 10, y + 4, dot.label, "end"))
    described = "; ".join(f"{dot.label} {figure(dot.value)}{_interval(dot)}" for dot in values)
    return Plot(title=title, alt=f"{title}. {axis}: {described}.", svg=_svg(height, parts))


def _interval(dot: Dot) -> str:
    if dot.low is None or dot.high is None:
        return ""
    return f" ({figure(dot.low)} to {figure(dot.high)})"


def scatter(title: str, across_axis: str, up_axis: str, points: Sequence[tuple[float, float, str]]) -> Plot:
    """One measure against another; each point bears its label."""
    x_ticks = _ticks(min(x for x, _, _ in points), max(x for x, _, _ in points))
    y_ticks = _ticks(min(y for _, y, _ in points), max(y for _, y, _ in points))
    height, floor, left = 240, 240 - BOTTOM, 60

    def across(value: float) -> float:
        return left + (WIDTH - left - RIGHT) * (value - x_ticks[0]) / (x_ticks[-1] - x_ticks[0])

    def up(value: float) -> float:
        return floor - (floor - TOP - 12) * (value - y_ticks[0]) / (y_ticks[-1] - y_ticks[0])

    parts = list(_x_axis(x_ticks, across, floor, across_axis, left=left))
    for tick in y_ticks:
        parts.append(_line(left - 4, up(tick), left, up(tick)))
        parts.append(_text(left - 8, up(tick) + 4, figure(tick, 2), "end"))
    parts.append(_line(left, up(y_ticks[-1]), left, floor))
    parts.append(_text(left, TOP, up_axis, "start"))
    spots = [(across(x), up(y), label) for x, y, label in points]
    parts += [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{DOT}" fill="#111"/>' for x, y, _ in spots]
    parts += list(_labels(spots, (left, TOP + 6, WIDTH, floor - 2)))
    described = "; ".join(f"{label}: {figure(x)}, {figure(y, 2)}" for x, y, label in points)
    return Plot(title=title, alt=f"{title}. {across_axis}, {up_axis}: {described}.", svg=_svg(height, parts))


def _labels(spots: Sequence[tuple[float, float, str]], room: Box) -> Iterator[str]:
    """A label at every dot, clear of all dots and all labels; dots that lie on each other share one.

    Where nothing is free beside a dot, its label stands further off, on a line that leads to it.
    """
    together: list[tuple[float, float, list[str]]] = []
    for x, y, label in spots:
        near = [dot for dot in together if math.hypot(dot[0] - x, dot[1] - y) < DOT]
        if near:
            near[0][2].append(label)
        else:
            together.append((x, y, [label]))
    taken: list[Box] = [(x - DOT, y - DOT, x + DOT, y + DOT) for x, y, _ in spots]
    for x, y, labels in together:
        text = ", ".join(labels)
        places = list(_places(x, y, LETTER * len(text)))
        free = [(away, box) for away, box in places if _is_free(box, taken, room)]
        away, box = free[0] if free else places[0]
        taken.append(box)
        if away > NEAR:
            end = (min(max(x, box[0]), box[2]), min(max(y, box[1]), box[3]))
            yield _line(x, y, *end, 0.5)
        yield _text(box[0], box[3] - 3, text, "start")


def _places(x: float, y: float, width: float) -> Iterator[tuple[float, Box]]:
    """Where the label of a dot may stand, the best first, each with its distance from the dot."""
    for away in (NEAR, 16.0, 28.0, 42.0, 58.0, 76.0):
        reach = DOT + away
        for to_x, to_y in ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (1, 1), (-1, -1), (-1, 1)):
            slant = 0.7 if to_x and to_y else 1
            middle_x = x + to_x * (reach * slant + width / 2)
            middle_y = y + to_y * (reach * slant + HIGH / 2)
            yield (
                away,
                (middle_x - width / 2, middle_y - HIGH / 2, middle_x + width / 2, middle_y + HIGH / 2),
            )


def _is_free(box: Box, taken: Sequence[Box], room: Box) -> bool:
    inside = box[0] >= room[0] and box[1] >= room[1] and box[2] <= room[2] and box[3] <= room[3]
    return inside and all(
        max(other[0] - box[2], box[0] - other[2], other[1] - box[3], box[1] - other[3]) >= 0
        for other in taken
    )


def _x_axis(
    ticks: Sequence[float], across: Callable[[float], float], floor: float, axis: str, left: float = LEFT
) -> Iterator[str]:
    yield _line(left, floor, WIDTH - RIGHT, floor)
    for tick in ticks:
        yield _line(across(tick), floor, across(tick), floor + 4)
        yield _text(across(tick), floor + 16, figure(tick, 2), "middle")
    yield _text((left + WIDTH - RIGHT) / 2, floor + 32, axis, "middle")


def _ticks(low: float, high: float) -> tuple[float, ...]:
    """Five or so round numbers that span the values, never fewer than two."""
    if high - low < 1e-9:
        low, high = low - 1, high + 1
    rough = (high - low) / 5
    size = Fraction(10) ** math.floor(math.log10(rough))
    rounds = (Fraction(1), Fraction(2), Fraction(5, 2), Fraction(5), Fraction(10))
    step = next((size * each for each in rounds if size * each >= rough), size * 10)
    first, last = math.floor(Fraction(low) / step), math.ceil(Fraction(high) / step)
    return tuple(float(step * count) for count in range(first, last + 1))


def _line(x1: float, y1: float, x2: float, y2: float, width: float = 0.75) -> str:
    return (
        f'<path d="M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}" stroke="#111" stroke-width="{width}" fill="none"/>'
    )


def _text(x: float, y: float, text: str, anchor: str) -> str:
    place = f'x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}"'
    return f'<text {place} font-size="11" fill="#111">{escape(text)}</text>'


def _svg(height: float, parts: Sequence[str]) -> str:
    size = f'width="{WIDTH}" height="{height:.0f}" viewBox="0 0 {WIDTH} {height:.0f}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{"".join(parts)}</svg>\n'
