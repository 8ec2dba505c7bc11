"""The pages of a booklet that are no cards, and the running feet of all: folios at the outer edge.

A verso bears the booklet's name, a recto its recipe's, or what the page is; each with the number outside.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field
from fractions import Fraction
from typing import Any

from markupsafe import Markup

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.render import audit
from cardsmith.render.booklet.index import BoundCard, IndexEntry, Lettered
from cardsmith.render.booklet.plan import Matter
from cardsmith.render.pictures.prepare import Box
from cardsmith.render.sizes import measures
from cardsmith.render.templates import environment
from cardsmith.render.typesetter import LayoutError, Typesetter
from cardsmith.words import fixed_words

STYLE = "booklet/booklet.css"
_TEXT = Fraction(19, 2)  # points, of contents and index
_TWO_COLUMNS = Fraction(250)  # points of text width, from which on an index has two columns
_RULED = Fraction(21)  # points from line to line of a page for notes
_HEAD = Fraction(30)  # points above its first line
_COVERED = Fraction(58, 100)  # of the cover's height, by its picture
_UNNUMBERED = (Matter.COVER, Matter.TITLE, Matter.BACK, Matter.INSIDE)
_NAMES = {Matter.CONTENTS: "Contents", Matter.INDEX: "Index", Matter.NOTES: "Notes"}


@frozen
class BookletView:
    """Everything the template needs of a booklet."""

    language: str
    title: Markup
    plain_title: str
    house: Markup
    tagline: Markup
    credit: Markup
    count: str  # 18 recipes
    imprint: tuple[Markup, ...] = ()
    picture_alt: str = ""
    cards: tuple[BoundCard, ...] = ()
    index_page: int = 0
    ingredients: Lettered = ()
    kinds: tuple[IndexEntry, ...] = ()
    pictures: Mapping[str, bytes] = field(default_factory=dict)  # that of the cover by its name, or none


def lay_out_matter(
    view: BookletView,
    matter: Matter,
    numbers: Sequence[int],
    typesetter: Typesetter,
    size: CardSize,
    bleed: Fraction,
) -> Any:
    """The pages of some matter as a WeasyPrint document; ``numbers`` are those they bear.

    Raises:
        LayoutError: words lost, off the page or over others; a warning of the typesetter.
    """
    say = fixed_words(view.language)
    name = say(_NAMES[matter]) if matter in _NAMES else ""
    style = (typesetter.templates / STYLE).read_text(encoding="utf-8")
    picture = next(iter(view.pictures), "")
    html = (
        environment(typesetter.templates)
        .get_template("booklet/booklet.html.j2")
        .render(
            view=view,
            say=say,
            matter=matter.value,
            style=Markup(style),  # the house's own file
            page=measures(size, bleed, _TEXT),
            text=f"{float(_TEXT):g}",
            columns=2 if size.text_width >= _TWO_COLUMNS else 1,
            lines=int((size.first_height - _HEAD) / _RULED),
            picture=picture,
            cover={"height": f"{float(cover_box(size, bleed).height):.6g}pt"},
            folios="" if matter in _UNNUMBERED else folios(numbers, view.plain_title, name),
        )
    )
    document = typesetter.lay_out(html, view.pictures, styled=False)
    if faults := audit.faults(document, html, (), ()):
        raise LayoutError(f"{view.plain_title}, {matter}: {'; '.join(faults)}")
    return document


def cover_box(size: CardSize, bleed: Fraction) -> Box:
    """The place of the cover's picture, with what is cut off."""
    return Box(width=size.width + 2 * bleed, height=_COVERED * size.height + bleed)


def folios(numbers: Sequence[int | None], booklet: str, recto: str, ruler: str = '""') -> Markup:
    """Style of the feet of pages that bear these numbers; ``ruler`` is CSS content for the inner edge.

    A page without a number has no foot but its own: a picture covers all of it.
    """
    rules = []
    for place, number in enumerate(numbers, 1):
        if number is None:
            continue
        left = number % 2 == 0
        outer, inner = ("left", "right") if left else ("right", "left")
        name = booklet if left else recto
        folio = f"{number}    {name}" if left else f"{name}    {number}"
        wide = "width: auto;"  # as wide as its words, not as the foot of a card
        rules.append(
            f"@page :nth({place}) {{ @bottom-{outer} {{ {wide} white-space: pre; "
            f"content: {_quoted(folio.strip())} !important; }} "
            f"@bottom-{inner} {{ {wide} content: {ruler} !important; }} }}"
        )
    return Markup("\n".join(rules))  # our own rules around quoted words


def _quoted(text: str) -> str:
    """Words as a CSS string that ends no style element."""
    safe = "".join(letter if letter not in '"\\<>&\n' else f"\\{ord(letter):x} " for letter in text)
    return f'"{safe}"'
