"""Recipes checked by several processes are told as by one, in the order of their files."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from cardsmith.engine.checking import FEW, check_files, check_prices
from cardsmith.house.publication import Publication, named_files

ROOT = Path(__file__).parents[2]


def test_two_processes_tell_what_one_tells() -> None:
    publication = Publication(root=ROOT)
    files = named_files(publication, ())
    assert len(files) > FEW + 1  # so that there are two jobs
    alone, together = (list(check_files(publication, files, publication.house(), one)) for one in (1, 2))
    assert [next(iter(one.sources)) for one in together] == list(map(publication.shown, files.values()))
    assert together == alone


@pytest.mark.parametrize("count", [0, 1, FEW, FEW + 1, FEW + 2, FEW + 5])
def test_each_file_is_told_once_however_many_there_are(count: int) -> None:
    publication = Publication(root=ROOT)
    files = dict(list(named_files(publication, ()).items())[:count])
    told = [next(iter(one.sources)) for one in check_files(publication, files, publication.house(), 2)]
    assert told == list(map(publication.shown, files.values()))


def test_a_refused_file_is_a_finding_in_its_place(tmp_path: Path) -> None:
    for name in "ab":
        (tmp_path / "recipes" / name).mkdir(parents=True)
    shutil.copy(ROOT / "recipes/lemon-curd/recipe.yaml", tmp_path / "recipes/b/recipe.yaml")
    (tmp_path / "recipes/a/recipe.yaml").symlink_to("/etc/hostname")
    publication = Publication(root=tmp_path)
    refused, sound = check_files(publication, named_files(publication, ()), publication.house())
    assert [one.name for one in refused.findings] == ["file-refused"]
    assert list(sound.sources) == ["recipes/b/recipe.yaml"]


@pytest.mark.parametrize("name", ["portion.yaml", "teardown.yaml", "trials.yaml"])
def test_a_file_beside_a_recipe_is_read_with_it(name: str, tmp_path: Path) -> None:
    folder = tmp_path / "recipes/curd"
    folder.mkdir(parents=True)
    shutil.copy(ROOT / "recipes/lemon-curd/recipe.yaml", folder)
    (folder / name).write_text("nonsense: 1\n", encoding="utf-8")
    publication = Publication(root=tmp_path)
    (found,) = check_files(publication, named_files(publication, ()), publication.house())
    assert "unknown-key" in {one.name for one in found.findings if one.where.file == f"recipes/curd/{name}"}
    assert found.sources[f"recipes/curd/{name}"] == "nonsense: 1\n"


def test_trials_of_a_dish_without_a_recipe_are_read_alone(tmp_path: Path) -> None:
    folder = tmp_path / "recipes/crackers"
    folder.mkdir(parents=True)
    trials = folder / "trials.yaml"
    shutil.copy(ROOT / "recipes/seeded-crackers/trials.yaml", trials)
    publication = Publication(root=tmp_path)
    for added, said in (("", []), ("nonsense: 1\n", ["unknown-key"])):
        trials.write_text(trials.read_text(encoding="utf-8") + added, encoding="utf-8")
        (found,) = check_files(publication, named_files(publication, (str(trials),)), publication.house())
        assert [one.name for one in found.findings] == said


def test_a_price_list_is_read_once_for_all(tmp_path: Path) -> None:
    publication = Publication(root=tmp_path)
    assert not check_prices(publication, publication.larder()).findings
    (tmp_path / "recipes").mkdir()
    (tmp_path / "recipes/prices.csv").write_text("nonsense\n1\n", encoding="utf-8")
    (found, *_) = check_prices(publication, publication.larder()).findings
    assert found.where.file == "recipes/prices.csv"


@pytest.mark.skipif(
    not Path("/proc").is_dir() or os.cpu_count() == 1, reason="looks for several processes in /proc"
)
def test_an_interrupt_ends_every_process(tmp_path: Path) -> None:
    source = (ROOT / "recipes/overnight-loaf/recipe.yaml").read_bytes()
    for number in range(400):
        folder = tmp_path / "recipes" / f"loaf-{number}"
        folder.mkdir(parents=True)
        (folder / "recipe.yaml").write_bytes(source)
    command = [sys.executable, "-m", "cardsmith", "--publication", str(tmp_path), "check"]
    started = subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=ROOT, start_new_session=True
    )
    deadline = time.monotonic() + 60
    while len(_of_session(started.pid)) < 3 and time.monotonic() < deadline:  # the command and two
        time.sleep(0.1)
    os.killpg(started.pid, signal.SIGINT)
    _, told = started.communicate(timeout=60)
    assert (started.returncode, told.splitlines()[-1]) == (1, "stopped")  # how far it came may stand before
    while _of_session(started.pid) and time.monotonic() < deadline + 60:
        time.sleep(0.1)
    assert _of_session(started.pid) == []


def _of_session(session: int) -> list[int]:
    """The processes of a session that still run."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(fields[3]) == session and fields[0] != "Z":
            found.append(int(stat.parent.name))
    return found
