"""Whole files only: builds killed at any moment, two at once, a full disk, a folder that can't be written."""

from __future__ import annotations

import multiprocessing
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from cardsmith.engine import build as engine
from cardsmith.engine.build import Building, Built
from cardsmith.engine.machine.output import held
from cardsmith.engine.machine.pool import InProcess, _as_worker
from cardsmith.engine.products import job
from cardsmith.files.writing import OutputFolder
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication, named_files
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
NAMES = ("lemon-curd", "mustard-dressing", "white-bean-salad")
# At how many moments a build is killed: at some, and in the long look at many.
KILLS = pytest.mark.parametrize("kills", [12, pytest.param(40, marks=pytest.mark.nightly)])
WITH_PAPER = pytest.mark.parametrize("kills", [4, pytest.param(10, marks=pytest.mark.nightly)])
PATIENCE = 60  # seconds until what was told to end has surely ended
REFUSED = 7
PRODUCTS = job.PRODUCTS
PAGES = tuple(one for one in PRODUCTS if one.name == "page")


@pytest.fixture(autouse=True)
def same_code(monkeypatch: pytest.MonkeyPatch) -> None:
    """The code's digest stands still, whoever edits it meanwhile; pages only, since type is slow to set."""
    real = engine.grounds
    monkeypatch.setattr(engine, "grounds", lambda *given: real(*given) | {"cardsmith": "as it is"})
    monkeypatch.setattr(job, "PRODUCTS", PAGES)


@pytest.fixture
def publication(tmp_path: Path) -> Publication:
    """A few recipes of the demo."""
    root = tmp_path / "kitchen"
    copy_templates(root / "templates")
    for name in NAMES:
        shutil.copytree(ROOT / "recipes" / name, root / "recipes" / name)
    return Publication(root=root)


def workers() -> Executor:
    """Two that have all of this process's imports, and its typesetter."""
    context = multiprocessing.get_context("fork")
    return ProcessPoolExecutor(2, mp_context=context, initializer=_as_worker, initargs=((300_000, 10, 10),))


def built(publication: Publication, start: Callable[[], Executor] = InProcess) -> dict[str, Built]:
    with held(publication.build, lambda: None):
        building = Building(publication)
        found = list(building.build(named_files(publication, ()), lambda jobs: start(), 2))
        building.finish(found, whole=True)
    return {one.name: one for one in found}


def files(publication: Publication) -> dict[str, bytes]:
    """Everything in build/ but what a machine keeps for itself."""
    found = (file for file in publication.build.rglob("*") if file.is_file())
    return {
        file.relative_to(publication.build).as_posix(): file.read_bytes()
        for file in found
        if ".cache" not in file.parts
    }


def torn(publication: Publication, clean: dict[str, bytes]) -> set[str]:
    """Files that are not as a clean build has them; of a report there may be an earlier one."""
    found = {path for path, data in files(publication).items() if clean.get(path) != data}
    return found - {"report.json", "report.sarif"}


def in_child(work: Callable[[], object]) -> int:
    """Do it in a process of its own, at the head of a session; its number. Refused, it ends on `REFUSED`."""
    child = os.fork()
    if not child:
        code = 1
        try:
            os.setsid()
            work()
            code = 0
        except CardsmithError:
            code = REFUSED
        finally:
            os._exit(code)
    return child


def ended(child: int) -> int:
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def at_work(session: int) -> bool:
    """Whether a process of the session has not ended."""
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, _, _, of = stat.read_text().rpartition(") ")[2].split()[:4]
        except (OSError, ValueError):
            continue
        if int(of) == session and state not in "ZX":
            return True
    return False


def wait_for_the_end_of(session: int) -> None:
    until = time.monotonic() + PATIENCE
    while at_work(session) and time.monotonic() < until:
        time.sleep(0.01)
    assert not at_work(session), "a worker stayed behind"


def spoil(publication: Publication, number: int) -> None:
    """Give the next build something to do: all, or one card."""
    if number % 5 == 0:
        shutil.rmtree(publication.build)
    else:
        shutil.rmtree(publication.build / "cards" / NAMES[number % 3], ignore_errors=True)


def killed_in_a_write(publication: Publication, number: int) -> None:
    """Build, and be killed after so many calls of the system made in writing files."""
    real, calls = OutputFolder.replace, iter(range(number))

    def count(frame: object, event: str, argument: object) -> None:
        if event == "c_return" and next(calls, None) is None:
            os.kill(os.getpid(), signal.SIGKILL)

    def watched(*given: Any) -> Any:
        sys.setprofile(count)
        try:
            return real(*given)
        finally:
            sys.setprofile(None)

    OutputFolder.replace = watched  # type: ignore[method-assign]
    built(publication)


@KILLS
def test_a_killed_build_leaves_whole_files_and_the_next_one_mends_it(
    kills: int, publication: Publication
) -> None:
    began = time.monotonic()
    built(publication)
    took, clean, chance = time.monotonic() - began, files(publication), random.Random(8)
    for number in range(kills):
        spoil(publication, number)
        if number % 2:  # a file takes a moment to write, which is seldom met by chance
            ended(in_child(partial(killed_in_a_write, publication, chance.randrange(300))))
        else:
            child = in_child(lambda: built(publication))
            time.sleep(chance.random() * took)
            os.kill(child, signal.SIGKILL)
            ended(child)
        assert not torn(publication, clean)
        built(publication)
        assert files(publication) == clean
        assert not list((publication.build / ".cache/tmp").iterdir())


@WITH_PAPER
@pytest.mark.filterwarnings("ignore::DeprecationWarning")
def test_killed_with_its_workers_or_alone_it_leaves_whole_files_and_no_worker(
    kills: int, publication: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(job, "PRODUCTS", PRODUCTS)
    built(publication)
    clean, chance = files(publication), random.Random(9)
    assert sum(path.endswith(".pdf") for path in clean) == 2 * len(NAMES)
    for number in range(kills):
        spoil(publication, number)
        before = files(publication)
        child = in_child(lambda: built(publication, workers))
        time.sleep(chance.random())  # with its start, a card takes about half a second
        (os.killpg if number % 2 else os.kill)(child, signal.SIGKILL)
        ended(child)
        wait_for_the_end_of(child)
        assert not torn(publication, clean)
        assert before.keys() <= files(publication).keys()
        built(publication)
        assert files(publication) == clean
        assert not list((publication.build / ".cache/tmp").iterdir())


def test_of_two_builds_at_once_one_waits_for_the_other_and_has_nothing_to_do(
    publication: Publication,
) -> None:
    built(publication)
    clean = files(publication)
    shutil.rmtree(publication.build)
    noted = publication.root / "made"

    def note() -> None:
        made = sum(bool(one.made) for one in built(publication).values())
        with noted.open("a") as stream:
            stream.write(f"{made} ")

    children = [in_child(note) for _ in range(2)]
    assert [ended(child) for child in children] == [0, 0]
    assert sorted(noted.read_text().split()) == ["0", str(len(NAMES))]
    assert files(publication) == clean


def test_who_waits_for_a_build_that_is_killed_takes_its_place(publication: Publication) -> None:
    built(publication)
    clean = files(publication)
    shutil.rmtree(publication.build)
    first = in_child(lambda: built(publication))
    until = time.monotonic() + PATIENCE
    while not files(publication) and time.monotonic() < until:
        time.sleep(0.005)
    second = in_child(lambda: built(publication))
    os.kill(first, signal.SIGKILL)
    assert (ended(first), ended(second)) == (-signal.SIGKILL, 0)
    assert files(publication) == clean


def test_a_waiting_build_says_so(publication: Publication) -> None:
    with held(publication.build, lambda: None):
        child = os.fork()
        if not child:
            try:
                with held(publication.build, lambda: os._exit(7)):
                    os._exit(0)
            finally:
                os._exit(1)
        assert ended(child) == 7


@contextmanager
def disk(place: Path, size: str) -> Iterator[Callable[[str], None]]:
    """A small disk of its own at ``place``; what it gives mounts it otherwise."""

    def mount(*words: str) -> None:
        done = subprocess.run(
            [*root, "mount", *words, str(place)], capture_output=True, text=True, check=False
        )
        if done.returncode:
            pytest.skip(f"this machine lets nobody mount a disk: {done.stderr.strip()}")

    root = ["sudo", "-n"] if os.geteuid() else []
    if root and not shutil.which("sudo"):
        pytest.skip("only root may mount a disk")
    place.mkdir(parents=True)
    mount("-t", "tmpfs", "-o", f"size={size},uid={os.geteuid()}", "none")
    try:
        yield lambda options: mount("-o", f"remount,{options}")
    finally:
        subprocess.run([*root, "umount", "-l", str(place)], check=True)


@pytest.mark.parametrize("size", ["64k", "300k", "500k"])
def test_a_disk_that_is_full(publication: Publication, size: str) -> None:
    built(publication)
    clean = files(publication)
    shutil.rmtree(publication.build)
    with disk(publication.build, size) as mounted:
        with pytest.raises(CardsmithError, match=r"No space left.*make room on the disk.*what was finished"):
            built(publication)
        assert not torn(publication, clean)
        mounted("size=64m")
        built(publication)
        assert files(publication) == clean


def test_a_disk_that_can_only_be_read(publication: Publication) -> None:
    with disk(publication.build, "64m") as mounted:
        built(publication)
        clean = files(publication)
        file = publication.file(NAMES[0])
        file.write_text(file.read_text("utf-8").replace("title: ", "title: Sharp ", 1), "utf-8")
        mounted("ro")
        with pytest.raises(
            CardsmithError, match=r"cannot write .*Read-only file system.*copy the publication"
        ):
            built(publication)
        assert files(publication) == clean
        mounted("rw")
        assert {name for name, one in built(publication).items() if one.made} == {NAMES[0]}


def test_a_folder_that_somebody_else_owns(publication: Publication) -> None:
    """As one who may read everything and write nothing."""
    built(publication)
    clean = files(publication)
    for place in (publication.root, *publication.root.parents):
        if place.owner() != "root" or os.geteuid():
            break
        place.chmod(place.stat().st_mode | 0o055)
    if os.geteuid():
        for place in (publication.build / ".cache", *publication.build.rglob("*")):
            place.chmod(0o555)

    def as_nobody() -> None:
        if not os.geteuid():
            os.setgid(65534)
            os.setuid(65534)
        built(publication)

    assert ended(in_child(as_nobody)) == REFUSED
    assert files(publication) == clean


@pytest.mark.parametrize("most", [300, 20_000, 60_000])
def test_a_file_that_may_grow_no_further(publication: Publication, most: int) -> None:
    """A limit on the size of files stops a write in its midst, as a full disk does, on every machine."""
    built(publication)
    clean = files(publication)
    shutil.rmtree(publication.build)

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
        built(publication)

    assert ended(in_child(limited)) == REFUSED
    assert not torn(publication, clean)
    built(publication)
    assert files(publication) == clean


def test_a_full_disk_found_out_when_a_file_is_flushed(
    publication: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    built(publication)
    clean = files(publication)
    file = publication.file(NAMES[0])
    file.write_text(file.read_text("utf-8").replace("title: ", "title: Sharp ", 1), "utf-8")

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        with pytest.raises(CardsmithError, match="No space left"):
            built(publication)
    assert files(publication) == clean
    assert {name for name, one in built(publication).items() if one.made} == {NAMES[0]}
