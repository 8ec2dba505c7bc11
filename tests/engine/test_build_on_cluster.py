"""A build by a cluster's workers: a scheduler and two workers, processes of their own on this machine."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from cardsmith.engine.build import Building, makers
from cardsmith.engine.built import Built
from cardsmith.engine.machine.cluster import cluster
from cardsmith.engine.machine.output import held
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication, named_files
from tests.demo import copy_templates

pytest.importorskip("distributed", reason="an extra")
ROOT = Path(__file__).parents[2]
NAMES = ("lemon-curd", "mustard-dressing", "white-bean-salad")
STARTED = re.compile(r"Scheduler at: +tcp://(127\.0\.0\.1:\d+)|(Registered) to:")


@dataclass
class Machines:
    """A scheduler and its workers."""

    address: str
    scheduler: subprocess.Popen[str]
    workers: list[subprocess.Popen[str]]


def started(folder: Path, *words: str) -> tuple[subprocess.Popen[str], str]:
    """A process of Dask's, and its address if it is a scheduler, as soon as it is ready."""
    environment = os.environ | {"PYTHONPATH": os.pathsep.join([str(ROOT), *filter(None, sys.path)])}
    process = subprocess.Popen(
        [sys.executable, "-m", f"distributed.cli.dask_{words[0]}", *words[1:], "--no-dashboard"],
        cwd=folder,
        env=environment,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stderr
    for line in process.stderr:
        if found := STARTED.search(line):
            return process, found[1] or ""
    raise AssertionError(f"{words} ended with {process.wait()}")


@pytest.fixture(scope="module")
def machines(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Machines]:
    folder = tmp_path_factory.mktemp("machines")
    scheduler, address = started(folder, "scheduler", "--host", "127.0.0.1", "--port", "0", "--no-show")
    found = Machines(address, scheduler, [])
    try:
        for number in "ab":
            own = ("--nthreads", "1", "--no-nanny", "--local-directory", str(folder / number))
            found.workers.append(started(folder, "worker", address, *own)[0])
        yield found
    finally:
        for process in (*found.workers, scheduler):
            process.kill()
            process.communicate()


def kitchen(root: Path, *names: str) -> Publication:
    copy_templates(root / "templates")
    for name in names:
        shutil.copytree(ROOT / "recipes" / name, root / "recipes" / name)
    return Publication(root=root)


def building(publication: Publication, address: str = "") -> Iterator[Built]:
    """Each recipe as it is made; what the recipes have in common is made at the end."""
    found = []
    with held(publication.build, lambda: None):
        made = Building(publication)
        with makers(made, 1, address) as (start, workers):
            for one in made.build(named_files(publication, ()), start, workers, ("page",)):
                found.append(one)
                yield one
        made.finish(found, whole=True)


def files(publication: Publication) -> dict[str, bytes]:
    found = (file for file in publication.build.rglob("*") if file.is_file())
    told = {str(one.relative_to(publication.build)): one.read_bytes() for one in found}
    return {path: data for path, data in told.items() if not path.startswith(".cache")}


def test_a_worker_that_dies_costs_no_card_and_no_byte(tmp_path: Path, machines: Machines) -> None:
    """Pages, for paper takes longer: what is made of it elsewhere is told by `products/test_away`."""
    here, there = kitchen(tmp_path / "here", *NAMES), kitchen(tmp_path / "there", *NAMES)
    for one in building(there, machines.address):
        assert one.fault is None
        machines.workers[0].kill()  # as the first is finished: by now it is at work on another
    list(building(here))
    assert files(there) == files(here)
    assert not any(one.why for one in building(there))  # how a file looks was noted of those here


def test_a_worker_that_is_not_as_we_are_is_named(machines: Machines) -> None:
    """Each process tells another version here."""
    of_itself = lambda: {"library/weasyprint": f"70.{os.getpid()}"}  # noqa: E731 - sent to workers as it is
    said = rf"weasyprint is 70\.\d+ on a worker, 70\.{os.getpid()} here \(tcp://127"
    with pytest.raises(CardsmithError, match=said), cluster(machines.address, of_itself, b""):
        pass


def test_a_scheduler_that_is_gone_ends_the_build(tmp_path: Path, machines: Machines) -> None:
    publication = kitchen(tmp_path, *NAMES)
    made = building(publication, machines.address)
    next(made)
    machines.scheduler.kill()
    with pytest.raises(CardsmithError, match="answers no more; what was finished is whole"):
        list(made)
    assert any(one.why == () for one in building(publication))
