"""Many recipes checked, in the order of their files: a few in this process, more in one a processor.

The others start as this process is after the first few: with tables read and patterns compiled. A recipe that
rests on what it rested on when it was last checked is reported from the notes of that check.
"""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable, Generator, Iterator, Mapping, Sized
from contextlib import closing
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from cardsmith.check.shared_titles import Titled, answers
from cardsmith.files.reading import Refused
from cardsmith.finding import Finding
from cardsmith.frozen import frozen
from cardsmith.house.publication import Publication
from cardsmith.house.style import House

if TYPE_CHECKING:
    from cardsmith.engine.freshness.checked import Notes
    from cardsmith.engine.freshness.manifest import Kept
    from cardsmith.measure.larder import Larder
    from cardsmith.recipe.model import Accepted, Recipe
    from cardsmith.reference import Tables

FEW = 4  # recipes after which nearly all is loaded that any needs; so many are checked before notes are read
_PRICES = ""  # the name in the notes of the price list, which no recipe has
AT_A_TIME = 16  # recipes that a process is given: little enough that all end at about the same time


@frozen
class Checked:
    """The findings about one recipe, and the texts of the files they are about, by their displayed names."""

    findings: tuple[Finding, ...]
    silenced: tuple[tuple[Finding, Accepted], ...] = ()
    sources: Mapping[str, str]
    titled: Titled | None = None  # None where there is no recipe
    digest: str = ""  # of the files that this rests on; empty where one was refused


Files = tuple[tuple[str, Path], ...]
File = tuple[bytes, str]  # what is in it, and its name for messages


@frozen
class Folder:
    """The files of one recipe that are checked together, as they are now."""

    name: str
    recipe: File | None  # None where a dish is still on the bench
    bench: File | None = None
    facts: File | None = None
    labels: File | None = None

    @property
    def sources(self) -> dict[str, str]:
        """Their texts, by the names for messages."""
        return {place: _text(data) for data, place in filter(None, self._files)}

    @property
    def digest(self) -> str:
        """Of their names and bytes."""
        from cardsmith.engine.freshness.fingerprint import fingerprint  # noqa: PLC0415 - where notes are kept

        return fingerprint(self.name, *self._files)

    @property
    def _files(self) -> tuple[File | None, ...]:
        return self.recipe, self.bench, self.facts, self.labels


def notes_of(publication: Publication, files: Sized) -> Notes | None:
    """The notes of recipes checked before; None for so few recipes that checking them is as quick.

    They must be opened before the house is read.
    """
    if len(files) <= FEW:
        return None
    from cardsmith.engine.freshness.checked import Notes  # noqa: PLC0415 - one recipe is checked without it

    return Notes(publication)


def check_files(
    publication: Publication,
    files: Mapping[str, Path],
    house: House,
    workers: int | None = None,
    notes: Notes | None = None,
) -> Iterator[Checked]:
    """Every recipe of ``files`` (its name and file) checked, in their order, by one process a processor.

    Raises:
        Exception: whatever checking one of them raises; it is our defect.
    """
    work = partial(_checked, publication, house, notes is not None)
    known = _known(publication, files, notes) if notes else {}
    others = tuple((name, file) for name, file in files.items() if name not in known)
    with closing(_anew(work, others, workers or os.cpu_count() or 1)) as anew:
        try:
            for name in files:
                checked = known.get(name) or next(anew)
                if notes and checked.digest and name not in known:
                    notes.note(_kept(name, checked), checked.digest)
                yield checked
        finally:
            if notes:
                notes.save()


def _known(publication: Publication, files: Mapping[str, Path], notes: Notes) -> dict[str, Checked]:
    """Those recipes that need no checking, by name."""
    known: dict[str, Checked] = {}
    for name, file in files.items():
        try:
            folder = _folder(publication, name, file)
        except Refused:
            continue
        if kept := notes.known(name, folder.digest):
            known[name] = _recalled(kept, folder)
    return known


Work = Callable[[Files], tuple[Checked, ...]]


def _anew(work: Work, listed: Files, workers: int) -> Generator[Checked, None, None]:
    first = listed if workers == 1 else listed[:FEW]
    yield from work(first)
    rest = listed[len(first) :]
    if not rest:
        return
    from cardsmith.engine.machine.pool import forked, run  # noqa: PLC0415 - one recipe is checked without it

    each = min(AT_A_TIME, -(-len(rest) // workers))
    jobs = [rest[start : start + each] for start in range(0, len(rest), each)]
    workers = min(workers, len(jobs))
    made: dict[Files, tuple[Checked, ...]] = {}
    due = deque(jobs)
    for done in run(work, jobs, partial(forked, workers), workers):
        if done.made is None:
            raise done.fault or AssertionError("neither result nor fault")
        made[done.job] = done.made
        while due and due[0] in made:  # in their order, and none held back for a later one
            yield from made.pop(due.popleft())


def _checked(publication: Publication, house: House, noted: bool, files: Files) -> tuple[Checked, ...]:
    return tuple(_one(publication, house, name, file, noted=noted) for name, file in files)


def _folder(publication: Publication, name: str, file: Path) -> Folder:
    """The files of a recipe.

    Raises:
        Refused: one may not be read.
    """
    bench, facts, labels = publication.bench(file), publication.facts(file), publication.labels(file)
    on_the_bench = bench and not os.path.lexists(file)
    recipe = None if on_the_bench else (publication.read(file), publication.shown(file))
    return Folder(name=name, recipe=recipe, bench=bench, facts=facts, labels=labels)


def _one(publication: Publication, house: House, name: str, file: Path, *, noted: bool) -> Checked:
    try:
        folder = _folder(publication, name, file)
    except Refused as refused:
        return Checked(findings=(refused.finding(),), sources={})
    from cardsmith.flow import prepare  # noqa: PLC0415 - all stages, which notes of last time can spare
    from cardsmith.measure.larder import load_larder  # noqa: PLC0415

    larder = load_larder(house.reference)
    digest = folder.digest if noted else ""
    if folder.recipe is None:
        return Checked(findings=_on_the_bench(folder, larder), sources=folder.sources, digest=digest)
    text, shown = folder.recipe
    prepared = prepare(name, text, shown, larder, house, folder.bench)
    return Checked(
        findings=(*prepared.findings, *_beside(prepared.recipe, folder.facts, folder.labels, larder)),
        silenced=prepared.silenced,
        sources=folder.sources,
        titled=_titled(prepared.recipe, shown),
        digest=digest,
    )


def _kept(name: str, checked: Checked) -> Kept:
    """What to note of a recipe."""
    from cardsmith.engine.freshness.manifest import Kept, plain_answers, plain_finding  # noqa: PLC0415

    title = checked.titled
    return Kept(
        name=name,
        records={"": [plain_finding(finding) for finding in checked.findings]},
        answered=plain_answers(checked.silenced),
        entry={"title": title.title, "file": title.file, "answered": title.answered} if title else None,
    )


def _recalled(kept: Kept, folder: Folder) -> Checked:
    """What was noted of a recipe whose files are as they were."""
    from cardsmith.engine.freshness.manifest import answers_from  # noqa: PLC0415

    return Checked(
        findings=kept.findings(),
        silenced=answers_from(kept),
        sources=folder.sources,
        titled=Titled(**kept.entry) if kept.entry else None,
    )


def _titled(recipe: Recipe | None, shown: str) -> Titled | None:
    return Titled(title=recipe.title, file=shown, answered=answers(recipe)) if recipe else None


def _beside(
    recipe: Recipe | None, facts: File | None, labels: File | None, larder: Larder
) -> tuple[Finding, ...]:
    """What is wrong with the files beside a recipe that its card does not rest on."""
    findings: tuple[Finding, ...] = ()
    if facts and recipe:
        from cardsmith.portion.portion_file import read_facts  # noqa: PLC0415 - most recipes have none

        findings += read_facts(*facts, recipe.ingredients, larder)[1]
    if labels:
        from cardsmith.portion.teardown.load import read_teardown  # noqa: PLC0415

        findings += read_teardown(*labels, larder)[1]
    return findings


def _on_the_bench(folder: Folder, larder: Larder) -> tuple[Finding, ...]:
    """What is wrong with the trials of a dish that has no recipe yet."""
    from cardsmith.bench.file.load import read_trials  # noqa: PLC0415

    return read_trials(folder.name, *folder.bench, larder)[1] if folder.bench else ()


def check_prices(publication: Publication, tables: Tables, notes: Notes | None = None) -> Checked:
    """What is wrong with the publication's price list."""
    try:
        listed = publication.prices()
    except Refused as refused:
        return Checked(findings=(refused.finding(),), sources={})
    if listed is None:
        return Checked(findings=(), sources={})
    folder = Folder(name=_PRICES, recipe=listed)
    if notes and (kept := notes.known(_PRICES, folder.digest)):
        return _recalled(kept, folder)
    from cardsmith.measure.larder import load_larder  # noqa: PLC0415
    from cardsmith.portion.prices import read_prices  # noqa: PLC0415

    checked = Checked(findings=read_prices(*listed, load_larder(tables))[1], sources=folder.sources)
    if notes:
        notes.note(_kept(_PRICES, checked), folder.digest)
        notes.save()
    return checked


def _text(data: bytes) -> str:
    return data.decode("utf-8", errors="replace")
