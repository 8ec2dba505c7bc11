"""The pages of a booklet as one document: cards with their folios, and what stands around them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from markupsafe import escape

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.recipe.model import Recipe
from cardsmith.render import audit
from cardsmith.render.booklet.index import BoundCard, by_ingredient, by_kind
from cardsmith.render.booklet.matter import BookletView, folios, lay_out_matter
from cardsmith.render.booklet.plan import Binding, BookPlan, Matter, plan
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.view import CardView
from cardsmith.render.typesetter import LayoutError, Typesetter

_RULER = "string(size)"  # what a card's foot says of its ruler
_FEW = 1  # pages of contents or of an index, to begin with


@frozen
class CardToBind:
    """One card laid out, and what contents and index ask of it."""

    recipe: Recipe
    kind: str  # in words, as a heading: Quick breads
    view: CardView
    layout: Layout

    @property
    def anchor(self) -> str:
        """The name of its first page, for links."""
        return f"card-{self.recipe.name}"


@frozen
class BoundPages:
    """A booklet's documents, WeasyPrint's: what is read, and what is printed of it."""

    plan: BookPlan
    read: Any  # every page in order
    body: Any  # without the cover where that is a sheet of its own
    cover: Any | None  # its front and its back; None where it is part of the body


def bind(
    cards: Sequence[CardToBind],
    view: BookletView,
    binding: Binding,
    typesetter: Typesetter,
    size: CardSize,
    bleed: Fraction,
) -> BoundPages:
    """All pages in order.

    Raises:
        LayoutError: words lost, off the page or over others; a warning of the typesetter.
    """

    def laid_out(matter: Matter, numbers: Sequence[int]) -> Any:
        return lay_out_matter(view, matter, numbers, typesetter, size, bleed)

    counts = [card.layout.pages for card in cards]
    draft = plan(counts, _FEW, _FEW, binding)
    view = _listed(view, cards, draft)  # how long the lists are, whatever their numbers
    lengths = {matter: len(laid_out(matter, ()).pages) for matter in (Matter.CONTENTS, Matter.INDEX)}
    planned = plan(counts, lengths[Matter.CONTENTS], lengths[Matter.INDEX], binding)
    view = _listed(view, cards, planned)
    made: dict[tuple[Matter, int], Any] = {}
    for number, page in enumerate(planned.pages, 1):
        if page.at:
            continue
        key = (page.matter, number)
        if page.matter is Matter.CARD:
            made[key] = _card(cards[page.card], number, view, typesetter)
        else:
            made[key] = laid_out(page.matter, range(number, number + lengths.get(page.matter, 1)))
    pages = [page for document in made.values() for page in document.pages]
    if len(pages) != len(planned.pages):
        raise LayoutError(f"{view.plain_title}: {len(pages)} pages were set, {len(planned.pages)} planned")
    body = next(iter(made.values())).copy(pages)
    if binding is Binding.SADDLE:
        return BoundPages(plan=planned, read=body, body=body, cover=None)
    wanted = (Matter.COVER, Matter.BACK, Matter.INSIDE, Matter.INSIDE)
    front, back, before, after = (laid_out(matter, ()) for matter in wanted)
    whole = front.copy([*front.pages, *before.pages, *pages, *after.pages, *back.pages])
    return BoundPages(plan=planned, read=whole, body=body, cover=front.copy([*front.pages, *back.pages]))


def _listed(view: BookletView, cards: Sequence[CardToBind], planned: BookPlan) -> BookletView:
    """The view with what contents and index list."""
    bound = [
        BoundCard(title=card.view.title, page=planned.first_page(number), anchor=card.anchor)
        for number, card in enumerate(cards)
    ]
    return replace(
        view,
        cards=tuple(bound),
        index_page=planned.first(Matter.INDEX),
        ingredients=by_ingredient([(card.recipe, to) for card, to in zip(cards, bound, strict=True)]),
        kinds=by_kind([(card.kind, to) for card, to in zip(cards, bound, strict=True)]),
    )


def _card(card: CardToBind, first: int, view: BookletView, typesetter: Typesetter) -> Any:
    """The card as it was laid out, its feet those of the booklet, its first page named for links."""
    footed = {line.page for line in audit.lines(card.layout.document) if line.furniture}
    numbers = [first + place if place + 1 in footed else None for place in range(card.layout.pages)]
    style = folios(numbers, view.plain_title, card.view.plain_title, _RULER)
    html = card.layout.html.replace("</head>", f"<style>{style}</style>\n</head>", 1)
    html = html.replace("<body ", f'<body id="{escape(card.anchor)}" ', 1)
    document = typesetter.lay_out(html, card.layout.files)
    faults = audit.faults(document, html, card.view.texts(), card.view.numbers)
    if faults or len(document.pages) != card.layout.pages:
        reason = "; ".join(faults) or "it has other pages in a booklet"
        raise LayoutError(f"{card.view.plain_title}: {reason}")
    return document
