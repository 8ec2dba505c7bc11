"""Many recipes checked, in the order of their files: a few in this process, more in one a processor.

The others start as this process is after the first few: with tables read and patterns compiled.
"""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Iterator, Mapping
from functools import partial
from pathlib import Path

from cardsmith.check.shared_titles import Titled, answers
from cardsmith.files.reading import Refused
from cardsmith.finding import Finding
from cardsmith.flow import prepare
from cardsmith.frozen import frozen
from cardsmith.house.publication import Publication
from cardsmith.house.style import House
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.recipe.model import Accepted, Recipe

FEW = 4  # recipes after which nearly all is loaded that any needs
AT_A_TIME = 16  # recipes that a process is given: little enough that all end at about the same time


@frozen
class Checked:
    """The findings about one recipe, and the texts of the files they are about, by their displayed names."""

    findings: tuple[Finding, ...]
    silenced: tuple[tuple[Finding, Accepted], ...] = ()
    sources: Mapping[str, str]
    titled: Titled | None = None  # None where there is no recipe


Files = tuple[tuple[str, Path], ...]


def check_files(
    publication: Publication, files: Mapping[str, Path], house: House, workers: int | None = None
) -> Iterator[Checked]:
    """Every recipe of ``files`` (its name and file) checked, in their order, by one process a processor.

    Raises:
        Exception: whatever checking one of them raises; it is our defect.
    """
    work = partial(_checked, publication, house)
    workers = workers or os.cpu_count() or 1
    listed = tuple(files.items())
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


def _checked(publication: Publication, house: House, files: Files) -> tuple[Checked, ...]:
    return tuple(_one(publication, house, name, file) for name, file in files)


def _one(publication: Publication, house: House, name: str, file: Path) -> Checked:
    shown = publication.shown(file)
    try:
        bench, facts, labels = publication.bench(file), publication.facts(file), publication.labels(file)
        if bench and not os.path.lexists(file):
            return _on_the_bench(name, bench, load_larder(house.reference))
        text = publication.read(file)
    except Refused as refused:
        return Checked(findings=(refused.finding(),), sources={})
    larder = load_larder(house.reference)
    prepared = prepare(name, text, shown, larder, house, bench)
    beside = _beside(prepared.recipe, facts, labels, larder)
    told = {place: _text(data) for data, place in filter(None, (bench, facts, labels))}
    return Checked(
        findings=(*prepared.findings, *beside),
        silenced=prepared.silenced,
        sources={shown: prepared.source, **told},
        titled=_titled(prepared.recipe, shown),
    )


def _titled(recipe: Recipe | None, shown: str) -> Titled | None:
    return Titled(title=recipe.title, file=shown, answered=answers(recipe)) if recipe else None


File = tuple[bytes, str]  # what is in it, and its name for messages


def _beside(
    recipe: Recipe | None, facts: File | None, labels: File | None, larder: Larder
) -> tuple[Finding, ...]:
    """What is wrong with the files beside a recipe that its card does not rest on."""
    found: tuple[Finding, ...] = ()
    if facts and recipe:
        from cardsmith.portion.portion_file import read_facts  # noqa: PLC0415 - most recipes have none

        found += read_facts(*facts, recipe.ingredients, larder)[1]
    if labels:
        from cardsmith.portion.teardown.load import read_teardown  # noqa: PLC0415

        found += read_teardown(*labels, larder)[1]
    return found


def _on_the_bench(name: str, bench: File, larder: Larder) -> Checked:
    """The trials of a dish that has no recipe yet."""
    from cardsmith.bench.file.load import read_trials  # noqa: PLC0415

    _, found = read_trials(name, *bench, larder)
    return Checked(findings=found, sources={bench[1]: _text(bench[0])})


def check_prices(publication: Publication, larder: Larder) -> Checked:
    """What is wrong with the publication's price list."""
    from cardsmith.portion.prices import read_prices  # noqa: PLC0415

    try:
        listed = publication.prices()
    except Refused as refused:
        return Checked(findings=(refused.finding(),), sources={})
    if listed is None:
        return Checked(findings=(), sources={})
    return Checked(findings=read_prices(*listed, larder)[1], sources={listed[1]: _text(listed[0])})


def _text(data: bytes) -> str:
    return data.decode("utf-8", errors="replace")
