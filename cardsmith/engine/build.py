"""A build: recipes become files under ``build/``.

One build at a time holds the folder. What still holds of the last one is left alone (`freshness`), the rest
is made (`products`) over a few processes (`machine.pool`), written whole, and noted in the manifest.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set
from concurrent.futures import Executor
from contextlib import contextmanager
from dataclasses import replace
from functools import cached_property, partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cardsmith.engine.built import Built
from cardsmith.engine.collecting import SITE, collected, telling, why_collected
from cardsmith.engine.freshness.comparing import Looker, changed_grounds, changed_reads, damaged, renewed
from cardsmith.engine.freshness.fingerprint import fingerprint
from cardsmith.engine.freshness.inputs import COLLECTION, SCOPES, TYPE, grounds, in_scope, libraries
from cardsmith.engine.freshness.manifest import (
    OWED,
    Journal,
    Kept,
    Manifest,
    dump,
    load,
    plain_answers,
    plain_finding,
)
from cardsmith.engine.machine.output import MANIFEST, OF_PICTURE, PICTURES, TEMPORARY, proof_files
from cardsmith.engine.reporting import REPORTS, broken, report
from cardsmith.files.reading import Stamp
from cardsmith.finding import Finding, Severity
from cardsmith.house.publication import Publication

if TYPE_CHECKING:
    from cardsmith.engine.products.job import Job, Made

FEW = 2  # recipes; more are worth other processes
BY_RECIPE = ("bench", "portion")  # below build/: folders by recipe that other commands write
FOLDERS = (TEMPORARY, PICTURES, "cards", SITE, *BY_RECIPE)  # below build/: all there are


def lacking() -> str:
    """What this machine lacks for setting type; empty where it lacks nothing. HTML needs none of it."""
    if libraries()[TYPE]:
        return ""
    from cardsmith.render.typesetter import PangoMissing, need_pango  # noqa: PLC0415

    try:
        need_pango()
    except PangoMissing as missing:
        return str(missing)
    return ""


class Building:
    """One build at work in a publication, which it must hold (`cardsmith.engine.machine.output.held`)."""

    def __init__(self, publication: Publication) -> None:
        self.publication = publication
        self._output = publication.output
        self._before = load(self._output.read(MANIFEST))
        self._looker = Looker(publication.root, self._before.stamps)
        self._outputs = Looker(publication.build)
        self._kept = dict(self._before.recipes)
        self._collection = self._before.collection
        self.why_site: tuple[str, ...] = ()  # the pages of the collection were made anew
        self._changed = not self._before.finished

    @cached_property
    def _grounds(self) -> Mapping[str, str]:
        """Everything that all recipes rest on, as it is now."""
        return grounds(self.publication.templates, self.publication.tables, self._looker.digest)

    @cached_property
    def _digests(self) -> Mapping[str, str]:
        """What each scope rests on, as it is now."""
        return {name: fingerprint(self._in_scope(name)) for name in SCOPES}

    @property
    def _of_site(self) -> Mapping[str, str]:
        return in_scope(self._grounds, COLLECTION)

    def _in_scope(self, name: str) -> Mapping[str, str]:
        return in_scope(self._grounds, SCOPES[name])

    def build(
        self,
        files: Mapping[str, Path],
        start: Callable[[int], Executor],
        workers: int,
        wanted: tuple[str, ...] = (),
    ) -> Iterator[Built]:
        """Build what needs it: first come the recipes that are unchanged, then the rest as each is finished.

        ``wanted`` are the products to make, empty for all; any other that no longer holds is taken away, so
        that no old card stands beside a new page, and the next build makes it.
        ``start`` gives an executor for a number of jobs. A recipe with errors prints nothing, and takes its
        old card away; so does one that could not be made.
        """
        whys: dict[str, tuple[str, ...]] = {}
        jobs: list[Job] = []
        for name, file in files.items():
            why, known = self._examined(name, file, wanted)
            if why:
                whys[name] = why
                jobs.append(self._job(name, file, known, wanted))
            else:
                yield self._built(self._kept[name], file)
        if not jobs:
            return
        from cardsmith.engine.machine.pool import run  # noqa: PLC0415
        from cardsmith.engine.products.job import make_in_time  # noqa: PLC0415 - all of cardsmith, and the typesetter

        self._changed = True
        journal = Journal(self._output.open(MANIFEST, os.O_WRONLY | os.O_CREAT | os.O_APPEND))
        try:
            for scope in SCOPES:
                journal.grounds(self._digests[scope], self._in_scope(scope))
            for done in run(make_in_time, jobs, lambda: start(len(jobs)), workers):
                name, file = done.job.name, done.job.file
                if done.fault:
                    self._withdraw(name)
                    self._take_away(name, proof_files(name))
                    finding = broken(self.publication.shown(file), done.fault)
                    self._kept[name] = Kept(name=name, records={"": [plain_finding(finding)]})
                    journal.recipe(self._kept[name])
                    yield replace(self._built(self._kept[name], file, whys[name]), fault=done.fault)
                if done.made is None:
                    continue
                kept = self._written(done.made)
                journal.recipe(kept)
                self._kept[name] = kept
                made = tuple(product for product in done.made.produced if done.made.keys[product] != OWED)
                yield replace(self._built(kept, file, whys[name], made), took=done.made.took)
        finally:
            journal.close()

    def _examined(
        self, name: str, file: Path, wanted: tuple[str, ...]
    ) -> tuple[tuple[str, ...], Mapping[str, str]]:
        """Why a recipe must be looked at again, if it must, and the keys of products that still stand.

        What was left for later is no reason where it is not ``wanted`` now either.
        """
        kept = self._before.recipes.get(name)
        if kept is None or self.publication.shown(file) not in kept.reads:
            return ("it could not be made before" if kept and not kept.reads else "it is new",), {}
        reads = renewed(kept.reads, self._looker)
        files = {product: renewed(each, self._outputs) for product, each in kept.files.items()}
        hurt = list(damaged(kept, {path: stamp for each in files.values() for path, stamp in each.items()}))
        why = (
            *changed_reads(kept, reads),
            *changed_grounds(kept, self._digests, self._before.grounds, self._in_scope),
            *(what for _, what in hurt),
            *(
                f"its {product} was left for later"
                for product, key in kept.keys.items()
                if key == OWED and (not wanted or product.partition(" ")[0] in wanted)
            ),
        )
        if not why and (reads != kept.reads or files != kept.files):
            self._kept[name] = replace(kept, reads=reads, files=files)
            self._changed = True
        lost = {product for product, _ in hurt}
        return tuple(dict.fromkeys(why)), {
            product: key for product, key in kept.keys.items() if product not in lost
        }

    def _job(self, name: str, file: Path, known: Mapping[str, str], wanted: tuple[str, ...]) -> Job:
        from cardsmith.engine.products.job import Job  # noqa: PLC0415

        # Digests first: what is edited meanwhile is then made under its old digest, and made once more.
        root, digests, house = self.publication.root, self._digests, self._house
        return Job(name=name, file=file, root=root, house=house, grounds=digests, known=known, wanted=wanted)

    def common(self) -> bytes:
        """What all recipes have in common, for machines that see none of the publication's folders."""
        from cardsmith.engine.products.away import common_of  # noqa: PLC0415

        digests = self._digests  # first, as in `_job`
        return common_of(self.publication, self._house, digests)

    @cached_property
    def _house(self) -> Any:
        from cardsmith.house.files import need_files  # noqa: PLC0415 - only where something is made
        from cardsmith.render.look import need_fonts  # noqa: PLC0415

        house = self.publication.house()
        need_files(self.publication.templates)
        need_fonts(self.publication.templates)
        return house

    def _written(self, made: Made) -> Kept:
        """Put the files of a recipe in their place and take away those it no longer has; what to remember."""
        before = self._kept.get(made.name) or Kept(name=made.name)
        records = {"": [plain_finding(finding) for finding in made.findings]}
        files: dict[str, Mapping[str, Any]] = {}
        stops = any(finding.severity is Severity.ERROR for finding in made.findings)
        for product in made.keys:
            anew = made.produced.get(product)
            records[product] = (
                [plain_finding(finding) for finding in anew.findings] if anew else before.records[product]
            )
            stops = stops or any(record[1] == Severity.ERROR for record in records[product])
        keys = {} if stops else made.keys
        new = {
            path: data
            for product in keys
            if product in made.produced
            for path, data in made.produced[product].files.items()
        }
        as_before = {
            path for product in keys if product not in made.produced for path in before.files[product]
        }
        with self._output.staged(new, TEMPORARY) as put:
            if (made.entry if keys else None) != before.told_of:
                self._withdraw(made.name)
            # The first file of the new card takes the place of its old one, all others come after the old.
            self._take_away(made.name, as_before | proof_files(made.name) | set(list(new)[:1]))
            stamps = put()
        for product in keys:
            anew = made.produced.get(product)
            files[product] = {path: stamps[path] for path in anew.files} if anew else before.files[product]
        return Kept(
            name=made.name,
            reads=made.reads,
            grounds=self._digests,
            keys=keys,
            files=files,
            records=records,
            answered=plain_answers(made.silenced),
            entry=made.entry,
        )

    def _take_away(self, name: str, wanted: Set[str]) -> None:
        """Remove the files a recipe had and has no more, and what a killed build left in its folder."""
        if before := self._before.recipes.get(name):
            self._output.remove(path for path, _ in before.paths() if path not in wanted)
        self._output.sweep(f"cards/{name}", wanted)

    def _withdraw(self, name: str) -> None:
        """Remove what tells of a recipe as it was from the collection; `finish` makes it again."""
        self._output.remove([*self._telling.pop("", ()), *self._telling.pop(name, ())])

    @cached_property
    def _telling(self) -> dict[str, list[str]]:
        return telling(self._collection) if self._collection else {}

    def _built(self, kept: Kept, file: Path, why: tuple[str, ...] = (), made: tuple[str, ...] = ()) -> Built:
        files = tuple(path for path, _ in kept.paths())
        return Built(name=kept.name, file=file, files=files, made=made, why=why, findings=kept.findings())

    def shared(self) -> tuple[Finding, ...]:
        """Titles that several recipes with cards share, and should not."""
        from cardsmith.check.shared_titles import Titled, titles_shared  # noqa: PLC0415

        entries = {
            self.publication.shown(self.publication.file(name)): kept.told_of
            for name, kept in sorted(self._kept.items())
        }
        return titles_shared(
            Titled(title=entry["title"], file=file, answered=entry["shares_title"])
            for file, entry in entries.items()
            if entry
        )

    def noticed(self, findings: Iterable[Finding]) -> Iterator[Built]:
        """Findings about all recipes together, reported with theirs; kept, to see when one goes."""
        for finding in findings:
            name = finding.where.file
            kept = Kept(name=name, records={"": [plain_finding(finding)]})
            self._changed = self._changed or self._kept.get(name) != kept
            self._kept[name] = kept
            yield self._built(kept, self.publication.root / name)

    def finish(self, built: Sequence[Built], *, whole: bool) -> Path:
        """Remove what belongs to no recipe, report, and note it all; the report.

        ``whole`` says that every recipe of the publication was looked at.
        """
        names = {recipe.name for recipe in built}
        for name in [name for name in self._kept if name not in names and (whole or self._is_gone(name))]:
            self._withdraw(name)
            self._take_away(name, set())
            del self._kept[name]
            self._changed = True
        self._collect()
        if whole:
            self._sweep(names)
        files = [self.publication.build / name for name in REPORTS]
        if self._changed or not all(file.is_file() for file in files):
            every = sorted([*built, *self._others(built)], key=lambda recipe: recipe.name)
            self._replace(report(self.publication, every, self._kept))
        if self._changed or self._looker.renewed or self._output.read(MANIFEST) is None:
            self._note()
        return files[0]

    def _is_gone(self, name: str) -> bool:
        file = self.publication.file(name)
        return self.publication.shown(file) in self._kept[name].reads and not file.is_file()

    def _sweep(self, names: Set[str]) -> None:
        """Remove what belongs to none of the recipes, which are all there are."""
        build = self.publication.build
        kept = (*self._kept.values(), *filter(None, [self._collection]))
        wanted = {path for recipe in kept for path, _ in recipe.paths()}.union(*map(proof_files, names))
        removed = [path for part in ("cards", SITE) for path in self._output.sweep(part, wanted)]
        for name in {file.name for part in BY_RECIPE for file in (build / part).glob("*")} - names:
            if not self.publication.file(name).parent.is_dir():  # a dish still on the bench has no recipe yet
                removed += [
                    path for part in BY_RECIPE for path in self._output.sweep(f"{part}/{name}", set())
                ]
        self._changed = self._changed or bool(removed)
        # Tiles are pictures that we make.
        drawn = (stamp for recipe in kept for _, stamp in recipe.paths())
        used = {stamp.digest[:OF_PICTURE] for recipe in kept for stamp in (*recipe.reads.values(), *drawn)}
        ready = (build / PICTURES).glob("*")
        self._output.sweep(
            PICTURES, {f"{PICTURES}/{picture.name}" for picture in ready if picture.name[:OF_PICTURE] in used}
        )

    def _collect(self) -> None:
        """Make the collection's files where they are not as they should be."""
        before = self._before.collection
        self._collection = collected(
            self._kept,
            before,
            fingerprint(self._of_site),
            lambda: self._house,
            self.publication.templates,
            self._outputs,
            self._replace,
        )
        if self._collection is not before:
            self._changed = True
            self.why_site = why_collected(self._collection, before, self._before.grounds, self._of_site)
            # A page that led on to a recipe's new address may by now be the page of another recipe.
            wanted = {path for kept in (*self._kept.values(), self._collection) for path, _ in kept.paths()}
            self._output.remove({path for path, _ in before.paths()} - wanted if before else ())

    def _replace(self, files: Mapping[str, bytes]) -> Mapping[str, Stamp]:
        return self._output.replace(files, TEMPORARY)

    def _others(self, built: Sequence[Built]) -> Iterator[Built]:
        """The recipes of the publication that this build did not look at."""
        seen = {recipe.name for recipe in built}
        for name, kept in self._kept.items():
            file = self.publication.root / name if "/" in name else self.publication.file(name)
            known = self.publication.shown(file) in kept.reads or not kept.reads
            if name not in seen and known and file.is_file():
                yield self._built(kept, file)

    def _note(self) -> None:
        """Rewrite the manifest: one line a recipe, and only the grounds in use."""
        used = {digest for kept in self._kept.values() for digest in kept.grounds.values()}
        today = {self._digests[scope]: self._in_scope(scope) for scope in SCOPES}
        today[fingerprint(self._of_site)] = self._of_site
        known = {digest: each for digest, each in self._before.grounds.items() if digest in used} | today
        here = {str(file) for file in self._looker.stamps if Path(file).is_file()}
        stamps = {path: stamp for path, stamp in self._looker.stamps.items() if path in here}
        manifest = Manifest(recipes=self._kept, grounds=known, stamps=stamps, collection=self._collection)
        self._replace({MANIFEST: dump(manifest)})


@contextmanager
def makers(
    building: Building, workers: int, address: str = ""
) -> Iterator[tuple[Callable[[int], Executor], int]]:
    """Who makes a build's cards, given a number of jobs, and how many at a time.

    That is this machine, with ``workers`` at most, or the workers of the Dask scheduler at ``address``.

    Raises:
        CardsmithError: nothing there can make them; it says why.
    """
    if not address:
        yield partial(executor_for, workers=workers), workers
        return
    from cardsmith.engine.machine.cluster import cluster  # noqa: PLC0415 - an extra
    from cardsmith.engine.products.away import Away, versions  # noqa: PLC0415

    with cluster(address, versions, building.common()) as dask:
        yield lambda jobs: Away(dask), dask.workers


def executor_for(jobs: int, workers: int) -> Executor:
    """The executor for so many jobs on this machine: other processes where they are worth starting."""
    from cardsmith.engine.machine.pool import InProcess, processes  # noqa: PLC0415

    return InProcess() if workers == 1 or jobs <= FEW else processes(min(workers, jobs))
