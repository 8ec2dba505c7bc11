"""Stage 5, build: recipes become files under ``build/``. The only stage that writes."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cardsmith.check.report import as_records
from cardsmith.check.sarif import as_sarif
from cardsmith.finding import Finding, Severity, Where
from cardsmith.flow import Prepared, prepare
from cardsmith.house import House
from cardsmith.measure.larder import load_larder
from cardsmith.printing import papers, photos_of, version_of
from cardsmith.publication import Publication, write_whole
from cardsmith.render.html import render_html
from cardsmith.render.overfull import Overfull
from cardsmith.render.preflight import Unprintable
from cardsmith.render.typesetter import LayoutError, PangoMissing, Typesetter
from cardsmith.render.view import card_view


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """What became of one recipe."""

    prepared: Prepared
    files: tuple[Path, ...] = ()
    findings: tuple[Finding, ...] = ()  # of every stage, the layout included


def typesetter_or_reason(publication: Publication) -> tuple[Typesetter | None, str]:
    """The typesetter, or what this machine lacks for one. HTML needs none."""
    try:
        return Typesetter(publication.templates, publication.build / ".fonts"), ""
    except PangoMissing as missing:
        return None, str(missing)


def build(
    publication: Publication, files: Mapping[str, Path], typesetter: Typesetter | None
) -> Iterator[Built]:
    """Build each recipe in turn. A recipe with errors prints nothing, and takes its old card away."""
    house, larder = publication.house(), load_larder()
    for name, file in files.items():
        bench = publication.bench(file)
        prepared = prepare(name, file.read_bytes(), publication.shown(file), larder, house, bench)
        folder = publication.build / "cards" / name
        if prepared.printable:
            yield _print(prepared, file, folder, publication, house, typesetter)
        else:
            shutil.rmtree(folder, ignore_errors=True)
            yield Built(prepared=prepared, findings=prepared.findings)


def _print(
    prepared: Prepared,
    file: Path,
    folder: Path,
    publication: Publication,
    house: House,
    typesetter: Typesetter | None,
) -> Built:
    card = prepared.card
    if card is None:
        raise AssertionError("a printable recipe has a card")
    view = card_view(card, house)
    photos, about_photo = photos_of(publication, file, card.recipe.photo, house.card)
    outputs = {f"{prepared.name}.html": render_html(view, publication.templates, photos).encode()}
    findings = [*prepared.findings, *about_photo]
    if typesetter:
        version = version_of(prepared, file.read_bytes())
        try:
            printed = papers(prepared, view, house, typesetter, photos, version)
        except (LayoutError, Unprintable) as fault:
            findings.append(_does_not_print(card.recipe.where, fault))
        else:
            outputs |= printed.files
            findings += printed.findings
    if any(one.severity is Severity.ERROR for one in findings):
        shutil.rmtree(folder, ignore_errors=True)
        return Built(prepared=prepared, findings=tuple(findings))
    _remove_others(folder, outputs)
    for name, data in outputs.items():
        write_whole(folder / name, data)
    return Built(prepared=prepared, files=tuple(folder / name for name in outputs), findings=tuple(findings))


def _remove_others(folder: Path, wanted: Mapping[str, bytes]) -> None:
    """Take away press files of printers the house no longer sends to."""
    for old in folder.glob("*-press*.pdf"):
        if old.name not in wanted:
            old.unlink()


def _does_not_print(where: Where, fault: LayoutError | Unprintable) -> Finding:
    instead = "shorten the headnote or the steps, or set long words with a hyphen"
    if isinstance(fault, Unprintable):
        instead = "this is a fault of cardsmith or of its templates: mend the templates, or report it"
    if isinstance(fault, Overfull):
        instead = fault.instead
    return Finding(
        name="card-does-not-fit" if isinstance(fault, LayoutError) else "preflight-failed",
        severity=Severity.ERROR,
        where=where,
        what=str(fault),
        instead=instead,
    )


def remove_orphans(publication: Publication) -> tuple[str, ...]:
    """Take away the cards of recipes that are gone; their names."""
    cards = publication.build / "cards"
    names = set(publication.names())
    gone = sorted(folder.name for folder in cards.iterdir() if folder.is_dir()) if cards.is_dir() else []
    removed = tuple(name for name in gone if name not in names)
    for name in removed:
        shutil.rmtree(cards / name)
    return removed


def write_report(publication: Publication, built: Iterable[Built]) -> Path:
    """``build/report.json``: every finding of the run; ``report.sarif`` says the same to a code host."""
    every = list(built)
    findings = [finding for one in every for finding in one.findings]
    silenced = [pair for one in every for pair in one.prepared.silenced]
    sources = {one.prepared.recipe.where.file: one.prepared.source for one in every if one.prepared.recipe}
    file = publication.build / "report.json"
    _write_json(file, {"findings": as_records(findings)})
    _write_json(file.with_suffix(".sarif"), as_sarif(findings, sources, silenced))
    return file


def _write_json(file: Path, values: dict[str, Any]) -> None:
    write_whole(file, (json.dumps(values, indent=2, ensure_ascii=False) + "\n").encode())
