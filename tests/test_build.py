"""Building again: nothing torn by a kill or a full disk, builds in turn, the same bytes anywhere."""

from __future__ import annotations

import json
import os
import random
import shutil
import signal
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardsmith import build as engine
from cardsmith import job
from cardsmith.build import Building, Built
from cardsmith.finding import CardsmithError
from cardsmith.output import held
from cardsmith.pool import InProcess
from cardsmith.publication import Publication, named_files

ROOT = Path(__file__).parents[1]
NAMES = ("lemon-curd", "mustard-dressing", "white-bean-salad")
KILLS = 50


@pytest.fixture(autouse=True)
def same_code(monkeypatch: pytest.MonkeyPatch) -> None:
    """The code's digest stands still, whoever edits it meanwhile; pages only, since type is slow to set."""
    real = engine.grounds
    monkeypatch.setattr(engine, "grounds", lambda *given: real(*given) | {"cardsmith": "as it is"})
    monkeypatch.setattr(job, "PRODUCTS", tuple(one for one in job.PRODUCTS if one.name == "page"))


@pytest.fixture
def publication(tmp_path: Path) -> Publication:
    return copied(tmp_path / "kitchen")


def copied(root: Path) -> Publication:
    """A publication of a few recipes of the demo."""
    shutil.copytree(ROOT / "templates", root / "templates")
    for name in NAMES:
        shutil.copytree(ROOT / "recipes" / name, root / "recipes" / name)
    return Publication(root=root)


def built(publication: Publication, *names: str) -> dict[str, Built]:
    with held(publication.build, lambda: None):
        building = Building(publication)
        found = list(building.build(named_files(publication, names), lambda jobs: InProcess(), 1))
        building.finish(found, whole=not names)
    return {one.name: one for one in found}


def files(publication: Publication) -> dict[str, bytes]:
    """Everything in build/ but what a machine keeps for itself."""
    found = (file for file in publication.build.rglob("*") if file.is_file())
    return {
        file.relative_to(publication.build).as_posix(): file.read_bytes()
        for file in found
        if ".cache" not in file.parts
    }


def made(found: dict[str, Built]) -> set[str]:
    return {name for name, one in found.items() if one.made}


def test_a_second_build_makes_nothing_and_touches_nothing(publication: Publication) -> None:
    assert made(built(publication)) == set(NAMES)
    before = {file: file.stat().st_mtime_ns for file in publication.build.rglob("*.html")}
    assert all(not one.why for one in built(publication).values())
    assert before == {file: file.stat().st_mtime_ns for file in publication.build.rglob("*.html")}


def edited(publication: Publication) -> None:
    file = publication.file("lemon-curd")
    file.write_text(file.read_text("utf-8").replace("title: ", "title: Sharp ", 1), "utf-8")


def test_the_report_tells_of_the_whole_publication_whichever_recipes_were_named(
    publication: Publication,
) -> None:
    for name in NAMES:  # a finding in each, so that none is missed for want of one
        file = publication.file(name)
        file.write_text(file.read_text("utf-8") + "\nno_such_key: 1\n", "utf-8")
    built(publication)
    edited(publication)
    built(publication, "lemon-curd")
    partly = files(publication)
    told = [one["file"] for one in json.loads(partly["report.json"])["findings"]]
    assert set(told) >= {f"recipes/{name}/recipe.yaml" for name in NAMES}
    built(publication)
    assert files(publication) == partly
    shutil.rmtree(publication.build)
    built(publication)
    assert files(publication) == partly


def test_a_damaged_manifest_costs_a_build_and_nothing_else(publication: Publication) -> None:
    built(publication)
    before = files(publication)
    (publication.build / ".cache/manifest").write_bytes(b"\x00\xff broken")
    assert made(built(publication)) == set(NAMES)
    assert files(publication) == before


def test_one_card_that_cannot_be_made_stops_no_other(
    publication: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = job.make

    def faulty(one: job.Job) -> job.Made:
        if one.name == "lemon-curd":
            raise RuntimeError("a fault of ours")
        return real(one)

    monkeypatch.setattr(job, "make", faulty)
    found = built(publication)
    assert made(found) == set(NAMES) - {"lemon-curd"}
    assert [one.name for one in found["lemon-curd"].findings] == ["build-failed"]
    monkeypatch.setattr(job, "make", real)
    assert made(built(publication)) == {"lemon-curd"}


def test_two_clones_give_the_same_bytes(tmp_path: Path) -> None:
    one, other = copied(tmp_path / "here"), copied(tmp_path / "a folder elsewhere")
    built(one)
    built(other)
    assert files(one) == files(other)


def in_child(publication: Publication) -> int:
    """A build in a process of its own; its number. It has all of this one's imports already."""
    child = os.fork()
    if not child:
        try:
            built(publication)
        finally:
            os._exit(0)
    return child


def moments() -> Iterator[float]:
    chance = random.Random(8)
    return (chance.random() for _ in range(KILLS))


def test_a_killed_build_leaves_whole_files_and_the_next_one_mends_it(publication: Publication) -> None:
    began = time.monotonic()
    built(publication)
    took = time.monotonic() - began
    clean = files(publication)
    for number, moment in enumerate(moments()):
        if number % 5 == 0:
            shutil.rmtree(publication.build)
        else:  # a card of every other one is to be made again
            shutil.rmtree(publication.build / "cards" / NAMES[number % 3], ignore_errors=True)
        child = in_child(publication)
        time.sleep(moment * took)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        torn = {path for path, data in files(publication).items() if clean.get(path) != data}
        assert not torn - {"report.json", "report.sarif"}
        built(publication)
        assert files(publication) == clean
        assert not list((publication.build / ".cache/tmp").iterdir())


def test_a_second_build_waits_for_the_first(publication: Publication) -> None:
    with held(publication.build, lambda: None):
        child = os.fork()
        if not child:
            try:
                with held(publication.build, lambda: os._exit(7)):
                    os._exit(0)
            finally:
                os._exit(1)
        assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 7


def test_a_full_disk_is_said_and_nothing_is_torn(
    publication: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    built(publication)
    clean = files(publication)
    edited(publication)

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        with pytest.raises(CardsmithError, match="No space left"):
            built(publication)
    assert files(publication) == clean
    assert made(built(publication)) == {"lemon-curd"}
