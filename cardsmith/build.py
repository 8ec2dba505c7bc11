"""Stage 5, build: recipes become files under ``build/``. The only stage that writes.

One build at a time holds the folder. What still holds of the last one is left alone (`cardsmith.stale`), the
rest is made (`cardsmith.job`) over a few processes (`cardsmith.pool`), written whole, and noted in the
manifest.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cardsmith.collecting import SITE, collected
from cardsmith.finding import Finding, Severity, Where
from cardsmith.fingerprint import fingerprint
from cardsmith.grounds import COLLECTION, SCOPES, grounds, in_scope
from cardsmith.manifest import Journal, Kept, Manifest, dump, load, plain_finding
from cardsmith.output import CACHE, TEMPORARY, sweep
from cardsmith.publication import Publication
from cardsmith.stale import Looker, changed_grounds, changed_reads, damaged, renewed
from cardsmith.writing import write_whole

if TYPE_CHECKING:
    from cardsmith.job import Job, Made

FEW = 2  # recipes; more are worth other processes


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """What became of one recipe."""

    name: str
    file: Path
    files: tuple[Path, ...] = ()  # all it has now
    made: tuple[str, ...] = ()  # products made anew
    why: tuple[str, ...] = ()  # it was looked at again; empty where all still held
    findings: tuple[Finding, ...] = ()  # of every stage, the layout included


def lacking() -> str:
    """What this machine lacks for setting type; empty where it lacks nothing. HTML needs none of it."""
    from cardsmith.render.typesetter import PangoMissing, need_pango  # noqa: PLC0415

    try:
        need_pango()
    except PangoMissing as missing:
        return str(missing)
    return ""


class Building:
    """One build at work in a publication, which it must hold (`cardsmith.output.held`)."""

    def __init__(self, publication: Publication) -> None:
        self.publication = publication
        self._temporary = publication.build / TEMPORARY
        self._manifest_file = publication.build / CACHE / "manifest"
        self._before = load(self._manifest_file)
        self._looker = Looker(publication.root, self._before.stamps)
        self._outputs = Looker(publication.build)
        self._kept = dict(self._before.recipes)
        self._collection = self._before.collection
        self._changed = False

    @cached_property
    def _grounds(self) -> Mapping[str, str]:
        """Everything that all recipes rest on, as it is now."""
        return grounds(self.publication.templates, self._looker.digest)

    @cached_property
    def _digests(self) -> Mapping[str, str]:
        """What each scope rests on, as it is now."""
        return {name: fingerprint(self._in_scope(name)) for name in SCOPES}

    def _in_scope(self, name: str) -> Mapping[str, str]:
        return in_scope(self._grounds, SCOPES[name])

    def build(
        self, files: Mapping[str, Path], start: Callable[[int], Executor], workers: int
    ) -> Iterator[Built]:
        """Build what needs it: first what is as it was, then the rest as it is finished.

        ``start`` gives an executor for a number of jobs. A recipe with errors prints nothing, and takes its
        old card away; so does one that could not be made.
        """
        whys: dict[str, tuple[str, ...]] = {}
        jobs: list[Job] = []
        for name, file in files.items():
            why, known = self._examined(name, file)
            if why:
                whys[name] = why
                jobs.append(self._job(name, file, known))
            else:
                yield self._built(self._kept[name], file)
        if not jobs:
            return
        from cardsmith.job import make_in_time  # noqa: PLC0415 - all of cardsmith, and the typesetter
        from cardsmith.pool import run  # noqa: PLC0415

        self._changed = True
        journal = Journal(self._manifest_file)
        try:
            for scope in SCOPES:
                journal.grounds(self._digests[scope], self._in_scope(scope))
            for done in run(make_in_time, jobs, lambda: start(len(jobs)), workers):
                name, file = done.job.name, done.job.file
                if done.made is None:
                    self._take_away(name, ())
                    self._kept.pop(name, None)
                    journal.gone(name)
                    yield Built(
                        name=name, file=file, why=whys[name], findings=(self._broken(file, done.fault),)
                    )
                    continue
                kept = self._written(done.made)
                journal.recipe(kept)
                self._kept[name] = kept
                yield self._built(kept, file, whys[name], tuple(done.made.parts))
        finally:
            journal.close()

    def _examined(self, name: str, file: Path) -> tuple[tuple[str, ...], Mapping[str, str]]:
        """Why a recipe must be looked at again, if it must, and the keys of products that still stand."""
        kept = self._before.recipes.get(name)
        if kept is None or self.publication.shown(file) not in kept.reads:
            return ("it is new",), {}
        reads = renewed(kept.reads, self._looker)
        files = {product: renewed(each, self._outputs) for product, each in kept.files.items()}
        hurt = list(damaged(kept, {path: stamp for each in files.values() for path, stamp in each.items()}))
        why = (
            *changed_reads(kept, reads),
            *changed_grounds(kept, self._digests, self._before.grounds, self._in_scope),
            *(what for _, what in hurt),
        )
        if not why and (reads != kept.reads or files != kept.files):
            self._kept[name] = replace(kept, reads=reads, files=files)
            self._changed = True
        lost = {product for product, _ in hurt}
        return tuple(dict.fromkeys(why)), {one: key for one, key in kept.keys.items() if one not in lost}

    def _job(self, name: str, file: Path, known: Mapping[str, str]) -> Job:
        from cardsmith.job import Job  # noqa: PLC0415

        root, house, digests = self.publication.root, self._house, self._digests
        return Job(name=name, file=file, root=root, house=house, grounds=digests, known=known)

    @cached_property
    def _house(self) -> Any:
        return self.publication.house()

    def _written(self, made: Made) -> Kept:
        """Put the files of a recipe in their place and take away those it no longer has; what to remember."""
        before = self._kept.get(made.name) or Kept(name=made.name)
        told = {"": [plain_finding(one) for one in made.findings]}
        files: dict[str, Mapping[str, Any]] = {}
        stops = any(one.severity is Severity.ERROR for one in made.findings)
        for product in made.keys:
            part = made.parts.get(product)
            told[product] = [plain_finding(one) for one in part.findings] if part else before.told[product]
            stops = stops or any(record[1] == Severity.ERROR for record in told[product])
        for product in made.keys if not stops else ():
            if part := made.parts.get(product):
                files[product] = {
                    path: write_whole(self.publication.build / path, data, self._temporary)
                    for path, data in part.files.items()
                }
            else:
                files[product] = before.files[product]
        self._take_away(made.name, [path for each in files.values() for path in each])
        return Kept(
            name=made.name,
            reads=made.reads,
            grounds=self._digests,
            keys={} if stops else made.keys,
            files=files,
            told=told,
            answered=[
                [plain_finding(one), answer.check, answer.reason, _place(answer.where)]
                for one, answer in made.silenced
            ],
            entry=made.entry,
        )

    def _take_away(self, name: str, wanted: Iterable[str]) -> None:
        """Remove the files a recipe had and has no more, and what a killed build left in its folder."""
        before = self._before.recipes.get(name)
        keep = set(wanted)
        for path, _ in before.paths() if before else ():
            if path not in keep:
                (self.publication.build / path).unlink(missing_ok=True)
        sweep(self.publication.build, f"cards/{name}", keep)

    def _built(self, kept: Kept, file: Path, why: tuple[str, ...] = (), made: tuple[str, ...] = ()) -> Built:
        files = tuple(self.publication.build / path for path, _ in kept.paths())
        return Built(name=kept.name, file=file, files=files, made=made, why=why, findings=kept.findings())

    def _broken(self, file: Path, fault: str) -> Finding:
        return Finding(
            name="build-failed",
            severity=Severity.ERROR,
            where=Where(file=self.publication.shown(file)),
            what=f"the card could not be made: {fault}",
            instead="this is a fault of cardsmith: report it with the recipe; all other cards are made",
        )

    def finish(self, built: Sequence[Built], *, whole: bool) -> Path:
        """Remove what belongs to no recipe, report, and note it all; the report.

        ``whole`` says that every recipe of the publication was looked at.
        """
        if whole:
            names = {one.name for one in built}
            for name in self._kept.keys() - names:
                del self._kept[name]
                self._changed = True
        self._collect()
        if whole:
            kept = (*self._kept.values(), *filter(None, [self._collection]))
            wanted = {path for one in kept for path, _ in one.paths()}
            removed = [
                path for part in ("cards", SITE) for path in sweep(self.publication.build, part, wanted)
            ]
            self._changed = self._changed or bool(removed)
        report = self.publication.build / "report.json"
        if self._changed or not report.is_file() or not report.with_suffix(".sarif").is_file():
            self._report(report, built)
        if self._changed or self._looker.renewed or not self._manifest_file.is_file():
            self._note()
        return report

    def _collect(self) -> None:
        """Make the collection's files where they are not as they should be."""
        before = self._before.collection
        self._collection = collected(
            self._kept,
            before,
            fingerprint(in_scope(self._grounds, COLLECTION)),
            lambda: self._house,
            self.publication.templates,
            self._outputs,
            lambda path, data: write_whole(self.publication.build / path, data, self._temporary),
        )
        if self._collection is not before:
            self._changed = True
            now = dict(self._collection.paths())
            for path in (path for path, _ in (before.paths() if before else ()) if path not in now):
                (self.publication.build / path).unlink(missing_ok=True)

    def _report(self, file: Path, built: Sequence[Built]) -> None:
        """``build/report.json``: every finding of the publication; ``report.sarif`` tells a code host.

        A recipe that was not looked at stands there with what its last build found.
        """
        from cardsmith.check.report import as_records  # noqa: PLC0415
        from cardsmith.check.sarif import as_sarif  # noqa: PLC0415
        from cardsmith.job import silenced_of  # noqa: PLC0415

        every = sorted([*built, *self._others(built)], key=lambda one: one.name)
        findings = [finding for one in every for finding in one.findings]
        silenced = [
            pair for one in every if one.name in self._kept for pair in silenced_of(self._kept[one.name])
        ]
        sarif = as_sarif(findings, sources_of(self.publication, every), silenced)
        for path, values in ((file, {"findings": as_records(findings)}), (file.with_suffix(".sarif"), sarif)):
            data = (json.dumps(values, indent=2, ensure_ascii=False) + "\n").encode()
            write_whole(path, data, self._temporary)

    def _others(self, built: Sequence[Built]) -> Iterator[Built]:
        """The recipes of the publication that this build did not look at."""
        seen = {one.name for one in built}
        for name, kept in self._kept.items():
            file = self.publication.file(name)
            if name not in seen and self.publication.shown(file) in kept.reads and file.is_file():
                yield self._built(kept, file)

    def _note(self) -> None:
        """Write the manifest anew: one line a recipe, and no grounds but those in use."""
        used = {digest for one in self._kept.values() for digest in one.grounds.values()}
        today = {self._digests[scope]: self._in_scope(scope) for scope in SCOPES}
        known = {digest: each for digest, each in self._before.grounds.items() if digest in used} | today
        here = {str(file) for file in self._looker.stamps if Path(file).is_file()}
        stamps = {path: stamp for path, stamp in self._looker.stamps.items() if path in here}
        manifest = Manifest(recipes=self._kept, grounds=known, stamps=stamps, collection=self._collection)
        write_whole(self._manifest_file, dump(manifest), self._temporary)


def executor_for(jobs: int, workers: int) -> Executor:
    """The executor for so many jobs on this machine: other processes where they are worth starting."""
    from cardsmith.pool import InProcess, processes  # noqa: PLC0415

    return InProcess() if workers == 1 or jobs <= FEW else processes(min(workers, jobs))


def sources_of(publication: Publication, built: Iterable[Built]) -> dict[str, str]:
    """The texts of the recipes, by the names that findings give their files."""
    return {publication.shown(one.file): publication.text(one.file) for one in built}


def _place(where: Where) -> list[Any]:
    return [where.file, where.line, where.column, where.field]
