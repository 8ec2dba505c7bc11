"""A cross-test on its way out and back: the pack's files, and the filled form put among the trials."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from cardsmith.bench.file.load import read_trials
from cardsmith.bench.file.yaml_text import appended, same
from cardsmith.bench.model import Trial, Trials
from cardsmith.bench.pack.form import Pack, form, pack
from cardsmith.bench.pack.read import Returned, read_form, with_photos
from cardsmith.engine.machine.output import TEMPORARY
from cardsmith.engine.products.printing import photo_of, photos_for
from cardsmith.files.reading import Reader, Refused, lies_below, read_plain
from cardsmith.files.writing import write_whole
from cardsmith.finding import CardsmithError, Finding, Severity, error
from cardsmith.flow import Prepared, prepare
from cardsmith.frozen import frozen
from cardsmith.house.publication import Publication, plain_name
from cardsmith.house.style import House
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.mark import mark
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.papers.bench import STYLE, form_pdf
from cardsmith.render.pictures.prepare import PictureRefused, inspect
from cardsmith.render.tagging import screened
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card


@frozen
class Outcome:
    """What came of a command: files written, and findings with the texts they are about."""

    written: tuple[Path, ...] = ()
    findings: tuple[Finding, ...] = ()
    sources: Mapping[str, str]
    trial: Trial | None = None


def write_pack(publication: Publication, name: str, tester: str, column: str) -> Outcome:
    """Write one folder with the card in one column, the form on paper and the form to type into.

    Raises:
        LayoutError: the card or the form can't be laid out.
    """
    house = publication.house()
    both, source = _prepared(publication, name, house)
    if both.recipe is None or both.card is None or not both.printable:
        return Outcome(findings=both.findings, sources=source)
    alone = replace(house, order=(column,))
    one_column, _ = _prepared(publication, name, alone)
    if one_column.card is None or not one_column.printable:
        return Outcome(findings=one_column.findings, sources=source)
    steps = tuple(
        "".join(span.text for span in step.spans) for part in one_column.card.parts for step in part.steps
    )
    printed = mark(both.recipe, both.card.printed)
    view = pack(both.recipe, both.trials, steps, tester=tester, column=column, mark=printed)
    temporary = publication.output.place(TEMPORARY)
    paper = Typesetter(publication.templates, temporary, STYLE)
    files = {
        "card.pdf": _card(publication, name, one_column.card, alone),
        "form.pdf": form_pdf(view, paper, house.language),
        "form.yaml": form(view).encode(),
    }
    folder = _folder(view)
    for file, data in files.items():
        publication.output.write(f"{folder}/{file}", data)
    return Outcome(written=tuple(publication.build / folder / file for file in files), sources=source)


def _folder(view: Pack) -> str:
    return f"bench/{view.recipe}/pack-{plain_name(view.tester, 'tester')}-{view.column}"


def _prepared(publication: Publication, name: str, house: House) -> tuple[Prepared, dict[str, str]]:
    file = publication.file(name)
    prepared = prepare(
        name,
        publication.read(file),
        publication.shown(file),
        load_larder(house.reference),
        house,
        publication.bench(file),
    )
    sources = {publication.shown(file): prepared.source}
    sources |= {prepared.trials.where.file: prepared.trials.source} if prepared.trials else {}
    return prepared, sources


def _card(publication: Publication, name: str, card: Card, house: House) -> bytes:
    """The card for a screen or a plain printer; the picture is left out where it can't be used."""
    photo = card.recipe.photo
    photos, _ = photo_of(Reader(publication.root), publication.file(name), photo)
    temporary = publication.output.place(TEMPORARY)
    typesetter, view = Typesetter(publication.templates, temporary), card_view(card, house)
    layout = lay_out_card(view, typesetter, house.card, photos_for(view.photo, house.card, photos, temporary))
    return screened(typesetter.write(layout.document))


def read_pack(publication: Publication, name: str, file: Path) -> Outcome:
    """Put a filled form among the trials of a recipe, its photos beside them; nothing where it has errors.

    Raises:
        CardsmithError: the form isn't there, is in the trials already, or can't be put behind them.
    """
    larder, target = publication.larder(), publication.file(name).with_name("trials.yaml")
    data = read_plain(file.absolute(), file.absolute().parent, str(file))
    if data is None:
        raise CardsmithError(f"there is no {file}")
    trials, source = _trials(publication, name)
    returned = read_form(data, str(file), name, trials, larder)
    sources = {str(file): returned.source}
    if returned.trial is None or returned.node is None:
        return Outcome(findings=returned.findings, sources=sources)
    photos, refused = _photos(returned, file.absolute().parent)
    if refused:
        return Outcome(findings=(*returned.findings, *refused), sources=sources)
    names = {photo: f"trial-{returned.trial.number}-{photo}" for photo in photos}
    _is_free(publication, target, tuple(names.values()))
    _never_twice(trials, returned.trial)
    node = with_photos(returned.node, names)
    text = appended(trials, source, publication.shown(target), node, larder)
    for photo, picture in photos.items():
        write_whole(target.with_name(names[photo]), picture)
    write_whole(target, text.encode())
    written = (*(target.with_name(names[photo]) for photo in photos), target)
    return Outcome(written=written, findings=returned.findings, sources=sources, trial=returned.trial)


def _trials(publication: Publication, name: str) -> tuple[Trials | None, str]:
    bench = publication.bench(publication.file(name))
    if bench is None:
        return None, ""
    trials, findings = read_trials(name, *bench, publication.larder())
    if any(finding.severity is Severity.ERROR for finding in findings):
        raise CardsmithError(f"{bench[1]} has errors; `cardsmith check {name}` tells them")
    return trials, bench[0].decode("utf-8")


def _photos(returned: Returned, folder: Path) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """The pictures that the form names, which stand beside it."""
    pictures: dict[str, bytes] = {}
    wrong: list[Finding] = []
    for photo in returned.trial.photos if returned.trial else ():
        name = photo.text
        try:
            data = read_plain(folder / name, folder, name) if Path(name).name == name else None
            if data is None:
                raise PictureRefused(f"there is no {name} beside the form", "lay it there, by its plain name")
            inspect(name, data)
            pictures[name] = data
        except PictureRefused as fault:
            what, instead = fault.what, fault.instead
        except Refused as fault:
            _, what, instead = fault.args
        else:
            continue
        wrong.append(error("photo-refused", photo.where, what, instead, name))
    return pictures, tuple(wrong)


def _is_free(publication: Publication, target: Path, names: tuple[str, ...]) -> None:
    """Refuses to write outside the recipes, or over a picture that is there."""
    if not lies_below(target.parent, publication.recipes):
        what = "leads by a symbolic link out of the recipes"
        raise Refused(publication.shown(target.parent), what, "put a folder in its place")
    for name in names:
        if os.path.lexists(target.with_name(name)):
            shown = publication.shown(target.with_name(name))
            raise CardsmithError(f"{shown} is there already; give the picture beside the form another name")


def _never_twice(trials: Trials | None, trial: Trial) -> None:
    """Refuses a form that was read before: its trial would stand there a second time."""
    for earlier in trials.trials if trials else ():
        kept = tuple(replace(photo, text=f"trial-{earlier.number}-{photo.text}") for photo in trial.photos)
        if same(replace(trial, photos=kept), earlier):
            raise CardsmithError(f"this form is trial {earlier.number} already")
