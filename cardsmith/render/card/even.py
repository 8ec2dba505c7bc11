"""Two columns as even as possible, with air in them: how high they are on each side, from a layout's blocks.

The typesetter can balance them itself, but lays a page out dozens of times; with the blocks one layout does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import takewhile
from typing import Any

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.render.card.air import air_of
from cardsmith.render.card.setting import Setting
from cardsmith.render.sizes import quarter

_PIXEL = 0.75  # points
_SLACK = 5.0  # points: less than any line, more than the gap that ends a block, which must have its room too
_FULL = 0.85  # of a page's height: a column at least this high is left alone
_MOST = {"front": 2, "back": 4}  # quarters of a line more between the rows of a list, between steps
_HELD = {"h2", "h3", "headnote"}  # a column never ends with one of these: the facts stay with the headnote
UNEVEN: Mapping[str, str] = {"front": "auto", "back": "auto"}


@frozen
class _Block:
    """A block that no column break may divide."""

    height: float  # points
    held: bool  # to the next
    gaps: int = 0  # that may have air: between rows, behind a step


def evened(document: Any, size: CardSize, setting: Setting, *, aired: bool) -> Mapping[str, str]:
    """The height of the columns of ``front`` and ``back``, and the air between rows and steps, in CSS.

    ``auto`` for one on two pages, or that fills its page in any case; air where both columns leave room.
    """
    places: dict[str, set[int]] = {side: set() for side in UNEVEN}
    blocks: dict[str, list[_Block]] = {side: [] for side in UNEVEN}
    columned = dict.fromkeys(UNEVEN, False)  # a front with an upright picture beside it is not
    for number, page in enumerate(document.pages):
        for section in _sections(page._page_box):
            side = section.element.get("class")
            places[side].add(number)
            columned[side] |= any(child.element is section.element for child in section.children)
            blocks[side] += _blocks(section)
    css = dict(UNEVEN)
    step = float(quarter(setting.text))
    airs = dict.fromkeys(UNEVEN, 0)
    most = _MOST if aired else dict.fromkeys(UNEVEN, 0)
    for side, numbers in places.items():
        aside = side == "front" and size.widened > 0
        page = float(document.pages[min(numbers)]._page_box.height) * _PIXEL
        if len(numbers) > 1:
            continue
        heights = [
            _highest(_aired(blocks[side], air * step), aside=aside, columned=columned[side]) + _SLACK
            for air in range(most[side] + 1)
        ]
        airs[side] = max((air for air, height in enumerate(heights) if air and height < page), default=0)
        height = heights[airs[side]]
        if not aside and (airs[side] or height < _FULL * page):
            css[side] = f"{height:.6g}pt"
    return {**css, **air_of(setting, rows=airs["front"], steps=airs["back"])}


def _aired(blocks: list[_Block], air: float) -> list[_Block]:
    return [replace(block, height=block.height + block.gaps * air) for block in blocks]


def _sections(box: Any) -> Iterator[Any]:
    if box.element_tag == "section":
        yield box
        return
    for child in getattr(box, "children", ()):
        yield from _sections(child)


def _blocks(box: Any) -> list[_Block]:
    blocks: list[_Block] = []
    for child in box.children:
        if child.element is box.element:  # a column
            blocks += _blocks(child)
        elif child.element_tag in {"ol", "div"} and not _whole(child):
            blocks += _divided(child)
        else:
            held = bool(_HELD & {child.element_tag, child.element.get("class")})
            blocks.append(_Block(height=_height(child), held=held, gaps=_gaps(child)))
    return blocks


def _gaps(box: Any) -> int:
    """The gaps between the rows of a list, that under its head and that behind it; one behind a step."""
    if box.element_tag != "table":
        return int(box.element_tag == "li")
    rows = sum(len(group.children) for table in box.children for group in table.children)
    return rows if "list" in box.element.get("class").split() else 0


def _divided(box: Any) -> list[_Block]:
    """The blocks inside another, whose own rule and gaps count with the first."""
    first, *others = _blocks(box)
    own = _height(box) - first.height - sum(block.height for block in others)
    return [replace(first, height=first.height + own), *others]


def _height(box: Any) -> float:
    return float(box.margin_height()) * _PIXEL


def _whole(box: Any) -> bool:
    return bool(box.style["break_inside"] == "avoid" or box.element.get("class") == "opening")


def _highest(blocks: list[_Block], *, aside: bool, columned: bool) -> float:
    """The least height that the higher of two columns can have; that of all blocks where there is one.

    ``aside`` says that the second begins with the first list.
    """
    total = sum(block.height for block in blocks)
    if aside:
        words = sum(block.height for block in takewhile(lambda block: not block.gaps, blocks))
        return max(words, total - words)
    if not columned:
        return total
    least, left = total, 0.0
    for block in blocks:
        left += block.height
        if not block.held:
            least = min(least, max(left, total - left))
    return least
