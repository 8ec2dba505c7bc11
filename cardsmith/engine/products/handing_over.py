"""A hand-over made: each card's files, pictures, words and open queries, as a layout desk needs them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from cardsmith.engine.machine.output import TEMPORARY
from cardsmith.engine.products.printing import Papers, photo_of, version_of
from cardsmith.engine.products.proofing import Desk, beside_of, desk_of, printed
from cardsmith.files.reading import Reader
from cardsmith.finding import Finding, Severity
from cardsmith.frozen import frozen
from cardsmith.house.publication import Publication
from cardsmith.render.handover.copy import as_text, card_copy
from cardsmith.render.handover.cover_note import NOTE, SUMS, HandedCard, HandedFile, cover_note, sums
from cardsmith.render.handover.pictures import pictures_in
from cardsmith.render.handover.word_file import Imprint, word_file
from cardsmith.render.look import look
from cardsmith.render.pictures.prepare import is_drawing
from cardsmith.render.proof.queries import as_text as queries_as_text
from cardsmith.render.proof.queries import queries
from cardsmith.render.typeset import marks
from cardsmith.render.typesetter import Typesetter

_PICTURES = "pictures"


@frozen
class HandOver:
    """The folder's files by name; none where a card has errors, which ``findings`` tell."""

    files: Mapping[str, bytes]
    findings: tuple[Finding, ...]
    sources: Mapping[str, str]


def hand_over(publication: Publication, files: Mapping[str, Path], edition: str = "") -> HandOver:
    """The hand-over of some cards; the same recipes give the same bytes.

    Raises:
        CardsmithError: an issued proof is not as it was issued.
    """
    typesetter = Typesetter(publication.templates, publication.output.place(TEMPORARY))
    cards: list[HandedCard] = []
    wrong: list[Finding] = []
    sources = {publication.shown(file): publication.text(file) for file in files.values()}
    for name, file in files.items():
        card, errors = _card(publication, name, file, typesetter, edition)
        cards += [card] if card else []
        wrong += errors
    if wrong:
        return HandOver(files={}, findings=tuple(wrong), sources=sources)
    held = [file for card in cards for file in card.files]
    note = cover_note(cards, publication.house().in_edition(edition), look(publication.templates))
    # The note first: it is the name to begin with, and the sums are of all else.
    made = {NOTE: note, SUMS: sums(held)} | {file.name: file.data for file in held}
    return HandOver(files=made, findings=(), sources=sources)


def _card(
    publication: Publication, name: str, file: Path, typesetter: Typesetter, edition: str
) -> tuple[HandedCard | None, list[Finding]]:
    """One card's files; None, and why, where it has errors."""
    desk, findings = desk_of(publication, name, file, edition)
    if desk is None:
        return None, _errors(findings)
    photos, about_photo = photo_of(Reader(publication.root), file, desk.card.recipe.photo)
    of_card = [*desk.prepared.findings, *about_photo, *beside_of(desk).findings]
    if wrong := _errors(of_card):
        return None, wrong
    made, said = printed(desk, typesetter, photos)
    if (wrong := _errors(said)) or made is None or made.layout is None:
        return None, wrong
    asked = tuple(queries([*of_card, *said], desk.card.recipe, desk.prepared.trials))
    latest = desk.kept[-1] if desk.kept else None
    version = version_of(desk.prepared, desk.view, desk.house, desk.source, latest)
    pictured = bool(made.layout.setting.photo)
    copy = card_copy(desk.view, pictured=pictured)
    imprint = Imprint(
        title=desk.view.plain_title,
        house=marks(desk.house.name),
        language=desk.house.language,
        date=version.date,
        face=look(publication.templates).text,
    )
    pictures, lines = _pictures(publication, desk, made, photos)
    return HandedCard(
        name=desk.prepared.name,
        title=desk.view.plain_title,
        version=str(version),
        pages=made.layout.pages,
        queries={word: sum(query.severity == key for query in asked) for key, word in _WORDS.items()},
        pictures=lines,
        files=(
            *(
                HandedFile(name=name, about=_about(name, desk), data=data)
                for name, data in made.files.items()
            ),
            HandedFile(
                name=f"{desk.prepared.name}.docx",
                about="its text, every paragraph and every run in a named style",
                data=word_file(copy, imprint),
            ),
            HandedFile(
                name=f"{desk.prepared.name}.txt", about="its text alone, UTF-8", data=as_text(copy).encode()
            ),
            HandedFile(
                name=f"{desk.prepared.name}-queries.txt",
                about="what is open, for the editor",
                data=queries_as_text(asked).encode(),
            ),
            *pictures,
        ),
    ), []


_WORDS = {Severity.WARNING: "query", Severity.NOTE: "note"}


def _errors(findings: list[Finding] | tuple[Finding, ...]) -> list[Finding]:
    return [finding for finding in findings if finding.severity is Severity.ERROR]


def _about(name: str, desk: Desk) -> str:
    """What a file of the card is for."""
    if name.endswith("-screen.pdf"):
        return "the card for a screen: tagged, RGB (PDF/UA-1)"
    printers = desk.house.card.printers
    whose = next(
        (printer for printer in printers if name.endswith(f"-press-{printer.name}.pdf")), printers[0]
    )
    return f"the card for the press: {whose.shown}, {whose.condition}, bleed and marks (PDF/X-4)"


def _pictures(
    publication: Publication, desk: Desk, made: Papers, photos: Mapping[str, bytes]
) -> tuple[tuple[HandedFile, ...], tuple[str, ...]]:
    """The picture as given and as used, and what to know of it."""
    photo = desk.card.recipe.photo
    if photo is None or photo.file not in photos:
        return (), ("No picture.",)
    lines = [f"Picture: {marks(photo.alt)}"]
    lines += [f"Its credit: {marks(photo.credit)}"] if photo.credit else []
    lines += [f"It may be cropped about {photo.focus} of its width and height."] if photo.focus else []
    lines += [] if made.layout and made.layout.setting.photo else ["The card has no room for it."]
    given = Reader(publication.root).read_beside(desk.file, photo.file) or b""
    name = desk.prepared.name
    files = [
        HandedFile(
            name=f"{_PICTURES}/{name}-given-{photo.file}",
            about="the picture as it was given to us, nothing taken off",
            data=given,
        ),
        *_used(name, photo.file, made, photos),
    ]
    return tuple(files), tuple(lines)


def _used(name: str, picture: str, made: Papers, photos: Mapping[str, bytes]) -> Iterator[HandedFile]:
    """The picture as the finished files hold it: a photo in their dots and colours, a drawing as shapes."""
    if made.layout is None or not made.layout.setting.photo:
        return
    if is_drawing(picture):
        about = "the drawing as the card has it, its shapes alone"
        yield HandedFile(name=f"{_PICTURES}/{name}-used-{picture}", about=about, data=photos[picture])
        return
    for file, data in made.files.items():
        whose = file.removeprefix(f"{name}-").removesuffix(".pdf")
        for number, held in enumerate(pictures_in(data), 1):
            more = f"-{number}" if number > 1 else ""
            yield HandedFile(
                name=f"{_PICTURES}/{name}-used-{whose}{more}{held.ending}",
                about=f"the picture as {file} holds it: {held.width} × {held.height} dots",
                data=held.data,
            )
