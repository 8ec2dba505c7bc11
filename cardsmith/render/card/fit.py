"""Fitting a card: the best of a few fixed settings of type, found with one or two layouts.

Heights measured on one layout are estimated for the other settings, which tells what to try next; only a
layout proves that a card fits. It all starts from the card's text, so the same card is always set the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import field
from fractions import Fraction
from math import ceil
from typing import Any

from markupsafe import Markup

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.house.style import CardStyle
from cardsmith.render.card.places import Place
from cardsmith.render.card.view import CardView
from cardsmith.render.sizes import other_height

_GROWTH = 1.6  # height of running text by its size: between lines as many (1) and lines as wide (2)
_HOPE = 1.03  # an estimate this far too high is still worth a try
_FAULTY = 2  # layouts with words lost or overlapping before it gives up
_PIXEL = 0.75  # points
_BETWEEN = 12.0  # points before the method where it follows the list
_LETTER = 0.49  # em, mean of running text


@frozen
class Setting:
    """One way to set a card."""

    text: Fraction  # points of body type
    photo: Place | None = None
    sides: bool = True  # whether the method starts a page of its own
    pages: int = 2  # at most, that of a picture over a whole back included

    def room(self, size: CardSize, name: str) -> float:
        """Points of height that the picture takes of the front or of the back, in each column."""
        if self.photo is None or _over_back(self.photo) or (self.photo.name == "method") != (name == "back"):
            return 0.0
        return float(self.photo.room(size, self.text)) / size.columns

    @property
    def text_pages(self) -> int:
        """How many pages its text may fill."""
        return self.pages - _over_back(self.photo)


@frozen
class Layout:
    """A card laid out."""

    setting: Setting
    html: str
    document: Any  # WeasyPrint's
    faults: tuple[str, ...] = ()  # words lost, off the page or over others
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
        return right and not self.faults


@frozen
class Heights:
    """What the two halves of a card need, in points, at a size of type; without the photo."""

    text: float
    front: float
    back: float

    def _growth(self, setting: Setting) -> float:
        return float((float(setting.text) / self.text) ** _GROWTH)

    def needed(self, setting: Setting, size: CardSize) -> float:
        """Pages that a setting needs, as a decimal: 1.9 leaves a tenth of the second page free."""
        growth = self._growth(setting)
        front = self.front * growth + setting.room(size, "front")
        back = self.back * growth + setting.room(size, "back")
        first, other = float(size.first_height), float(other_height(size, setting.text))
        if setting.sides:
            return max(1 + max(0.0, front - first) / other, front / first) + back / other
        whole = front + _BETWEEN + back
        return whole / first if whole <= first else 1 + (whole - first) / other

    def fits(self, setting: Setting, size: CardSize) -> bool:
        """Whether the setting is worth a try."""
        if not setting.sides:
            return self.needed(setting, size) <= setting.text_pages * _HOPE
        growth = self._growth(setting)
        front = self.front * growth + setting.room(size, "front")
        back = self.back * growth + setting.room(size, "back")
        return (
            front <= float(size.first_height) * _HOPE
            and back <= float(other_height(size, setting.text)) * _HOPE
        )


def settings(style: CardStyle, places: Sequence[Place]) -> Iterator[tuple[Setting, ...]]:
    """Settings in groups from the best; in each, large type before small.

    A list and its method on a side each, then running on, and then with a continuation card. A picture comes
    before larger type, but not before a card less; it is left off where no place for it has room.
    """
    for cards in range(1, style.cards + 1):
        last = cards * style.sides  # pages; a continuation card may have an empty back
        for shown in (tuple(places), (None,)):
            if cards == 1 and style.sides == 2:
                yield from _settings(style, shown, last, sides=True)
            first = last if cards == 1 else last - style.sides + 1
            for pages in range(first, last + 1):
                yield from _settings(style, shown, pages, sides=False)


def _settings(
    style: CardStyle, shown: Sequence[Place | None], pages: int, *, sides: bool
) -> Iterator[tuple[Setting, ...]]:
    for texts in (style.text[:-1], style.text[-1:]):
        for photo in shown:
            if _stands(photo, sides=sides, back=style.sides == 2 and pages % 2 == 0):
                running = not sides or _over_back(photo)
                yield tuple(Setting(text=text, photo=photo, sides=not running, pages=pages) for text in texts)


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
) -> Layout:
    """The card in the best setting that fits; where none does, the smallest type, for a caller to refuse."""
    groups = list(settings(style, places))
    order = [setting for group in groups for setting in group]
    heights = estimate(view, size)
    tried: dict[Setting, Layout] = {}
    open_ones = list(order)
    best: Layout | None = None
    faulty = 0
    while wanted := next((one for one in open_ones if heights.fits(one, size)), None):
        layout = tried[wanted] = lay_out(wanted)
        heights = measured(layout, size)
        faulty += bool(layout.faults)
        if faulty > _FAULTY:
            return layout  # the fault is not lack of room
        if layout.fits:
            best = layout
            open_ones = open_ones[: open_ones.index(wanted)]
        else:
            open_ones = [
                one
                for one in open_ones
                if one != wanted and (layout.pages < wanted.pages or not _roomier(wanted, one, size))
            ]
    last = order[-1]
    return best or tried.get(last) or lay_out(last)


def _roomier(failed: Setting, other: Setting, size: CardSize) -> bool:
    """Whether ``other`` offers no more room than a setting that failed."""
    return (
        other.text >= failed.text
        and other.text_pages <= failed.text_pages
        and (other.sides or not failed.sides)
        and all(other.room(size, side) >= failed.room(size, side) for side in ("front", "back"))
    )


def measured(layout: Layout, size: CardSize) -> Heights:
    """The heights of a layout's two halves, all pages and columns together."""
    front, back = (sum(_heights(layout.document, name)) * _PIXEL for name in ("front", "back"))
    photo = layout.setting.photo
    if photo and photo.flowed:  # the lines beside it are shorter and more
        around = float(photo.room(size, layout.setting.text))
        front, back = (front, back - around) if photo.name == "method" else (front - around, back)
    return Heights(
        text=float(layout.setting.text),
        front=max(front, 1.0) / size.columns,
        back=max(back, 1.0) / size.columns,
    )


def _heights(document: Any, name: str) -> Iterator[float]:
    """The height of the blocks directly inside a section, on whatever pages, without its picture."""

    def below(box: Any) -> Iterator[float]:
        if box.element_tag != "section":
            for child in getattr(box, "children", ()):
                yield from below(child)
        elif box.element.get("class") == name:
            for child in box.children:
                if child.element is box.element:  # a column
                    yield from below(child)
                elif child.element_tag != "figure":
                    yield float(child.margin_height())

    for page in document.pages:
        yield from below(page._page_box)


def estimate(view: CardView, size: CardSize) -> Heights:
    """A first guess from the number of letters, at 10 pt."""
    width = float(size.column_width) / 10
    row_width = width * 0.42
    rows = [row for part in view.parts for row in part.rows]
    list_height = sum(
        3.3 + 13.2 * _lines(f"{_plain(row.item)} {_plain(row.prep)}", row_width * 0.94) for row in rows
    ) + 18 * len(view.parts)
    head = (
        60
        + 14 * _lines(_plain(view.headnote), width * 1.05)
        + 14 * _lines(" ".join(f"{fact.label} {_plain(fact.text)}   " for fact in view.facts), width)
    )
    equipment = 18 + 12 * _lines(_plain(view.equipment), width)
    steps = sum(
        3.3 + 13.2 * _lines(_plain(step.text), width - 1.4) for part in view.parts for step in part.steps
    )
    notes = sum(2 + 11.6 * _lines(f"{note.label} {_plain(note.text)}", width / 0.88) for note in view.notes)
    cautions = sum(12.2 * _lines(_plain(caution), width) for caution in view.cautions) + 30 * bool(
        view.cautions
    )
    foot = 10 * _lines(f"{_plain(view.agreement)} {_plain(view.credit)}", width / 0.84)
    back = 26 + steps + notes + cautions + foot + 20 * (len(view.parts) > 1) * len(view.parts)
    columns = size.columns
    return Heights(text=10.0, front=(head + list_height + equipment) / columns, back=back / columns)


def _lines(text: str, width: float) -> int:
    """Lines of ``text`` in a column of so many em."""
    return ceil(len(text) * _LETTER / width) if text.strip() else 0


def _plain(text: Markup) -> str:
    return text.striptags()
