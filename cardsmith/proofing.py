"""One proof made: a recipe's folder read, its card laid out, everything an editor must see set on paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from cardsmith.finding import CardsmithError, Finding, Severity
from cardsmith.flow import Prepared, prepare
from cardsmith.house import House
from cardsmith.measure.larder import load_larder
from cardsmith.portion.whole import Portion, nutrition_line
from cardsmith.portion_cli import portion_of
from cardsmith.printing import photo_of, places_of
from cardsmith.proof.account import Account, account
from cardsmith.proof.snapshot import Snapshot
from cardsmith.proofs import read_proofs
from cardsmith.publication import Publication
from cardsmith.reading import Reader
from cardsmith.render.fit import Layout
from cardsmith.render.pdf import lay_out_card, screen_pdf
from cardsmith.render.pictures import is_drawing
from cardsmith.render.proof import CardPages, proof_pdf
from cardsmith.render.proof_card import Spot, changed_spots
from cardsmith.render.proof_view import proof_view
from cardsmith.render.proof_words import fields, marked
from cardsmith.render.sizes import card_size
from cardsmith.render.typesetter import LayoutError, Typesetter
from cardsmith.render.view import CardView, card_view
from cardsmith.rewrite.card import Card
from cardsmith.rewrite.numbers import numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """What one proof is made from."""

    publication: Publication
    house: House
    file: Path
    source: bytes
    prepared: Prepared
    card: Card
    view: CardView
    kept: tuple[Snapshot, ...]  # issued so far


def desk_of(publication: Publication, name: str, file: Path) -> tuple[Desk | None, tuple[Finding, ...]]:
    """A recipe with its issued proofs; None, and what is wrong, where it can't be read as a recipe.

    Raises:
        DamagedProof: an issued proof is not as it was issued.
    """
    house, source, shown = publication.house(), publication.read(file), publication.shown(file)
    prepared = prepare(name, source, shown, load_larder(), house, publication.bench(file))
    if prepared.card is None:
        return None, prepared.findings
    line = ""
    if house.portion.on_card:
        portion, _, _ = portion_of(publication, name, file)
        line = nutrition_line(portion) if portion else ""
    desk = Desk(
        publication=publication,
        house=house,
        file=file,
        source=source,
        prepared=prepared,
        card=prepared.card,
        view=card_view(prepared.card, house, line),
        kept=read_proofs(file, shown.rpartition("/")[0] or "."),
    )
    return desk, ()


def account_of(desk: Desk, issued: Snapshot | None = None) -> Account:
    """What the proof says; ``issued`` is the proof about to be kept."""
    counted = numbers(desk.card, desk.house)
    printed = fields(desk.view, desk.card.recipe, counted)
    kept = (*desk.kept, issued) if issued else desk.kept
    return account(desk.prepared, desk.card, desk.source, printed, counted, desk.house, kept)


def proof_of(desk: Desk, told: Account) -> tuple[bytes, tuple[Finding, ...]]:
    """The proof as PDF, and what setting the card had to say; one that can't be set is a query, not shown.

    Raises:
        CardsmithError: the card is larger than the house's paper for proofs.
    """
    cache = desk.publication.build / ".cache"
    typesetter = Typesetter(desk.publication.templates, cache / "fonts")
    photos, findings = _photos(desk, cache / "pictures")
    card, unset = None, ""
    try:
        card = _card(desk, told, typesetter, photos)
    except LayoutError as fault:
        unset = str(fault)
        findings = (*findings, _unset(desk, unset))
    view = proof_view(told, desk.house, findings, _portion(desk))
    return proof_pdf(view, card, unset, desk.house.proof.paper, told.version, typesetter), findings


def _photos(desk: Desk, cache: Path) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    photo = desk.card.recipe.photo
    photos, findings = photo_of(Reader(desk.publication.root), desk.file, photo)
    if photo and photo.file in photos and not is_drawing(photo.file):
        photos |= places_of(photo, photos[photo.file], desk.house.card, cache)
    return photos, findings


def _card(desk: Desk, told: Account, typesetter: Typesetter, photos: Mapping[str, bytes]) -> CardPages:
    style = desk.house.card
    layout: Layout = lay_out_card(desk.view, typesetter, style, photos)
    spots: tuple[Spot, ...] | None = ()
    if told.changes.marks:
        again = marked(desk.view, told.changes.marks)
        try:
            spots = changed_spots(layout, again, typesetter, style, photos)
        except LayoutError:
            spots = None  # the list of changes has them all
    return CardPages(
        pdf=screen_pdf(layout, typesetter), pages=layout.pages, size=card_size(style.size), spots=spots
    )


def _unset(desk: Desk, fault: str) -> Finding:
    return Finding(
        name="card-does-not-fit",
        severity=Severity.ERROR,
        where=desk.card.recipe.where,
        what=fault,
        instead="shorten the headnote or the steps, or choose a larger card",
    )


def _portion(desk: Desk) -> Portion | None:
    """None where the files it rests on can't be read; `cardsmith portion` says why."""
    try:
        found, _, _ = portion_of(desk.publication, desk.prepared.name, desk.file)
    except CardsmithError:
        return None
    return found
