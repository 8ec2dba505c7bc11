"""The proof as PDF: its own pages set, the card's pages placed in them."""

from __future__ import annotations

from fractions import Fraction

from markupsafe import Markup

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize, SheetSize
from cardsmith.proof.snapshot import MARK
from cardsmith.render import audit
from cardsmith.render.proof.card import box_of, placeholder, with_card
from cardsmith.render.proof.marks import Spot, labels
from cardsmith.render.proof.view import CardPageView, ProofView
from cardsmith.render.tagging import scoped
from cardsmith.render.templates import environment
from cardsmith.render.typesetter import LayoutError, Typesetter

STYLE = "proof/proof.css"
# Points of the paper that margins and the heading above a card take, both sides together.
_ACROSS, _DOWN = Fraction(94), Fraction(150)


@frozen
class CardPages:
    """A card laid out, as the proof shows it."""

    pdf: bytes  # the screen file
    pages: int
    size: CardSize
    spots: tuple[Spot, ...] | None  # what changed since the last proof; None where it can't be marked


def proof_pdf(
    view: ProofView,
    card: CardPages | None,
    unset: str,
    paper: SheetSize,
    version: str,
    typesetter: Typesetter,
) -> bytes:
    """The proof on ``paper``, tagged; same values, same bytes.

    ``unset`` says why there is no card to show, where ``card`` is None.

    Raises:
        LayoutError: words lost, off the page or over others; a warning of the typesetter.
        CardsmithError: the card is larger than the paper.
    """
    pages = tuple(_page(number, card) for number in range(1, card.pages + 1)) if card else ()
    box = box_of(card.size) if card else (Fraction(0), Fraction(0))
    style = (typesetter.templates / STYLE).read_text(encoding="utf-8")
    html = (
        environment(typesetter.templates)
        .get_template("proof/proof.html.j2")
        .render(
            view=view,
            style=Markup(style),  # the house's own file
            paper={"width": _points(paper.width), "height": _points(paper.height)},
            wide=_is_wide(box, paper) if card else False,
            box={"width": _points(box[0]), "height": _points(box[1])},
            pages=pages,
            unset=unset,
            version=version[:MARK],
        )
    )
    pictures = {page.picture: placeholder(number) for number, page in enumerate(pages, 1)}
    document = typesetter.lay_out(html, pictures, styled=False)
    if faults := audit.faults(document, html, (view.title, view.house), ()):
        raise LayoutError(f"{view.plain_title}, proof: {'; '.join(faults)}")
    pdf = scoped(typesetter.write(document))
    return with_card(pdf, card.pdf, card.size, card.spots or ()) if card else pdf


def _is_wide(box: tuple[Fraction, Fraction], paper: SheetSize) -> bool:
    """Whether the card needs the paper on its side."""
    if box[0] <= paper.width - _ACROSS and box[1] <= paper.height - _DOWN:
        return False
    if box[0] <= paper.height - _ACROSS and box[1] <= paper.width - _DOWN:
        return True
    raise CardsmithError(
        f"the card does not fit {paper.shown} paper at size; choose a larger one for proof in house.yaml"
    )


def _points(value: Fraction) -> str:
    return f"{float(value):.8g}pt"


def _page(number: int, card: CardPages) -> CardPageView:
    side = ("front" if number == 1 else "back") if number <= 2 else "continuation"
    explained = "; its changes can’t be marked on it" if card.spots is None else ""
    if card.spots:
        explained = "; figures in the margin number the list of changes, a wedge is where something went out"
    shown = f"{side.capitalize()}, page {number} of {card.pages}, {card.size.shown} at 1:1"
    return CardPageView(
        picture=f"card-{number}.png",
        alt=f"The card at size, {side}: page {number} of {card.pages}, as in its screen file",
        caption=f"{shown}; the dotted line is the cut{explained}",
        labels=labels([spot for spot in card.spots or () if spot.page == number], card.size),
    )
