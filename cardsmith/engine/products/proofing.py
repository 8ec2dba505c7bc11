"""One proof made: a recipe's folder read, its card laid out, everything an editor must see set on paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from cardsmith.engine.machine.output import PICTURES, TEMPORARY
from cardsmith.engine.products.portions import portion_of
from cardsmith.engine.products.printing import Papers, does_not_print, papers, photo_of, today, version_of
from cardsmith.files.reading import Reader, Refused
from cardsmith.finding import CardsmithError, Finding, Severity
from cardsmith.flow import Prepared, of_edition, prepare
from cardsmith.frozen import frozen
from cardsmith.house.publication import Publication
from cardsmith.house.style import House
from cardsmith.measure.larder import load_larder
from cardsmith.portion.portion import Portion, nutrition_facts
from cardsmith.proof.account import Account, account
from cardsmith.proof.issued import read_proofs
from cardsmith.proof.snapshot import Snapshot
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.view import CardView, card_view
from cardsmith.render.press.preflight import Unprintable
from cardsmith.render.proof.card import changed_spots
from cardsmith.render.proof.card_fields import fields, marked
from cardsmith.render.proof.marks import Spot
from cardsmith.render.proof.pdf import CardPages, proof_pdf
from cardsmith.render.proof.view import proof_view
from cardsmith.render.typesetter import LayoutError, Typesetter
from cardsmith.rewrite.card.model import Card
from cardsmith.rewrite.card.numbers import numbers
from cardsmith.site.addresses import address, recipe_path
from cardsmith.words import fixed_words


@frozen
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


def desk_of(
    publication: Publication, name: str, file: Path, edition: str = ""
) -> tuple[Desk | None, tuple[Finding, ...]]:
    """A recipe with its issued proofs; None, and what is wrong, where it can't be read as a recipe.

    Raises:
        CardsmithError: the recipe is not printed in that edition.
        DamagedProof: an issued proof is not as it was issued.
    """
    house, source, shown = publication.house(), publication.read(file), publication.shown(file)
    prepared = prepare(name, source, shown, load_larder(house.reference), house, publication.bench(file))
    prepared, house = of_edition(prepared, house, edition)
    if prepared.card is None:
        return None, prepared.findings
    held: tuple[tuple[str, str], ...] = ()
    if house.portion.on_card:
        portion, _, _ = portion_of(publication, name, file, edition=house.edition)
        held = nutrition_facts(portion, house.declares, fixed_words(house.language)) if portion else ()
    desk = Desk(
        publication=publication,
        house=house,
        file=file,
        source=source,
        prepared=prepared,
        card=prepared.card,
        view=card_view(prepared.card, house, held, address(house.site, recipe_path(name, house.edition))),
        kept=read_proofs(file, shown.rpartition("/")[0] or ".", house.edition),
    )
    return desk, ()


def account_of(desk: Desk, issued: Snapshot | None = None) -> Account:
    """What the proof says; ``issued`` is the proof about to be kept."""
    counted = numbers(desk.card, desk.house)
    printed = fields(desk.view, desk.card.recipe, counted)
    kept = (*desk.kept, issued) if issued else desk.kept
    return account(desk.prepared, desk.card, desk.source, printed, counted, desk.house, kept)


@frozen
class Beside:
    """The portion, and what its own files have wrong."""

    portion: Portion | None = None
    findings: tuple[Finding, ...] = ()


def proof_of(desk: Desk, account: Account) -> tuple[bytes, tuple[Finding, ...]]:
    """The proof as PDF, and what only its files had to say; a card that can't be set is a query, not shown.

    Raises:
        CardsmithError: the card is larger than the house's paper for proofs.
    """
    typesetter = Typesetter(desk.publication.templates, desk.publication.output.place(TEMPORARY))
    card, findings = _card(desk, account, typesetter)
    beside = beside_of(desk)
    findings = (*findings, *beside.findings)
    view = proof_view(account, desk.house, findings, beside.portion)
    unset = "" if card else next(finding.what for finding in findings if finding.severity is Severity.ERROR)
    return proof_pdf(view, card, unset, desk.house.proof.paper, account.version, typesetter), findings


def printed(
    desk: Desk, typesetter: Typesetter, photos: Mapping[str, bytes]
) -> tuple[Papers | None, tuple[Finding, ...]]:
    """The card's files as a build would make them, and what they have to say; None where there are none."""
    latest = desk.kept[-1] if desk.kept else None
    version = version_of(desk.prepared, desk.view, desk.house, desk.source, latest)
    version = replace(version, made=today())
    cache = desk.publication.output.place(PICTURES)
    try:
        made = papers(desk.prepared, desk.view, desk.house, typesetter, photos, version, cache)
    except (LayoutError, Unprintable) as fault:
        return None, (does_not_print(desk.card.recipe.where, fault),)
    return made, made.findings


def _card(
    desk: Desk, account: Account, typesetter: Typesetter
) -> tuple[CardPages | None, tuple[Finding, ...]]:
    """The card as a build would print it, and what its finished files have to say."""
    photos, findings = photo_of(Reader(desk.publication.root), desk.file, desk.card.recipe.photo)
    made, said = printed(desk, typesetter, photos)
    if made is not None:
        findings = (*findings, *said)
    if made is not None and made.layout is None:  # its picture was refused: show the words all the same
        photos = {}
        made, said = printed(desk, typesetter, photos)
    if made is None:
        return None, (*findings, *said)
    assert made.layout is not None
    spots = _spots(desk, account, made.layout, typesetter, photos)
    size = desk.house.card.size
    return CardPages(pdf=made.screen, pages=made.layout.pages, size=size, spots=spots), findings


def _spots(
    desk: Desk, account: Account, layout: Layout, typesetter: Typesetter, photos: Mapping[str, bytes]
) -> tuple[Spot, ...] | None:
    """Where the card changed; None where that is not known: the list of changes still has it all."""
    if not account.changes.marks:
        return ()
    again = marked(desk.view, account.changes.marks)
    try:
        return changed_spots(layout, again, typesetter, desk.house.card, photos)
    except LayoutError:
        return None


def beside_of(desk: Desk) -> Beside:
    """The portion, where it can be worked out, and what only its own files have wrong."""
    try:
        portion, findings, _ = portion_of(
            desk.publication, desk.card.recipe.name, desk.file, edition=desk.house.edition
        )
    except CardsmithError as fault:
        refused = (fault.finding(),) if isinstance(fault, Refused) else ()
        return Beside(findings=refused)  # else `cardsmith portion` says why
    trials = desk.prepared.trials
    # What these files have wrong is reported with the recipe.
    reported = (desk.card.recipe.where.file, trials.where.file if trials else "")
    new = tuple(finding for finding in findings if finding.where.file not in reported)
    return Beside(portion=portion, findings=new)
