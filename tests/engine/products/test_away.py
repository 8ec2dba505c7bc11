"""A recipe made of what was sent alone: the same to the byte, and none of its folders is read."""

from __future__ import annotations

import pickle
import shutil
import sys
from concurrent.futures import Future
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from cardsmith.engine.freshness.inputs import SCOPES
from cardsmith.engine.machine import cluster as machine
from cardsmith.engine.machine.pool import Halted
from cardsmith.engine.products import away
from cardsmith.engine.products.job import Job, Made, make
from cardsmith.files.reading import Stamp
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication
from tests.demo import copy_templates

ROOT = Path(__file__).parents[3]
NAME = "mustard-dressing"
DAY, SECOND = "2026-04-02", "1775088000"  # the same, as the environment tells it


@pytest.fixture
def publication(tmp_path: Path) -> Publication:
    root = tmp_path / "kitchen"
    copy_templates(root / "templates")
    shutil.copytree(ROOT / "recipes" / NAME, root / "recipes" / NAME)
    return Publication(root=root)


def job_of(publication: Publication, *wanted: str) -> Job:
    return Job(
        name=NAME,
        file=publication.file(NAME),
        root=publication.root,
        house=publication.house(),
        grounds=dict.fromkeys(SCOPES, ""),
        wanted=wanted,
        day=DAY,
    )


class Elsewhere:
    """In a cluster's place: does each job where the publication is not, and counts them."""

    def __init__(self, publication: Publication, common: bytes, place: Path) -> None:
        self._root, self._common, self._place, self.asked = publication.root, common, place, 0

    def do(self, work: machine.Work, parcel: bytes) -> Future[bytes]:
        self.asked += 1
        done: Future[bytes] = Future()
        hidden = self._root.rename(self._root.with_name("hidden"))
        try:
            done.set_result(work(self._common, parcel, self._place))
        finally:
            hidden.rename(self._root)
        return done


def made_elsewhere(publication: Publication, place: Path, *wanted: str) -> tuple[Made, int]:
    job = job_of(publication, *wanted)
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv("SOURCE_DATE_EPOCH", SECOND)  # of this machine; a worker has none
        common = away.common_of(publication, job.house, job.grounds)
    elsewhere: Any = Elsewhere(publication, common, place)
    return away.Away(elsewhere).submit(make, job).result(), elsewhere.asked


def plain(made: Made) -> Made:
    """What was made; of each file read the digest alone, as a stamp has it right after an edit."""
    return replace(made, reads={name: Stamp(digest=one.digest) for name, one in made.reads.items()})


def test_what_was_sent_is_all_there_is_to_a_recipe(publication: Publication, tmp_path: Path) -> None:
    made, asked = made_elsewhere(publication, tmp_path / "worker")
    assert f"cards/{NAME}/{NAME}-press.pdf" in made.produced["paper"].files
    # Its files, keys and findings, and how each file read looks here.
    assert plain(made) == plain(make(job_of(publication)))
    assert f"recipes/{NAME}/{NAME}.svg" in made.reads
    assert asked == 1


def test_a_file_that_nobody_thought_of_is_asked_for(publication: Publication, tmp_path: Path) -> None:
    folder = publication.file(NAME).parent
    (folder / "drawn").mkdir()
    (folder / f"{NAME}.svg").rename(folder / "drawn" / "dressing.svg")
    text = publication.file(NAME).read_text("utf-8")
    assert f"{NAME}.svg" in text
    publication.file(NAME).write_text(text.replace(f"{NAME}.svg", "drawn/dressing.svg"), "utf-8")
    made, asked = made_elsewhere(publication, tmp_path / "worker", "page")
    assert plain(made) == plain(make(job_of(publication, "page")))
    assert asked == 2


def test_a_link_that_leads_out_is_refused_as_it_is_here(publication: Publication, tmp_path: Path) -> None:
    file = publication.file(NAME).with_name("trials.yaml")
    file.symlink_to(ROOT / "recipes" / "seeded-crackers" / "trials.yaml")
    made, _ = made_elsewhere(publication, tmp_path / "worker")
    assert [one.name for one in made.findings] == ["file-refused"]
    assert plain(made) == plain(make(job_of(publication)))


def test_a_worker_that_came_later_and_differs_makes_nothing(
    publication: Publication, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = job_of(publication)
    common = away.common_of(publication, job.house, job.grounds)
    monkeypatch.setattr(away, "versions", lambda: {**pickle.loads(common).versions, "cardsmith": "another"})
    with pytest.raises(Halted, match="the code of cardsmith on a worker is not what it is here"):
        away.made_away(common, b"", tmp_path)


def test_differences_are_told_once_for_all_workers_that_have_them() -> None:
    here = {"cardsmith": "1", "reference/units.csv": "2", "library/pint": "0.25", "library/python": "3.11"}
    there = {
        "tcp://a": here,
        "tcp://b": here | {"library/pint": "0.24", "reference/units.csv": "3"},
        "tcp://c": {name: each for name, each in here.items() if name != "library/python"}
        | {"library/pint": "0.24"},
    }
    assert machine.differences(here, there) == (
        "pint is 0.24 on a worker, 0.25 here (tcp://b, tcp://c)",
        "reference/units.csv on a worker is not what it is here (tcp://b)",
        "python is missing on a worker, 3.11 here (tcp://c)",
    )


def test_what_to_install_is_said_where_dask_is_not(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(CardsmithError, match=r"lacks distributed: pip install 'cardsmith\[cluster\]'"):
        machine.cluster("127.0.0.1:1", dict, b"").__enter__()


def test_where_no_scheduler_answers_that_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("distributed", reason="an extra")
    monkeypatch.setattr(machine, "PROMPT", 0.3)
    for address in ("127.0.0.1:1", "nowhere"):
        with pytest.raises(CardsmithError, match=f"no Dask scheduler answers at {address}"):
            machine.cluster(address, dict, b"").__enter__()
