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


def settings(*, photo: bool) -> Iterator[Setting]:
    """Settings from the best: a photo before none, large type before small, two sides before running on."""
    if photo:
        yield from (Setting(size=size, photo=height) for size, height in product(_SIZES[:3], _PHOTOS))
    yield from (Setting(size=size) for size in _SIZES)
    yield from (Setting(size=size, sides=False) for size in _SIZES[1:])


def render_pdf(view: CardView, typesetter: Typesetter, photos: Mapping[str, bytes]) -> bytes:
    """The card as a tagged PDF of 5 × 7 inch pages; ``photos`` are the picture files by name.

    The first setting that fits front and back wins; where none does, the one with fewest pages, so that
    the text runs on to a continuation card. Every word is counted before the file is written.

    Raises:
        LayoutError: words lost, off the page or over others; a warning of the typesetter.
        PangoMissing: raised already by `Typesetter`.
    """
    html, document = _best(view, typesetter, photos)
    if faults := audit.faults(document, html, view.texts(), view.numbers):
        raise LayoutError(f"{view.plain_title}: " + "; ".join(faults))
    return scoped(typesetter.write(document))


def _best(view: CardView, typesetter: Typesetter, photos: Mapping[str, bytes]) -> tuple[str, Any]:
    tried: list[tuple[str, Any]] = []
    for setting in settings(photo=view.photo is not None and view.photo.name in photos):
        html = print_html(view, typesetter, setting)
        document = typesetter.lay_out(html, photos)
        if len(document.pages) <= 2:
            return html, document
        if not setting.photo:
            tried.append((html, document))
    return min(tried, key=lambda attempt: len(attempt[1].pages))


def print_html(view: CardView, typesetter: Typesetter, setting: Setting) -> str:
    """The page the typesetter reads."""
    photo = PHOTOS + quote(view.photo.name) if setting.photo and view.photo else ""
    template = environment(typesetter.templates).get_template("print.html.j2")
    return template.render(view=view, setting=str(setting), photo=photo)
