"""The files of a card change together: whatever stops a build, nothing old stands beside anything new."""

from __future__ import annotations

import errno
import os
import shutil
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from cardsmith.commands.main import main
from cardsmith.commands.terminal import FINE
from cardsmith.engine import build as engine
from cardsmith.engine.build import Building
from cardsmith.engine.freshness.fingerprint import fingerprint
from cardsmith.engine.machine.output import held
from cardsmith.engine.machine.pool import InProcess
from cardsmith.engine.products import job
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication, named_files
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
NAMES = ("lemon-curd",)
EACH = pytest.mark.nightly  # at each call of the system, not at some
REPORTS = {"report.json", "report.sarif"}
Files = dict[str, bytes]


def _written(material: job.Material, tools: job.Tools, grounds: str) -> job.Produced:
    """Instead of type, which is slow to set: what it would rest on, for each of two printers."""
    paper = next(one for one in job.PRODUCTS if one.name == "paper")
    said = fingerprint(paper.rests_on(material), grounds).encode()
    return job.Produced(files={f"cards/{material.name}/{kind}.pdf": said for kind in ("press", "screen")})


@pytest.fixture(autouse=True, scope="module")
def quick() -> Iterator[None]:
    """No type is set, and what is made of one text is made once: what is tested is how it is written."""
    real, make = engine.grounds, job.make
    page, paper = job.PRODUCTS
    made: dict[tuple[object, ...], job.Made] = {}

    def once(one: job.Job) -> job.Made:
        key = (one.file, one.file.read_bytes(), *sorted(one.known.items()))
        if key not in made:
            made[key] = make(one)
        return made[key]

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(engine, "grounds", lambda *given: real(*given) | {"cardsmith": "as it is"})
        patched.setattr(job, "PRODUCTS", (page, replace(paper, make=_written)))
        patched.setattr(job, "make", once)
        yield


def _begun(root: Path) -> Publication:
    copy_templates(root / "templates")
    for name in NAMES:
        shutil.copytree(ROOT / "recipes" / name, root / "recipes" / name)
    return Publication(root=root)


@pytest.fixture
def publication(tmp_path: Path) -> Publication:
    return _begun(tmp_path / "kitchen")


def build(publication: Publication) -> None:
    with held(publication.build, lambda: None):
        building = Building(publication)
        found = list(building.build(named_files(publication, ()), lambda jobs: InProcess(), 1))
        building.finish(found, whole=True)


def files(publication: Publication) -> Files:
    """Everything in build/ but the reports and what a machine keeps for itself."""
    found = {file.relative_to(publication.build).as_posix(): file for file in publication.build.rglob("*")}
    wanted = {path: file for path, file in found.items() if file.is_file() and not path.startswith(".cache/")}
    return {path: file.read_bytes() for path, file in wanted.items() if path not in REPORTS}


def edit(publication: Publication) -> None:
    """Another amount of a safety's weight, and another title, which the collection shows."""
    file = publication.file(NAMES[0])
    text = file.read_text("utf-8")
    assert "⅛ tsp fine salt" in text
    file.write_text(
        text.replace("⅛ tsp fine salt", "¼ tsp fine salt").replace("title: ", "title: Salt "), "utf-8"
    )


def mixed(now: Files, old: Files, new: Files) -> bool:
    """Whether something of the old card, or told of it, stands beside something of the new."""
    of_old = {path for path, data in now.items() if old.get(path) == data != new.get(path)}
    of_new = {path for path, data in now.items() if new.get(path) == data != old.get(path)}
    assert all(data in (old.get(path), new.get(path)) for path, data in now.items()), "a torn file"
    return bool(of_old and of_new)


@pytest.fixture(scope="module")
def versions(tmp_path_factory: pytest.TempPathFactory) -> tuple[Publication, Files, Files]:
    """An edited publication, and what a build of it leaves before the edit and after it."""
    publication = _begun(tmp_path_factory.mktemp("versions") / "kitchen")
    build(publication)
    old = files(publication)
    shutil.copytree(publication.build, publication.root / "before")
    edit(publication)
    build(publication)
    new = files(publication)
    changed = {path for path in old if old[path] != new[path]}
    assert {"cards/lemon-curd/press.pdf", "cards/lemon-curd/lemon-curd.html", "site/index.html"} <= changed
    return publication, old, new


def as_before(publication: Publication) -> None:
    """Put in build/ what the build before the edit left."""
    shutil.rmtree(publication.build)
    shutil.copytree(publication.root / "before", publication.build)


@contextmanager
def failing(name: str, number: int, fault: int) -> Iterator[list[int]]:
    """A call of the system that fails from the ``number``\\ th on, as on a disk that is full or broken."""
    real, calls = getattr(os, name), [0]

    def called(*given: Any, **named: Any) -> Any:
        calls[0] += 1
        if calls[0] > number:
            raise OSError(fault, os.strerror(fault))
        return real(*given, **named)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(os, name, called)
        yield calls


@pytest.mark.parametrize(
    ("call", "fault"),
    [("fsync", errno.ENOSPC), ("replace", errno.EIO), ("unlink", errno.EIO), ("mkdir", errno.ENOSPC)],
)
@pytest.mark.parametrize("stride", [13, pytest.param(1, marks=EACH)])
def test_where_a_disk_fails_all_is_old_or_all_is_new(
    call: str, fault: int, stride: int, versions: tuple[Publication, Files, Files]
) -> None:
    publication, old, new = versions
    for number in range(0, 200, stride):
        as_before(publication)
        with failing(call, number, fault) as calls:
            try:
                build(publication)
            except CardsmithError:
                pass
            else:
                if calls[0] <= number:
                    break
        assert not mixed(files(publication), old, new), number
    assert number > 5
    assert files(publication) == new


def _killed_after(calls: int, work: Callable[[Callable[[], None]], object]) -> int:
    """Do it in a process of its own, ended after so many calls of the system from when it says so."""
    child = os.fork()
    if not child:
        count = iter(range(calls))
        watched = {"fsync", "unlink", "replace", "mkdir", "link", "rmdir"}

        def seen(frame: object, event: str, called: Any) -> None:
            if event == "c_call" and called.__name__ in watched and next(count, None) is None:
                os.kill(os.getpid(), signal.SIGKILL)

        try:
            work(lambda: sys.setprofile(seen))
        finally:
            os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def _watched(publication: Publication, begin: Callable[[], None]) -> None:
    begin()
    build(publication)


@pytest.mark.parametrize("stride", [43, pytest.param(1, marks=EACH)])
def test_killed_at_any_call_of_the_system_all_is_old_or_all_is_new(
    stride: int, versions: tuple[Publication, Files, Files]
) -> None:
    publication, old, new = versions
    ended, number = -signal.SIGKILL, 0
    while ended:
        as_before(publication)
        ended = _killed_after(number, partial(_watched, publication))
        assert not mixed(files(publication), old, new), number
        if number % 4 == 0:
            build(publication)
            assert files(publication) == new
            assert not list((publication.build / ".cache/tmp").iterdir())
        number += stride
    assert number > 200


def test_a_proof_killed_while_it_is_issued_is_kept_or_is_not_and_shows_what_is_kept(
    publication: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    from cardsmith.engine.products import proofing  # noqa: PLC0415 - the typesetter
    from cardsmith.proof.account import Account  # noqa: PLC0415

    monkeypatch.chdir(publication.root)
    folder = publication.file(NAMES[0]).parent
    shutil.rmtree(folder / "proofs")
    paper = publication.build / f"cards/{NAMES[0]}/{NAMES[0]}-proof.pdf"
    issue = ["proof", NAMES[0], "--issue", "--date", "2026-06-02"]

    def set_type(told: Account, begin: Callable[[], None]) -> tuple[bytes, tuple[()]]:
        begin()  # all that is slow is done by now, and nothing is written yet
        return b"%d" % (told.issued.number if told.issued else 0), ()

    def issued(begin: Callable[[], None]) -> int:
        monkeypatch.setattr(proofing, "proof_of", lambda desk, told: set_type(told, begin))
        return main(issue)

    assert issued(lambda: None) == FINE
    assert paper.read_bytes() == b"1"
    edit(publication)
    seen, ended, number = set(), -signal.SIGKILL, 0
    while ended:
        ended = _killed_after(number, issued)
        kept = tuple(sorted(file.name for file in folder.glob("proofs/[0-9]*")))
        shown = paper.read_bytes() if paper.is_file() else b""
        seen.add((kept, shown))
        (folder / "proofs/02.json").unlink(missing_ok=True)
        paper.write_bytes(b"1")
        number += 1
    both = ("01.json", "02.json")
    assert seen == {(("01.json",), b"1"), (("01.json",), b""), (both, b""), (both, b"2")}
