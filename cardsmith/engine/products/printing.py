"""What goes on paper: pictures made ready, a card laid out once and written for screen and press."""

from __future__ import annotations

import datetime
import os
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from itertools import chain
from pathlib import Path

from cardsmith.engine.products.pictures import KeptPictures
from cardsmith.files.reading import Reader, digest_of
from cardsmith.finding import Finding, Severity, Where, error
from cardsmith.flow import Prepared
from cardsmith.frozen import frozen
from cardsmith.house.printers import Printer
from cardsmith.house.settings import CardStyle
from cardsmith.house.style import House
from cardsmith.proof.snapshot import MARK, Snapshot, version_of_source
from cardsmith.recipe.model import Photo
from cardsmith.regex import regex
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.overfull import Overfull
from cardsmith.render.card.pdf import in_one_column, lay_out_card, places_of
from cardsmith.render.card.places import MOST_CUT, Place
from cardsmith.render.card.view import CardView, PhotoView
from cardsmith.render.faces import StrangeFace
from cardsmith.render.pictures.prepare import (
    PictureRefused,
    inspect,
    is_drawing,
    kept_ready,
    separated,
)
from cardsmith.render.press.accent import accent_on
from cardsmith.render.press.pdf import press_pdf
from cardsmith.render.press.preflight import Unprintable, examined, screen_faults
from cardsmith.render.press.version import Version
from cardsmith.render.proof.card_fields import fields
from cardsmith.render.tagging import screened
from cardsmith.render.typesetter import LayoutError, Typesetter
from cardsmith.rewrite.card.numbers import numbers

_LACKING = regex(r'unsupported by fonts: (".[^"]*" \([^)]*\))')  # in the typesetter's words
_LAY = "lay the picture beside the recipe, or take photo out"
_NO_ROOM = "the printed card has no room for its photo"
_SHORTEN = "shorten the headnote or the list, choose a larger card, or write place: none under photo"
_CROP = "take place out, crop the picture itself, or write under focus what must stay in"
_FINER = "take the photo's original, or a smaller place for it"


@frozen
class Papers:
    """The files of one card by name, and what is to be said of them."""

    files: Mapping[str, bytes]
    findings: tuple[Finding, ...]
    layout: Layout | None = None  # what the files were written from; None where there are none

    @property
    def screen(self) -> bytes:
        """The screen file; empty where there is none."""
        return next((data for name, data in self.files.items() if name.endswith("-screen.pdf")), b"")


def photo_of(reader: Reader, file: Path, photo: Photo | None) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """The picture of a recipe by its name; none where the recipe has none, or none that may be used."""
    if photo is None:
        return {}, ()
    if (data := reader.read_beside(file, photo.file)) is None:
        return {}, (
            _told(photo, "photo-missing", Severity.WARNING, f"there is no {photo.file} beside it", _LAY),
        )
    try:
        return {photo.file: inspect(photo.file, data)}, ()
    except PictureRefused as refused:
        return {}, (_refused(photo, refused),)


class Photos(Mapping[str, bytes]):
    """Pictures by name; those that are made ready for a place are made when they are asked for."""

    def __init__(self, there: Mapping[str, bytes], makers: Mapping[str, Callable[[], bytes]]) -> None:
        self._there, self._makers = dict(there), makers

    def __getitem__(self, name: str) -> bytes:
        if name not in self._there:
            self._there[name] = self._makers[name]()
        return self._there[name]

    def __iter__(self) -> Iterator[str]:
        return iter({**self._there, **self._makers})

    def __len__(self) -> int:
        return len({**self._there, **self._makers})


def photos_for(
    photo: PhotoView | None, style: CardStyle, photos: Mapping[str, bytes], cache: Path
) -> Mapping[str, bytes]:
    """``photos`` with a card's picture cropped and scaled for each of its places; kept in ``cache``."""
    if photo is None or photo.name not in photos or is_drawing(photo.name):
        return photos
    data = photos[photo.name]
    made = partial(kept_ready, KeptPictures(cache), photo.name, data, photo.focus)
    places = chain.from_iterable(places_of(photo, columns, data) for columns in (style, in_one_column(style)))
    return Photos(photos, {place.file(photo.name): partial(made, place.box) for place in places})


def _in_its_inks(
    photo: PhotoView | None, place: Place | None, pictures: Mapping[str, bytes], made_for: Printer
) -> dict[str, bytes]:
    """The picture in a press's own inks, where it came in them, by the digest of the one on the card."""
    if photo is None or place is None or place.file(photo.name) not in pictures:
        return {}
    own = separated(photo.name, pictures[photo.name], photo.focus, place.box, made_for.profile)
    return {digest_of(pictures[place.file(photo.name)]): own} if own else {}


def _refused(photo: Photo, refused: PictureRefused) -> Finding:
    return _told(photo, "photo-refused", Severity.ERROR, refused.what, refused.instead)


def _told(photo: Photo, name: str, severity: Severity, what: str, instead: str) -> Finding:
    return Finding(name=name, severity=severity, where=photo.where, what=what, instead=instead)


def papers(
    prepared: Prepared,
    view: CardView,
    house: House,
    typesetter: Typesetter,
    photos: Mapping[str, bytes],
    version: Version,
    cache: Path,
) -> Papers:
    """The screen file, and a press file for each of the house's printers; every one has passed its preflight.

    ``photos`` holds the picture as it is; ``version`` says on which day it is made; ``cache`` is a folder for
    pictures made ready.

    Raises:
        LayoutError: the card cannot be laid out.
        Unprintable: a finished file would come back from the printer.
    """
    size = house.card.size
    photo = prepared.recipe.photo if prepared.recipe else None
    try:
        pictures = photos_for(view.photo, house.card, photos, cache)
        layout = lay_out_card(view, typesetter, house.card, pictures)
    except PictureRefused as refused:
        assert photo
        return Papers(files={}, findings=(_refused(photo, refused),))
    tagged = typesetter.write(layout.document)
    screen = screened(tagged)
    _pass(prepared.name, "screen", screen_faults(screen, view.plain_title, view.language))
    files = {f"{prepared.name}-screen.pdf": screen}
    findings = [*of_place(photo, layout.setting.photo)] if photo and photo.file in photos else []
    for number, made_for in enumerate(house.card.printers):
        accent = accent_on(house.accent_ink, typesetter.templates, made_for)
        own = _in_its_inks(view.photo, layout.setting.photo, pictures, made_for)
        press = press_pdf(tagged, typesetter, size, made_for, version, accent, own)
        seen = examined(press, size, made_for, accent)
        _pass(prepared.name, made_for.name, seen.faults)
        files[f"{prepared.name}-press{f'-{made_for.name}' if number else ''}.pdf"] = press
        for coarse in seen.coarse:
            if photo is None:
                break
            said = f"{photo.file} prints at {coarse.resolution} dots per inch, under {made_for.resolution}"
            findings.append(_told(photo, "photo-too-coarse", Severity.WARNING, said, _FINER))
    return Papers(files=files, findings=tuple(findings), layout=layout)


def of_place(photo: Photo, place: Place | None) -> Iterator[Finding]:
    """What is to be said of where a picture stands on the printed card, or that it stands nowhere."""
    if place is None and photo.place != "none":
        yield _told(photo, "photo-left-off", Severity.WARNING, _NO_ROOM, _SHORTEN)
    if place and place.cut > MOST_CUT:
        # With a place and a focus of the author's own it is her decision.
        severity = Severity.NOTE if photo.place and photo.focus else Severity.WARNING
        said = f"{float(place.cut):.0%} of {photo.file} is cut off where it stands ({place.name})"
        yield _told(photo, "photo-cropped", severity, said, _CROP)


def today() -> str:
    """The day of a file that neither a proof nor a trial dates: 2026-04-02.

    SOURCE_DATE_EPOCH stands in for the clock, in seconds, for whoever must have the same bytes another day
    (reproducible-builds.org).
    """
    if (given := os.environ.get("SOURCE_DATE_EPOCH", "")).isdecimal():
        return datetime.datetime.fromtimestamp(int(given), datetime.UTC).date().isoformat()
    return datetime.datetime.now(datetime.UTC).date().isoformat()


def does_not_print(where: Where, fault: LayoutError | Unprintable) -> Finding:
    """What to say to an author whose card could not be laid out, or whose file a printer would send back."""
    what = str(fault)
    instead = "shorten the headnote or the steps, or set long words with a hyphen"
    if lacking := dict.fromkeys(_LACKING.findall(what)):
        what = f"the house's fonts have no sign for {', '.join(lacking)}"
        instead = "write it in signs they have, or put a font that has it into templates/fonts and look.css"
    if isinstance(fault, Unprintable):
        instead = "this is a fault of cardsmith or of its templates: mend the templates, or report it"
    if isinstance(fault, Overfull | StrangeFace):
        instead = fault.instead
    name = "card-does-not-fit" if isinstance(fault, LayoutError) else "preflight-failed"
    return error(name, where, what, instead)


def _pass(name: str, kind: str, faults: tuple[str, ...]) -> None:
    if faults:
        raise Unprintable(f"the {kind} file of {name} fails its preflight: {'; '.join(faults)}")


def version_of(
    prepared: Prepared, view: CardView, house: House, source: bytes, latest: Snapshot | None = None
) -> Version:
    """Which version a press file holds, with the number and date of the proof that shows just this card.

    A card that says anything else by now, for the recipe or the house was edited, has no proof; then, as
    without any, the date is that of the last trial.
    """
    trials = prepared.trials.trials if prepared.trials else ()
    date = max((str(trial.date) for trial in trials if trial.date), default="")
    whole = version_of_source(source)
    issued = None
    if latest and prepared.card:
        now = fields(view, prepared.card.recipe, numbers(prepared.card, house))
        issued = latest if latest.shows(whole, now) else None
    return Version(
        recipe=prepared.name,
        mark=whole[:MARK],
        proof=issued.number if issued else 0,
        date=issued.date if issued else date,
    )
