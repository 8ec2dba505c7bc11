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
    reach = [end for one in values for end in (one.low, one.high, one.value) if end is not None]
    ticks = _ticks(*(ends or (min(reach), max(reach))))
    low, high = ticks[0], ticks[-1]
    height = TOP + ROW * len(values) + BOTTOM
    floor = TOP + ROW * len(values)

    def across(value: float) -> float:
        return LEFT + (WIDTH - LEFT - RIGHT) * (value - low) / (high - low)

    parts = list(_x_axis(ticks, across, floor, axis))
    for place, one in enumerate(values):
        y = TOP + ROW * place + ROW / 2
        if one.low is not None and one.high is not None:
            parts.append(_line(across(max(one.low, low)), y, across(min(one.high, high)), y, 1.5))
        parts.append(f'<circle cx="{across(one.value):.1f}" cy="{y:.1f}" r="4" fill="#111"/>')
        parts.append(_text(LEFT - 10, y + 4, one.label, "end"))
    told = "; ".join(f"{one.label} {figure(one.value)}{_interval(one)}" for one in values)
    return Plot(title=title, alt=f"{title}. {axis}: {told}.", svg=_svg(height, parts))


def _interval(one: Dot) -> str:
    if one.low is None or one.high is None:
        return ""
    return f" ({figure(one.low)} to {figure(one.high)})"


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
    taken: list[tuple[float, float]] = []
    for x, y, label in points:
        parts.append(f'<circle cx="{across(x):.1f}" cy="{up(y):.1f}" r="4" fill="#111"/>')
        spot = (across(x) + 7, up(y) + 4)
        while any(abs(spot[0] - one[0]) < 22 and abs(spot[1] - one[1]) < 11 for one in taken):
            spot = (spot[0] + 22, spot[1])
        taken.append(spot)
        parts.append(_text(*spot, label, "start"))
    told = "; ".join(f"{label}: {figure(x)}, {figure(y, 2)}" for x, y, label in points)
    return Plot(title=title, alt=f"{title}. {across_axis}, {up_axis}: {told}.", svg=_svg(height, parts))


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
