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
from cardsmith.finding import Finding, Severity
from cardsmith.fingerprint import fingerprint
from cardsmith.grounds import SCOPES, grounds, in_scope
from cardsmith.job import Job, Made, make
from cardsmith.publication import Publication, write_whole
from cardsmith.reading import stamp_of
from cardsmith.recipe.model import Accepted
from cardsmith.render.typesetter import PangoMissing, need_pango


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """What became of one recipe."""

    name: str
    file: Path
    files: tuple[Path, ...] = ()
    findings: tuple[Finding, ...] = ()  # of every stage, the layout included
    silenced: tuple[tuple[Finding, Accepted], ...] = ()


def lacking() -> str:
    """What this machine lacks for setting type; empty where it lacks nothing. HTML needs none of it."""
    try:
        need_pango()
    except PangoMissing as missing:
        return str(missing)
    return ""


def build(publication: Publication, files: Mapping[str, Path]) -> Iterator[Built]:
    """Build each recipe in turn. A recipe with errors prints nothing, and takes its old card away."""
    found = grounds(publication.templates, lambda file: stamp_of(file).digest)
    digests = {name: fingerprint(in_scope(found, scope)) for name, scope in SCOPES.items()}
    house = publication.house()
    for name, file in files.items():
        made = make(Job(name=name, file=file, root=publication.root, house=house, grounds=digests))
        yield _written(publication, file, made)


def _written(publication: Publication, file: Path, made: Made) -> Built:
    findings = (*made.findings, *(one for part in made.parts.values() for one in part.findings))
    wanted = {path: data for part in made.parts.values() for path, data in part.files.items()}
    folder = publication.build / "cards" / made.name
    if any(one.severity is Severity.ERROR for one in findings):
        shutil.rmtree(folder, ignore_errors=True)
        wanted = {}
    for old in folder.glob("*-press*.pdf"):  # of printers the house no longer sends to
        if f"cards/{made.name}/{old.name}" not in wanted:
            old.unlink()
    for path, data in wanted.items():
        write_whole(publication.build / path, data)
    return Built(
        name=made.name,
        file=file,
        files=tuple(publication.build / path for path in wanted),
        findings=findings,
        silenced=made.silenced,
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


def sources_of(publication: Publication, built: Iterable[Built]) -> dict[str, str]:
    """The texts of the recipes, by the names that findings give their files."""
    return {publication.shown(one.file): one.file.read_text("utf-8", errors="replace") for one in built}


def write_report(publication: Publication, built: Iterable[Built]) -> Path:
    """``build/report.json``: every finding of the run; ``report.sarif`` says the same to a code host."""
    every = list(built)
    findings = [finding for one in every for finding in one.findings]
    silenced = [pair for one in every for pair in one.silenced]
    file = publication.build / "report.json"
    _write_json(file, {"findings": as_records(findings)})
    _write_json(file.with_suffix(".sarif"), as_sarif(findings, sources_of(publication, every), silenced))
    return file


def _write_json(file: Path, values: dict[str, Any]) -> None:
    write_whole(file, (json.dumps(values, indent=2, ensure_ascii=False) + "\n").encode())
