"""A card as a print PDF: front and back, set in the largest of a few fixed settings of type that fits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from typing import Any
from urllib.parse import quote

from cardsmith.render import audit
from cardsmith.render.tagging import scoped
from cardsmith.render.templates import environment
from cardsmith.render.typesetter import PHOTOS, LayoutError, Typesetter
from cardsmith.render.view import CardView

_SIZES = ("11", "10", "9-5", "9")  # points of body type; the style sheet's classes, the house floor last
_PHOTOS = ("tall", "low")


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One way to set a card: body size, height of the photo ("" for none), whether the back starts a page."""

    size: str
    photo: str = ""
    sides: bool = True

    def __str__(self) -> str:
        """The classes the style sheet knows it by."""
        sides = "sides" if self.sides else "running"
        return f"size-{self.size} {sides}" + (f" photo-{self.photo}" if self.photo else "")


def settings(*, photo: bool) -> Iterator[tuple[Setting, ...]]:
    """Settings in groups from the best: with the photo, front and back, running on.

    In each group large type comes before small, so that the last setting takes least room.
    """
    if photo:
        yield tuple(Setting(size=size, photo=height) for size, height in product(_SIZES[:3], _PHOTOS))
    yield tuple(Setting(size=size) for size in _SIZES)
    yield tuple(Setting(size=size, sides=False) for size in _SIZES[1:])


def render_pdf(view: CardView, typesetter: Typesetter, photos: Mapping[str, bytes]) -> bytes:
    """The card as a tagged PDF of 5 × 7 inch pages; ``photos`` are the picture files by name.

    The first setting that fits front and back wins; where none does, the one with fewest pages, so that
    the text runs on to a continuation card. Every word is counted before the file is written.

    Raises:
        LayoutError: words lost, off the page or over others; a warning of the typesetter.
        PangoMissing: raised already by `Typesetter`.
    """
    layout = _best(view, typesetter, photos)
    if faults := audit.faults(layout.document, layout.html, view.texts(), view.numbers):
        raise LayoutError(f"{view.plain_title}: " + "; ".join(faults))
    return scoped(typesetter.write(layout.document))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    html: str
    document: Any

    @property
    def pages(self) -> int:
        return len(self.document.pages)


def _best(view: CardView, typesetter: Typesetter, photos: Mapping[str, bytes]) -> _Layout:
    def lay_out(setting: Setting) -> _Layout:
        html = print_html(view, typesetter, setting)
        return _Layout(html=html, document=typesetter.lay_out(html, photos))

    overfull: list[_Layout] = []
    for largest, *between, smallest in settings(photo=view.photo is not None and view.photo.name in photos):
        first = lay_out(largest)
        if first.pages <= 2:
            return first
        last = lay_out(smallest)  # where the least room is too much, those between are not worth a try
        if last.pages <= 2:
            return next((layout for layout in map(lay_out, between) if layout.pages <= 2), last)
        if not largest.photo:
            overfull += [first, last]
    return min(overfull, key=lambda layout: layout.pages)


def print_html(view: CardView, typesetter: Typesetter, setting: Setting) -> str:
    """The page the typesetter reads."""
    photo = PHOTOS + quote(view.photo.name) if setting.photo and view.photo else ""
    template = environment(typesetter.templates).get_template("print.html.j2")
    return template.render(view=view, setting=str(setting), photo=photo)
