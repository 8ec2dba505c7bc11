"""What a build reports: ``build/report.json`` for programs, ``build/report.sarif`` for a code host."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cardsmith.engine.machine.messages import refusal
from cardsmith.finding import CardsmithError, Finding, Where, error
from cardsmith.house.publication import Publication

if TYPE_CHECKING:
    from cardsmith.engine.built import Built
    from cardsmith.engine.freshness.manifest import Kept

REPORTS = ("report.json", "report.sarif")  # below build/


def report(
    publication: Publication,
    every: Sequence[Built],
    kept: Mapping[str, Kept],
) -> dict[str, bytes]:
    """Files with every finding of the publication, by path below build/, recipe by recipe in the order given.

    ``kept`` holds the findings that an author has answered.
    """
    from cardsmith.check.report import as_records  # noqa: PLC0415
    from cardsmith.check.sarif import as_sarif  # noqa: PLC0415
    from cardsmith.engine.freshness.manifest import answers_from  # noqa: PLC0415

    findings = [finding for recipe in every for finding in recipe.findings]
    silenced = [pair for recipe in every if recipe.name in kept for pair in answers_from(kept[recipe.name])]
    spoken_of = [
        recipe for recipe in every if recipe.findings or (recipe.name in kept and kept[recipe.name].answered)
    ]
    sarif = as_sarif(findings, sources_of(publication, spoken_of), silenced)
    records = ",\n".join(
        map(_json, as_records(findings))
    )  # one a line; indented, they would take ten times as long
    return dict(
        zip(
            REPORTS,
            (f'{{"findings": [\n{records}\n]}}\n'.encode(), f"{_json(sarif)}\n".encode()),
            strict=True,
        )
    )


def _json(values: Mapping[str, Any]) -> str:
    return json.dumps(values, ensure_ascii=False)


def sources_of(publication: Publication, built: Iterable[Built]) -> dict[str, str]:
    """The texts of the recipes, by the names that findings give their files."""
    return {publication.shown(recipe.file): publication.text(recipe.file) for recipe in built}


def broken(file: str, fault: Exception) -> Finding:
    """What to say of a recipe whose card could not be made."""
    from cardsmith.engine.machine.pool import Ended, TooSlow  # noqa: PLC0415

    said = f"{type(fault).__name__}: {fault}"
    instead = "this is a fault of cardsmith: report it with the recipe; all other cards are made"
    if isinstance(fault, FileNotFoundError) and "templates" in Path(str(fault.filename)).parts:
        # A publication begun with an earlier version keeps its own templates.
        said = f"there is no {fault.filename}, which this version of cardsmith asks for"
        instead = "take that file over from a new publication: `cardsmith new` in an empty folder writes one"
    elif isinstance(fault, OSError):
        said, instead = refusal(fault), "build again then; all other cards are made"
    elif isinstance(fault, CardsmithError):
        said, instead = str(fault), "mend what it names, and build again; all other cards are made"
    elif isinstance(fault, MemoryError):
        said = "it takes more memory than a card may"
    elif isinstance(fault, Ended | TooSlow):
        said = str(fault)
    return error("build-failed", Where(file=file), f"the card could not be made: {said}", instead)
