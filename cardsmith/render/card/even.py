"""Two columns as even as possible: the height of each side's columns, from the blocks of a layout.

The typesetter can balance them itself, but lays a page out dozens of times; with the blocks one layout does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from cardsmith.frozen import frozen

_PIXEL = 0.75  # points
_SLACK = 5.0  # points: less than any line, more than the gap that ends a block, which must have its room too
_FULL = 0.85  # of a page's height: a column at least this high is left alone
_HELD = {"h2", "h3", "headnote"}  # a column never ends with one of these: the facts stay with the headnote
UNEVEN: Mapping[str, str] = {"front": "auto", "back": "auto"}


@frozen
class _Block:
    """A block that no column break may divide."""

    height: float  # points
    held: bool  # to the next


def even_heights(document: Any) -> Mapping[str, str]:
    """The height of the columns of ``front`` and ``back`` in CSS.

    ``auto`` for one on two pages, or that fills its page in any case.
    """
    places: dict[str, set[int]] = {side: set() for side in UNEVEN}
    blocks: dict[str, list[_Block]] = {side: [] for side in UNEVEN}
    for number, page in enumerate(document.pages):
        for section in _sections(page._page_box):
            side = section.element.get("class")
            places[side].add(number)
            blocks[side] += _blocks(section)
    found = dict(UNEVEN)
    for side, numbers in places.items():
        height = _evenest(blocks[side]) + _SLACK
        page = document.pages[min(numbers)]._page_box
        if len(numbers) == 1 and height < _FULL * float(page.height) * _PIXEL:
            found[side] = f"{height:.6g}pt"
    return found


def _sections(box: Any) -> Iterator[Any]:
    if box.element_tag == "section":
        yield box
        return
    for child in getattr(box, "children", ()):
        yield from _sections(child)


def _blocks(box: Any) -> list[_Block]:
    found: list[_Block] = []
    for child in box.children:
        if child.element is box.element:  # a column
            found += _blocks(child)
        elif child.element_tag in {"ol", "div"} and not _whole(child):
            found += _divided(child)
        else:
            found.append(
                _Block(
                    height=_height(child), held=bool(_HELD & {child.element_tag, child.element.get("class")})
                )
            )
    return found


def _divided(box: Any) -> list[_Block]:
    """The blocks inside another, whose own rule and gaps count with the first."""
    first, *others = _blocks(box)
    own = _height(box) - first.height - sum(block.height for block in others)
    return [replace(first, height=first.height + own), *others]


def _height(box: Any) -> float:
    return float(box.margin_height()) * _PIXEL


def _whole(box: Any) -> bool:
    return bool(box.style["break_inside"] == "avoid" or box.element.get("class") == "opening")


def _evenest(blocks: list[_Block]) -> float:
    """The least height that the higher of two columns can have."""
    total = sum(block.height for block in blocks)
    least, left = total, 0.0
    for block in blocks:
        left += block.height
        if not block.held:
            least = min(least, max(left, total - left))
    return least
