"""What a card's two halves are made of, block by block, and how the pages of a setting fill with them.

Blocks measured on one layout tell for most other settings what would fit, without a layout of each: they keep
their heights while type and columns are the same, and are scaled for another size of type.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby, zip_longest
from typing import Any

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.render.card.setting import Setting
from cardsmith.render.sizes import other_height, quarter

PIXEL = 0.75  # points
_GROWTH = 1.6  # height of running text by its size: between lines as many (1) and lines as wide (2)
_BETWEEN = 3  # quarters of a line before the method where it follows the list
_TOGETHER = (3, 2)  # rows of a list at least on either side of a break, on a page of one column and of two
_HELD = frozenset({"opening", "h2", "h3"})  # to what follows
_LEVELS = tuple(level / 50 for level in range(33, 50))  # shares of a page's height
_MOST_FAILED = 1  # layouts with pages that were too low
_SEVERAL = 3  # pages of text, from which on all end alike


@frozen
class CardBlock:
    """What no break divides."""

    kind: str  # its class, or its element where it has none; of a list: thead, tr
    height: float  # points, the gap below it included
    part: int = 0  # which list it is of


@frozen
class CardBlocks:
    """The blocks of a card's two halves at a size of type, without its picture."""

    text: float  # points
    front: tuple[CardBlock, ...]  # with the headnote
    back: tuple[CardBlock, ...]

    def shares(self, setting: Setting, size: CardSize, slack: float = 1.0) -> tuple[float, ...]:
        """The share of each page that a setting's text fills; more than 1 on the last where it runs over.

        ``slack`` is by how much a page may be too full, as a factor of its height.
        """
        front, back = self._turned() if setting.turned else (self.front, self.back)
        front, back = self._scaled(front, setting), self._scaled(back, setting)
        rooms = [*_rooms(setting, size)]
        if setting.sides:
            of_back = _fill(back, rooms[1:], slack, setting)
            if not size.widened:
                return (*_fill(front, rooms[:1], slack, setting), *of_back)
            words = [block for block in front if not block.part and block.kind != "equipment"]
            lists = [block for block in front if block not in words]
            halves = [
                sum(block.height for block in of) / room
                for of, room in zip((words, lists), rooms[0], strict=True)
            ]
            return (max(halves) if max(halves) > slack else sum(halves) / 2, *of_back)
        gap = CardBlock(kind="gap", height=_BETWEEN * float(quarter(setting.text)))
        shares = _fill((*front, gap, *back), rooms, slack, setting)
        return tuple(share * setting.level_of(page) for page, share in enumerate(shares))

    def levelled(self, setting: Setting, size: CardSize, failed: int = 0) -> Iterator[Setting]:
        """The setting with its pages as low as they can be, and higher, where text runs on over several.

        ``failed`` is how often they were too low for it: then they are a little higher, and at last full.
        """
        if setting.sides or setting.text_pages < _SEVERAL or failed > _MOST_FAILED:
            yield setting
            return

        def fits(level: float) -> bool:
            low = replace(setting, level=level)
            return all(share <= low.level_of(page) for page, share in enumerate(self.shares(low, size)))

        at = bisect_left(_LEVELS, True, key=fits) + 2 * failed
        yield from (replace(setting, level=level) for level in (*_LEVELS[at:], 1.0))

    def _turned(self) -> tuple[tuple[CardBlock, ...], tuple[CardBlock, ...]]:
        """With the headnote at the head of the back."""
        headnote = tuple(block for block in self.front if block.kind == "headnote")
        return tuple(block for block in self.front if block.kind != "headnote"), headnote + self.back

    def _scaled(self, blocks: Iterable[CardBlock], setting: Setting) -> tuple[CardBlock, ...]:
        growth = float((float(setting.text) / self.text) ** _GROWTH)
        return _with_air(blocks, setting, growth)


def _rooms(setting: Setting, size: CardSize) -> Iterator[tuple[float, ...]]:
    """The height of each column of each page of text."""
    for page in range(setting.text_pages):
        room = float(other_height(size, setting.text) if page else size.first_height) - setting.cut(
            size, page
        )
        columns = [room] * size.columns
        if setting.photo and setting.pictured(page):
            if setting.photo.upright:
                del columns[0]  # it stands over the other
            else:
                at = -1 if setting.photo.name == "notes" else 0
                columns[at] = max(room - setting.room(size, page), 1.0)
        yield tuple(columns)


def _fill(
    blocks: Sequence[CardBlock], rooms: Sequence[Sequence[float]], slack: float, setting: Setting
) -> tuple[float, ...]:
    """The share of each page, its columns filled one after another."""
    columns = [(page, room) for page, of in enumerate(rooms) for room in of]
    used = [0.0] * len(columns)
    highest = max(room for _, room in columns)
    at = 0
    for chunk in _chunks(blocks, len(rooms[-1]), highest, setting):
        height = sum(block.height for block in chunk)
        if chunk[0].kind == "gap" and used[at] + height > columns[at][1]:
            continue  # none at the end of a page
        while at < len(columns) - 1 and used[at] and used[at] + height > columns[at][1] * slack:
            at += 1
            used[at] = _head_of(blocks, chunk[0])
        used[at] += height
    shares = [0.0] * len(rooms)
    for (page, room), points in zip(columns, used, strict=True):
        shares[page] += points / room / len(rooms[page])
    fullest = max(points / room for (_, room), points in zip(columns, used, strict=True))
    if fullest > slack:
        shares[-1] = max(shares[-1], fullest)
    return tuple(shares)


def _head_of(blocks: Iterable[CardBlock], first: CardBlock) -> float:
    """The height of a list's head where the list goes on with a row."""
    heads = (block.height for block in blocks if block.kind == "thead" and block.part == first.part)
    return next(heads, 0.0) if first.kind == "tr" else 0.0


def _chunks(
    blocks: Iterable[CardBlock], columns: int, highest: float, setting: Setting
) -> Iterator[tuple[CardBlock, ...]]:
    """Blocks that stay together: a heading with what follows it, a list or the rows at its ends."""
    whole = setting.whole if columns == 1 else setting.sides
    together = _TOGETHER[columns > 1]
    held: tuple[CardBlock, ...] = ()
    for part, group in groupby(blocks, lambda block: block.part):
        of = tuple(group)
        if not part:
            for block, following in zip_longest(of, of[1:]):
                held = (*held, block)
                last = block.kind == "li" and following and following.kind not in {"li", "h3"}
                if block.kind not in _HELD and not last:  # the last step stays with the notes
                    yield held
                    held = ()
        elif (
            len(of) <= 2 * together
            or (whole and columns == 1)  # one that is higher than its page does not fit
            or (whole and sum(block.height for block in of) <= highest)
        ):
            yield of
        else:
            yield of[: together + 1]
            yield from ((block,) for block in of[together + 1 : -together])
            yield of[-together:]
    if held:
        yield held


def measured(document: Any, setting: Setting, size: CardSize) -> CardBlocks:
    """The blocks of a laid-out card."""
    front, back = (tuple(blocks_in(document, name)) for name in ("front", "back"))
    if setting.turned:
        front += tuple(block for block in back if block.kind == "headnote")
        back = tuple(block for block in back if block.kind != "headnote")
    if setting.photo is not None and setting.photo.flowed:  # the lines beside it are shorter and more
        share = float(setting.photo.indent / size.column_width)
        depth = float(setting.photo.depth(setting.text))
        match setting.photo.name:
            case "method":
                back = _as_without(back, share, depth)
            case "notes":
                back = _as_without(back[::-1], share, depth)[::-1]
            case _:
                front = _as_without(front, share, depth)
    front, back = (_with_air(face, setting, times=-1) for face in (front, back))
    return CardBlocks(text=float(setting.text), front=front, back=back)


def _with_air(
    blocks: Iterable[CardBlock], setting: Setting, growth: float = 1.0, times: int = 1
) -> tuple[CardBlock, ...]:
    """Blocks by so much higher, and with a setting's air so many times.

    What stands above and below a list counts with its head.
    """
    more = {"li": setting.air, "tr": setting.row_air, "thead": setting.row_air}
    air = {kind: times * quarters * float(quarter(setting.text)) for kind, quarters in more.items()}
    return tuple(
        CardBlock(kind=block.kind, height=block.height * growth + air.get(block.kind, 0.0), part=block.part)
        for block in blocks
    )


def _as_without(blocks: Sequence[CardBlock], taken: float, depth: float) -> tuple[CardBlock, ...]:
    """The blocks as high as without a picture beside the first; ``taken`` is its share of the width."""
    beside, height = 0, 0.0
    while beside < len(blocks) and height < depth and not blocks[beside].part:
        height += blocks[beside].height
        beside += 1
    share = 1 - taken * min(depth / height, 1.0) if height else 1.0
    return (*(replace(block, height=block.height * share) for block in blocks[:beside]), *blocks[beside:])


def blocks_in(document: Any, name: str) -> Iterator[CardBlock]:
    """The blocks of a section, ``front`` or ``back``, on all pages, but for its picture."""
    seen: list[Any] = []  # lists, whose head comes again

    def below(box: Any) -> Iterator[CardBlock]:
        if box.element_tag != "section":
            for child in getattr(box, "children", ()):
                yield from below(child)
        elif box.element.get("class") == name:
            yield from inside(box)

    def inside(section: Any) -> Iterator[CardBlock]:
        for child in section.children:
            if child.element is section.element:  # a column
                yield from inside(child)
            elif child.element_tag == "table":
                yield from rows(child)
            elif child.element_tag in {"ol", "div"} and (of := [*_children(child)]) and _parts(child):
                own = _around(child)
                yield from (
                    CardBlock(kind=_kind(block), height=_height(block) + own * (block is of[0]))
                    for block in of
                )
            elif _kind(child) == "tail":
                yield from inside(child)
            elif child.element_tag != "figure":
                yield CardBlock(kind=_kind(child), height=_height(child))

    def rows(wrapper: Any) -> Iterator[CardBlock]:
        again = any(wrapper.element is element for element in seen)
        if not again:
            seen.append(wrapper.element)
        part = next(at for at, element in enumerate(seen, 1) if element is wrapper.element)
        groups = [group for table in wrapper.children for group in table.children]
        lines = [(row, group.is_header) for group in groups for row in group.children]
        own = sum(map(_around, (wrapper, *wrapper.children)))
        for row, head in lines:
            last = row is lines[-1][0]
            if not (head and again):
                yield CardBlock(kind="thead" if head else "tr", height=_height(row) + own * last, part=part)

    for page in document.pages:
        yield from below(page._page_box)


def _parts(box: Any) -> bool:
    """Whether a page may end between the children of a box."""
    return bool(box.element_tag == "ol" or box.element.get("class") == "notes")


def _children(box: Any) -> Iterator[Any]:
    for child in box.children:
        yield getattr(child, "_box", child)


def _kind(box: Any) -> str:
    return str(box.element.get("class") or box.element_tag)


def _around(box: Any) -> float:
    """Margins, borders and paddings above and below; a box that goes on reaches to the foot of its page."""
    lengths = (f"{kind}_{side}" for kind in ("margin", "padding") for side in ("top", "bottom"))
    borders = box.border_top_width + box.border_bottom_width
    return float(sum(getattr(box, length) for length in lengths) + borders) * PIXEL


def _height(box: Any) -> float:
    return float(box.margin_height()) * PIXEL
