"""A booklet made: chosen cards laid out again with its folios, bound, and laid on sheets to fold."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from fractions import Fraction
from pathlib import Path

from cardsmith.engine.machine.output import TEMPORARY
from cardsmith.engine.products.printing import photo_of, today, version_of
from cardsmith.engine.products.proofing import Desk, desk_of, printed
from cardsmith.files.reading import Reader
from cardsmith.finding import Finding, Severity
from cardsmith.frozen import frozen
from cardsmith.house.paper import SheetSize
from cardsmith.house.printers import AccentInk, Printer
from cardsmith.house.publication import Publication
from cardsmith.house.style import House
from cardsmith.render.booklet.index import filed
from cardsmith.render.booklet.matter import BookletView, cover_box
from cardsmith.render.booklet.pages import BoundPages, CardToBind, bind
from cardsmith.render.booklet.plan import Binding
from cardsmith.render.booklet.signatures import MILLED, Spread, spine, spreads
from cardsmith.render.booklet.spreads import Leaves, opened_as_book, printer_spreads, reader_spreads
from cardsmith.render.card.fit import Layout
from cardsmith.render.pictures.prepare import is_drawing, ready
from cardsmith.render.press.accent import accent_on
from cardsmith.render.press.pdf import press_pdf
from cardsmith.render.press.preflight import Unprintable, screen_faults, sheet_faults
from cardsmith.render.press.version import Version
from cardsmith.render.tagging import screened
from cardsmith.render.typeset import marks, typeset
from cardsmith.render.typesetter import Typesetter
from cardsmith.site.entry import group_of
from cardsmith.words import fixed_words


@frozen
class BookletOrder:
    """How a booklet is to be made."""

    name: str  # of its files
    title: str  # empty for that of the issue, else of the publication
    binding: Binding
    thickness: Fraction  # points of paper
    signature: int  # pages, where signatures are glued
    printer: Printer
    paper: SheetSize | None = None  # None for sheets just as large as two pages need
    as_named: bool = False  # the cards in the order given; else by their titles


@frozen
class Booklet:
    """A booklet's files by name; none where a card has errors, which ``findings`` tell."""

    files: Mapping[str, bytes]
    findings: tuple[Finding, ...]
    sources: Mapping[str, str]
    pages: int = 0
    sheets: int = 0
    creep: Fraction = Fraction(0)  # points, of the innermost sheet
    spine: Fraction = Fraction(0)  # points; 0 where there is none


def booklet(
    publication: Publication, files: Mapping[str, Path], order: BookletOrder, edition: str = ""
) -> Booklet:
    """The booklet of some cards; the same recipes in the same order give the same bytes.

    Raises:
        CardsmithError: a recipe is not printed in that edition.
        LayoutError: its own pages can't be laid out.
        Unprintable: a finished file would come back from the printer.
    """
    house = publication.house().in_edition(edition)
    say = fixed_words(house.language)
    typesetter = Typesetter(publication.templates, publication.output.place(TEMPORARY))
    sources = {publication.shown(file): publication.text(file) for file in files.values()}
    desks: list[Desk] = []
    cards: list[CardToBind] = []
    wrong: list[Finding] = []
    for name, file in files.items():
        desk, findings = desk_of(publication, name, file, edition)
        layout, errors = _layout(publication, desk, typesetter) if desk else (None, _errors(findings))
        wrong += errors
        if desk and layout:
            recipe = desk.card.recipe
            desks.append(desk)
            kind = say.heading(group_of(recipe))
            cards.append(CardToBind(recipe=recipe, kind=kind, view=desk.view, layout=layout))
    if wrong:
        return Booklet(files={}, findings=tuple(wrong), sources=sources)
    if not order.as_named:
        cards.sort(key=lambda card: filed(card.view.plain_title))
        desks.sort(key=lambda desk: filed(desk.view.plain_title))
    view = _view(publication, desks, house, order)
    bound = bind(cards, view, order.binding, typesetter, house.card.size, house.card.bleed)
    return _written(bound, view, _version(desks, order.name), house, order, typesetter, sources)


def _layout(
    publication: Publication, desk: Desk, typesetter: Typesetter
) -> tuple[Layout | None, list[Finding]]:
    """The card as a build would print it; None, and why, where a build would not."""
    photos, about_photo = photo_of(Reader(publication.root), desk.file, desk.card.recipe.photo)
    if wrong := _errors([*desk.prepared.findings, *about_photo]):
        return None, wrong
    made, said = printed(desk, typesetter, photos)
    return made.layout if made else None, _errors(said)


def _errors(findings: Iterable[Finding]) -> list[Finding]:
    return [finding for finding in findings if finding.severity is Severity.ERROR]


def _view(publication: Publication, desks: Iterable[Desk], house: House, order: BookletOrder) -> BookletView:
    """What stands on the pages around the cards; the cover has the first picture there is."""
    picture, alt = {}, ""
    every = list(desks)
    issues = {desk.card.recipe.issue for desk in every}
    title = order.title or (issues.pop() if len(issues) == 1 else "") or house.name
    for desk in every:
        photo = desk.card.recipe.photo
        photos, _ = photo_of(Reader(publication.root), desk.file, photo)
        if photo and photo.file in photos:
            data = photos[photo.file]
            if not is_drawing(photo.file):
                data = ready(photo.file, data, photo.focus, cover_box(house.card.size, house.card.bleed))
            picture, alt = {photo.file: data}, marks(photo.alt)
            break
    return BookletView(
        language=house.language,
        title=typeset(title),
        plain_title=marks(title),
        house=typeset(house.name),
        tagline=typeset(house.tagline),
        credit=typeset(house.credit),
        count=fixed_words(house.language)(
            "{count} recipe" if len(every) == 1 else "{count} recipes", count=len(every)
        ),
        imprint=tuple(typeset(line) for line in (house.site.address,) if line),
        picture_alt=alt,
        pictures=picture,
    )


def _version(desks: Iterable[Desk], name: str) -> Version:
    """One version for the whole booklet, made of those of its cards; its date is the latest of theirs."""
    versions = [
        version_of(desk.prepared, desk.view, desk.house, desk.source, desk.kept[-1] if desk.kept else None)
        for desk in desks
    ]
    mark = hashlib.sha256("\n".join(map(str, versions)).encode()).hexdigest()[:8]
    return Version(recipe=name, mark=mark, date=max(version.date for version in versions), made=today())


def _written(
    bound: BoundPages,
    view: BookletView,
    version: Version,
    house: House,
    order: BookletOrder,
    typesetter: Typesetter,
    sources: Mapping[str, str],
) -> Booklet:
    size, made_for = house.card.size, order.printer
    screen = opened_as_book(screened(typesetter.write(bound.read)))
    if faults := screen_faults(screen, view.plain_title, view.language):
        raise Unprintable(f"the pages of {order.name} fail their preflight: {'; '.join(faults)}")
    glued = order.binding is Binding.PERFECT
    sides = tuple(spreads(len(bound.plan.pages), order.binding, order.thickness, order.signature))
    thick = spine(len(bound.plan.pages), order.thickness) if glued else Fraction(0)
    milled = MILLED if glued else Fraction(0)
    body = Leaves(size=size, bleed=made_for.bleed, milled=milled, paper=order.paper)
    files = {
        f"{order.name}-pages.pdf": screen,
        f"{order.name}-reader-spreads.pdf": reader_spreads(screen, view.plain_title),
        f"{order.name}-printer-spreads.pdf": _pressed(
            bound.body, sides, body, version, order, typesetter, house.accent_ink
        ),
    }
    if bound.cover is not None:
        wrap = Spread(signature=1, sheet=1, front=True, left=2, right=1, creep=Fraction(0))
        leaves = Leaves(size=size, bleed=made_for.bleed, spine=thick, paper=order.paper)
        files[f"{order.name}-cover.pdf"] = _pressed(
            bound.cover, (wrap,), leaves, version, order, typesetter, house.accent_ink
        )
    return Booklet(
        files=files,
        findings=(),
        sources=sources,
        pages=len(bound.plan.pages),
        sheets=len(sides) // 2,
        creep=max(side.creep for side in sides),
        spine=thick,
    )


def _pressed(
    document: object,
    sides: tuple[Spread, ...],
    leaves: Leaves,
    version: Version,
    order: BookletOrder,
    typesetter: Typesetter,
    ink: AccentInk,
) -> bytes:
    """Pages in inks, then on their sheets; both have passed what a printer looks at."""
    tagged = typesetter.write(document)
    accent = accent_on(ink, typesetter.templates, order.printer)
    press = press_pdf(tagged, typesetter, leaves.size, order.printer, version, accent)
    made = printer_spreads(press, sides, leaves, order.printer, version, typesetter)
    if faults := sheet_faults(made, leaves.sheet, order.printer, accent):
        raise Unprintable(f"the sheets of {order.name} fail their preflight: {'; '.join(faults)}")
    return made
