"""Fitting a card: the best of a few fixed settings of type, found with one or two layouts.

Blocks measured on one layout tell how the pages of other settings would fill, and so what to try next; only a
layout proves that a card fits. It all starts from the card's text, so the same card is always set the same.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from fractions import Fraction
from itertools import product
from math import ceil, inf
from operator import itemgetter
from typing import Any

from markupsafe import Markup

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.house.settings import CardStyle
from cardsmith.render.card.blocks import PIXEL, CardBlock, CardBlocks, measured
from cardsmith.render.card.places import Place
from cardsmith.render.card.setting import Setting
from cardsmith.render.card.view import CardView

_HOPE = 1.03  # an estimate this far too high is still worth a try
_SURE = 1.01  # and one of blocks measured at the same size of type
_FAULTY = 2  # layouts with words lost or overlapping before it gives up
_LETTER = 0.49  # em, mean of running text
# What is held against a setting, in points of an art director's displeasure; common practice, no source.
_EMPTY = 1 / 3  # of a page, that may be empty, from its last line on
_OF_LINE = 0.02  # of a page, about what is below a last line in its block
_OF_AIR = 0.03  # of a page, about what air fills of a side of its own
_OF_STEPS = 0.16  # and of a back or a last side of one column, between its steps and before its notes
_OF_EMPTY = 40.0  # for a page that is empty beyond that, and more for one that is nearly bare
_OF_WHITE = 6.0  # for what is empty at all, in pages: a larger picture has it rather
_OF_HOLE = (24.0, 30.0)  # for a card laid out that has such a front, such a back
_OF_CARD = 30.0  # for a second card, twice that for a third
_OF_BLANK = 54.0  # for the back of its last card that stays blank
_OF_SIZE = 4.0  # for the smaller type
_OF_NO_PHOTO = 200.0  # for a picture left off: anything rather than that
_OF_SMALL_PHOTO = 12.0  # for one beside the notes
_OF_PLACE = 0.5  # for each place of a picture that would be better
_OF_TURNED = 1.0
_OF_RUNNING = 8.0
_OF_DIVIDED = 4.0  # for a part of the list on two pages
_OF_CLOSE = 4.0  # for steps without gaps, which a last few lines may need
_OF_LOOSE = 1.0  # for each quarter of a line more between rows and steps, which fills a last side
_LOOSE = (1, 2, 3)


@frozen
class Layout:
    """A card laid out."""

    setting: Setting
    html: str
    document: Any  # WeasyPrint's
    faults: tuple[str, ...] = ()  # words lost, off the page or over others
    against: float = inf  # what speaks against it (`cost`), where it fits
    files: Mapping[str, bytes] = field(
        default_factory=dict, hash=False, repr=False
    )  # pictures and rulers that its page names

    @property
    def pages(self) -> int:
        """The number of pages."""
        return len(self.document.pages)

    @property
    def fits(self) -> bool:
        """Whether everything fits the pages of its setting."""
        filled = self.setting.text_pages < self.setting.pages  # a picture over the last back, no other page
        right = self.pages == self.setting.pages if filled else self.pages <= self.setting.pages
        beside = filled and any(_sections(self.document.pages[-1]._page_box))  # text that came on its page
        return right and not beside and not self.faults


def cost(setting: Setting, shares: Sequence[float], style: CardStyle, places: Sequence[Place]) -> float:
    """What an art director would hold against a setting, by the share of each page that its text fills."""
    empty = [
        max(1 - share - _may_be_empty(setting, style.size, page), 0.0) for page, share in enumerate(shares)
    ]
    left_off = _OF_NO_PHOTO if places else 0.0
    more = ceil(setting.pages / style.sides) - 1
    return (
        _OF_EMPTY * sum(share * (1 + share) for share in empty)
        + _OF_WHITE * sum(1 - share for share in shares)
        + _OF_CARD * more * (1 + more) / 2
        + _OF_BLANK * (more > 0 and setting.pages % style.sides)
        + _OF_SIZE * style.text.index(setting.text)
        + (_of_place(setting.photo, places) if setting.photo else left_off)
        + _OF_TURNED * setting.turned
        + _OF_DIVIDED * (not setting.whole)
        + (_OF_CLOSE if setting.air < 0 else _OF_LOOSE * setting.air)
        + _OF_RUNNING * (not setting.sides and setting.text_pages > 1)
    )


def _may_be_empty(setting: Setting, size: CardSize, page: int) -> float:
    last = page == setting.text_pages - 1
    if page and size.columns == 1 and (setting.sides or last):
        return _EMPTY + _OF_STEPS
    return _EMPTY + (_OF_AIR if setting.sides else -_OF_LINE)


def _of_place(photo: Place, places: Sequence[Place]) -> float:
    return _OF_PLACE * places.index(photo) + _OF_SMALL_PHOTO * (photo.name == "notes")


def settings(style: CardStyle, places: Sequence[Place]) -> Iterator[Setting]:
    """Every way to set a card; in the smallest type, each with its steps close as well.

    The smallest picture is for these alone. What takes a second card, and both its sides, may have more air.
    """
    for setting in _with_gaps(style, places):
        if setting.photo is None or not setting.photo.small:
            yield setting
        if setting.text == style.text[-1]:
            yield replace(setting, air=-1)
        if setting.text == style.text[0] and _fills_cards(setting, style):
            for air in _LOOSE:
                yield replace(setting, air=air)


def _with_gaps(style: CardStyle, places: Sequence[Place]) -> Iterator[Setting]:
    """On a front and a back, on one side, or running on."""
    for text, photo in product(style.text, (*places, None)):
        if style.sides == 2 and not _over_back(photo) and _stands(photo, sides=True, back=True):
            yield Setting(text=text, photo=photo)
            if photo is None or not photo.flowed:  # what flows around a picture stays beside it
                yield Setting(text=text, photo=photo, turned=True)
        for pages in range(1 + _over_back(photo), style.pages + 1):
            if _stands(photo, sides=False, back=style.sides == 2 and pages % 2 == 0):
                running = Setting(text=text, photo=photo, sides=False, pages=pages)
                yield running
                if running.text_pages > 1:
                    yield replace(running, whole=False)


def _fills_cards(setting: Setting, style: CardStyle) -> bool:
    """Whether it takes several cards, in one column, and leaves no side of them blank."""
    small = setting.photo is not None and setting.photo.small
    runs = style.size.columns == 1 and not setting.sides and not small
    return runs and setting.pages > style.sides and not setting.pages % style.sides


def _stands(photo: Place | None, *, sides: bool, back: bool) -> bool:
    """Whether a picture has its place where list and method have a side each, or run on behind each other."""
    if photo is None:
        return True
    return {"back": back, "method": sides, "beside": sides or photo.flowed}.get(photo.name, True)


def _over_back(photo: Place | None) -> bool:
    return photo is not None and photo.name == "back"


def fit(
    view: CardView,
    size: CardSize,
    style: CardStyle,
    lay_out: Callable[[Setting], Layout],
    places: Sequence[Place] = (),
    least: float = inf,
) -> Layout | None:
    """The card in the best setting that fits; where none does, the smallest type, for a caller to refuse.

    None where there is a better one already, against which speaks ``least``, and none here is better.
    """
    # Each with what speaks against it if its pages are full: the least that can.
    ways = sorted(
        (
            (cost(setting, (1.0,) * setting.text_pages, style, places), setting)
            for setting in settings(style, places)
            if setting.sides or not size.widened
        ),
        key=lambda way: way[0],
    )
    last = Setting(text=style.text[-1], sides=False, pages=style.pages, whole=style.pages == 1, air=-1)
    if size.widened:
        last = Setting(text=style.text[-1], air=-1)
    blocks, known = estimate(view, size), dict[Fraction, CardBlocks]()
    best: Layout | None = None
    bound = least
    tried: dict[Setting, Layout] = {}
    low: Counter[Setting] = Counter()  # how often its pages were too low
    faulty = 0

    def hoped(setting: Setting) -> tuple[float, Setting]:
        slack = _SURE if setting.text in known else _HOPE
        of = known.get(setting.text, blocks)
        cheapest = inf, setting
        for levelled in of.levelled(setting, size, low[setting]):
            shares = of.shares(levelled, size, slack)
            if max(shares) <= slack and shares[-1] > 0:
                cheapest = min(
                    cheapest, (_seen(setting, shares, size, style, places), levelled), key=itemgetter(0)
                )
            if not any(_holes(setting, shares, size)):
                break
        return cheapest

    def most_hopeful() -> tuple[Setting, Setting] | None:
        best_now, hope = None, least
        for at_least, setting in ways:
            if at_least >= hope:
                break
            hoped_for, levelled = hoped(setting)
            if hoped_for < hope:
                best_now, hope = (setting, levelled), hoped_for
        return best_now

    while hopeful := most_hopeful():
        wanted, levelled = hopeful
        layout = tried[wanted] = lay_out(levelled)
        blocks = known[wanted.text] = measured(layout.document, wanted, size)
        faulty += bool(layout.faults)
        if faulty > _FAULTY:
            return layout  # the fault is not lack of room
        if levelled.level < 1 and not layout.fits:
            low[wanted] += 1
            continue
        ways = [way for way in ways if way[1] != wanted]
        if not layout.fits and layout.pages >= wanted.pages:
            ways = [way for way in ways if not _roomier(wanted, way[1], size)]
        elif layout.fits:
            shares = blocks.shares(levelled, size) if size.columns > 1 else _filled(layout)
            seen = _seen(wanted, shares, size, style, places)
            if seen < least:
                best, least = replace(layout, against=seen), seen
    if best or bound < inf:
        return best
    return tried.get(last) or lay_out(last)


def _seen(
    setting: Setting, shares: Sequence[float], size: CardSize, style: CardStyle, places: Sequence[Place]
) -> float:
    """What is held against a card with such pages; a picture beside the text fills its page as far down."""
    shares = [max(share, _depth(setting, size) * setting.pictured(page)) for page, share in enumerate(shares)]
    return cost(setting, shares, style, places) + sum(_holes(setting, shares, size))


def _depth(setting: Setting, size: CardSize) -> float:
    """The share of a page's height that a picture beside its text reaches down to."""
    if setting.photo is None or not setting.photo.flowed or setting.photo.name == "notes":
        return 0.0
    return float(setting.photo.depth(setting.text) / size.first_height)


def _holes(setting: Setting, shares: Sequence[float], size: CardSize) -> Iterator[float]:
    """What is held against each page that is too empty and has no picture."""
    for page, share in enumerate(shares):
        if 1 - share > _may_be_empty(setting, size, page) and not setting.pictured(page):
            yield _OF_HOLE[page % 2]


def _filled(layout: Layout) -> tuple[float, ...]:
    """The share of each page down to where its last block ends: a part that stays whole may leave a hole."""
    boxes = [page._page_box for page in layout.document.pages[: layout.setting.text_pages]]
    return tuple(
        layout.setting.level_of(page) * (1 - _left(box, _sections(box)) / float(box.height))
        for page, box in enumerate(boxes)
    )


def left_below(document: Any, name: str) -> float:
    """Points that are left below a section, ``front`` or ``back``, on the last page that it is on."""
    boxes = [page._page_box for page in document.pages]
    on = [(box, sections) for box in boxes if (sections := [*_sections(box, name)])]
    return PIXEL * _left(*on[-1]) if on else 0.0


def _left(page: Any, sections: Iterable[Any]) -> float:
    """What is left of a page below all that stands in sections."""
    ends = [_end(child) for section in sections for child in section.children]
    return float(page.content_box_y()) + float(page.height) - max(ends, default=0.0)


def _end(box: Any) -> float:
    """Where a block ends; steps that go on on another page are stretched to the foot of this one."""
    box = getattr(box, "_box", box)
    if box.element_tag == "ol":
        return max(_end(child) for child in box.children)
    return float(box.position_y) + float(box.margin_height())


def _sections(box: Any, name: str = "") -> Iterator[Any]:
    if box.element_tag == "section":
        if not name or box.element.get("class") == name:
            yield box
        return
    for child in getattr(box, "children", ()):
        yield from _sections(child, name)


def _roomier(failed: Setting, other: Setting, size: CardSize) -> bool:
    """Whether ``other`` offers no more room than a setting that failed."""
    return (
        other.text >= failed.text
        and other.text_pages <= failed.text_pages
        and (other.sides or not failed.sides)
        and (other.whole or not failed.whole)
        and other.air >= failed.air
        and (not other.sides or other.turned == failed.turned)
        and all(other.room(size, page) >= failed.room(size, page) for page in range(failed.text_pages))
    )


def estimate(view: CardView, size: CardSize) -> CardBlocks:
    """A first guess from the number of letters, at 10 pt."""
    width, first = float(size.column_width) / 10, float(size.column_width - size.widened) / 10
    row_width = (width + float(size.widened) / 10) * 0.42
    facts = 14 * _lines(" ".join(f"{fact.label} {_plain(fact.text)}   " for fact in view.facts), first)
    front = [
        CardBlock(kind="opening", height=60.0),
        CardBlock(kind="headnote", height=14.0 * _lines(_plain(view.headnote), first * 1.05)),
        CardBlock(kind="facts", height=float(facts)),
    ]
    for number, part in enumerate(view.parts, 1):
        if part.rows:
            front.append(CardBlock(kind="thead", height=18.0, part=number))
        for row in part.rows:
            lines = _lines(f"{_plain(row.item)} {_plain(row.prep)}", row_width * 0.94)
            front.append(CardBlock(kind="tr", height=3.3 + 13.2 * lines, part=number))
    front.append(CardBlock(kind="equipment", height=18.0 + 12 * _lines(_plain(view.equipment), width)))
    back = [CardBlock(kind="h2", height=26.0)]
    cautions = sum(12.2 * _lines(_plain(caution), width) for caution in view.cautions)
    back += [CardBlock(kind="caution", height=30 + cautions)] if view.cautions else []
    for part in view.parts:
        back += [CardBlock(kind="h3", height=20.0)] if part.steps and len(view.parts) > 1 else []
        for step in part.steps:
            back.append(CardBlock(kind="li", height=3.3 + 13.2 * _lines(_plain(step.text), width - 1.4)))
    notes = (2 + 11.6 * _lines(f"{note.label} {_plain(note.text)}", width / 0.88) for note in view.notes)
    foot = 10 * _lines(f"{_plain(view.credit)} {_plain(view.address)}", width / 0.84)
    back += [
        *(CardBlock(kind="p", height=note) for note in notes),
        CardBlock(kind="foot", height=float(foot)),
    ]
    return CardBlocks(text=10.0, front=tuple(front), back=tuple(back))


def _lines(text: str, width: float) -> int:
    """Lines of ``text`` in a column of so many em."""
    return ceil(len(text) * _LETTER / width) if text.strip() else 0


def _plain(text: Markup) -> str:
    return text.striptags()
