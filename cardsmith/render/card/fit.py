"""Fitting a card: the best of a few fixed settings of type, found with one or two layouts.

Heights measured on one layout are estimated for the other settings, which tells what to try next; only a
layout proves that a card fits. It all starts from the card's text, so the same card is always set the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from math import ceil
from typing import Any

from markupsafe import Markup

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.house.style import CardStyle
from cardsmith.render.card.view import CardView
from cardsmith.render.sizes import other_height, quarter

_GROWTH = 1.6  # height of running text by its size: between lines as many (1) and lines as wide (2)
_HOPE = 1.03  # an estimate this far too high is still worth a try
_FAULTY = 2  # layouts with words lost or overlapping before it gives up
_PIXEL = 0.75  # points
_BETWEEN = 12.0  # points before the method where it follows the list
_LETTER = 0.49  # em, mean of running text
_PHOTO_SHARES = {"tall": Fraction(3, 10), "low": Fraction(1, 5)}  # of the card's height
_GAP = Fraction(11, 2)  # points, at least, below a photo
_BESIDE = Fraction(3, 2)  # the same again where the photo stands in one of two columns


def photo_height(size: CardSize, name: str) -> Fraction:
    """The height of a photo within the cut, in points; ``name`` is tall or low."""
    return _PHOTO_SHARES[name] * size.height * (_BESIDE if size.columns > 1 else 1)


@frozen
class Setting:
    """One way to set a card."""

    text: Fraction  # points of body type
    photo: str = ""  # tall, low, or none
    sides: bool = True  # whether the method starts a page of its own
    pages: int = 2  # at most


def photo_room(size: CardSize, setting: Setting) -> Fraction:
    """What a photo takes of the text area with the gap below it, in points: whole quarters of a line."""
    if not setting.photo:
        return Fraction(0)
    inside = photo_height(size, setting.photo) - size.top
    return ceil((inside + _GAP) / quarter(setting.text)) * quarter(setting.text)


@frozen
class Layout:
    """A card laid out."""

    setting: Setting
    html: str
    document: Any  # WeasyPrint's
    faults: tuple[str, ...] = ()  # words lost, off the page or over others

    @property
    def pages(self) -> int:
        """The number of pages."""
        return len(self.document.pages)

    @property
    def fits(self) -> bool:
        """Whether everything fits the pages of its setting."""
        return self.pages <= self.setting.pages and not self.faults


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
        photo = float(photo_room(size, setting)) / size.columns
        front, back = self.front * growth + photo, self.back * growth
        first, other = float(size.first_height), float(other_height(size, setting.text))
        if setting.sides:
            return max(1 + max(0.0, front - first) / other, front / first) + back / other
        whole = front + _BETWEEN + back
        return whole / first if whole <= first else 1 + (whole - first) / other

    def fits(self, setting: Setting, size: CardSize) -> bool:
        """Whether the setting is worth a try."""
        if not setting.sides:
            return self.needed(setting, size) <= setting.pages * _HOPE
        growth = self._growth(setting)
        photo = float(photo_room(size, setting)) / size.columns
        return (
            self.front * growth + photo <= float(size.first_height) * _HOPE
            and self.back * growth <= float(other_height(size, setting.text)) * _HOPE
        )


def settings(style: CardStyle, *, photo: bool) -> Iterator[tuple[Setting, ...]]:
    """Settings in groups from the best; in each, large type before small.

    Front and back, running on, and then with a continuation card; a photo comes before larger type, but not
    before type above the floor.
    """
    above, floor = style.text[:-1], style.text[-1:]
    pictures = (*_PHOTO_SHARES, "") if photo else ("",)
    if style.sides == 2:
        for texts in (above, floor):
            for height in pictures:
                yield tuple(Setting(text=text, photo=height) for text in texts)
    for pages in range(style.sides, style.pages + 1):
        for texts in (above, floor):
            for height in pictures[-2:]:
                yield tuple(Setting(text=text, photo=height, sides=False, pages=pages) for text in texts)


def fit(
    view: CardView, size: CardSize, style: CardStyle, lay_out: Callable[[Setting], Layout], *, photo: bool
) -> Layout:
    """The card in the best setting that fits; where none does, the smallest type, for a caller to refuse."""
    groups = list(settings(style, photo=photo))
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
            open_ones = [one for one in open_ones if not _roomier(wanted, one)]
    last = order[-1]
    return best or tried.get(last) or lay_out(last)


def _roomier(failed: Setting, other: Setting) -> bool:
    """Whether ``other`` offers no more room than a setting that failed."""
    photos = ["", "low", "tall"]
    return (
        other.text >= failed.text
        and other.pages <= failed.pages
        and (other.sides or not failed.sides)
        and photos.index(other.photo) >= photos.index(failed.photo)
    )


def measured(layout: Layout, size: CardSize) -> Heights:
    """The heights of a layout's two halves, all pages and columns together."""
    front, back = (sum(_heights(layout.document, name)) * _PIXEL for name in ("front", "back"))
    front -= float(photo_room(size, layout.setting))
    return Heights(
        text=float(layout.setting.text), front=max(front, 1.0) / size.columns, back=back / size.columns
    )


def _heights(document: Any, name: str) -> Iterator[float]:
    """The height of the blocks directly inside a section, on whatever pages."""

    def below(box: Any) -> Iterator[float]:
        if box.element_tag != "section":
            for child in getattr(box, "children", ()):
                yield from below(child)
        elif box.element.get("class") == name:
            for child in box.children:
                if child.element is box.element:  # a column
                    yield from below(child)
                else:
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
