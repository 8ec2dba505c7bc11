"""Recipes checked by several processes are told as by one, in the order of their files."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

from cardsmith.engine import checking
from cardsmith.engine.checking import FEW, Checked, check_files, check_prices, notes_of
from cardsmith.engine.freshness.checked import CHECKED
from cardsmith.engine.freshness.manifest import VERSION
from cardsmith.house.publication import Publication, named_files
from cardsmith.house.style import House
from cardsmith.reference import OURS

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
    assert not check_prices(publication, OURS).findings
    (tmp_path / "recipes").mkdir()
    (tmp_path / "recipes/prices.csv").write_text("nonsense\n1\n", encoding="utf-8")
    (found, *_) = check_prices(publication, OURS).findings
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


NAMES = ("mustard-dressing", "seeded-crackers")


@pytest.fixture
def noted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Publication:
    """Two recipes, which are enough for notes here; one of them has trials and a teardown beside it."""
    monkeypatch.setattr(checking, "FEW", 1)
    for name in NAMES:
        shutil.copytree(ROOT / "recipes" / name, tmp_path / "recipes" / name)
    shutil.copytree(ROOT / "templates", tmp_path / "templates")
    return Publication(root=tmp_path)


def _told(publication: Publication, monkeypatch: pytest.MonkeyPatch) -> tuple[list[str], list[Checked]]:
    """The recipes that were checked anew, and what all are told to be."""
    anew: list[str] = []
    real = checking._one

    def counted(publication: Publication, house: House, name: str, file: Path, *, noted: bool) -> Checked:
        anew.append(name)
        return real(publication, house, name, file, noted=noted)

    monkeypatch.setattr(checking, "_one", counted)
    files = named_files(publication, ())
    notes = notes_of(publication, files)
    told = list(check_files(publication, files, publication.house(), 1, notes))
    monkeypatch.setattr(checking, "_one", real)
    return anew, [replace(one, digest="") for one in told]


def test_what_rests_on_the_same_is_not_checked_again(
    noted: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, told = _told(noted, monkeypatch)
    assert first == list(NAMES)
    assert _told(noted, monkeypatch) == ([], told)
    for path, names in (
        ("recipes/mustard-dressing/recipe.yaml", ["mustard-dressing"]),
        ("recipes/mustard-dressing/portion.yaml", ["mustard-dressing"]),
        ("recipes/seeded-crackers/trials.yaml", ["seeded-crackers"]),
        ("recipes/seeded-crackers/teardown.yaml", ["seeded-crackers"]),
        ("templates/house.yaml", list(NAMES)),
        ("templates/print.css", []),
    ):
        with (noted.root / path).open("a", encoding="utf-8") as edited:
            edited.write("\n# another word {}\n")
        anew, told = _told(noted, monkeypatch)
        assert (path, anew) == (path, names)
    shutil.rmtree(noted.build)
    assert _told(noted, monkeypatch) == (list(NAMES), told)


def test_prices_that_are_as_they_were_are_not_read_again(noted: Publication) -> None:
    (noted.root / "recipes/prices.csv").write_text("food;price\n", encoding="utf-8")
    told = []
    for _ in range(2):
        notes = notes_of(noted, NAMES)
        told.append(check_prices(noted, OURS, notes))
    assert told[0] == told[1]
    assert told[0].findings
    assert notes
    assert notes.known("", checking.Folder(name="", recipe=noted.prices()).digest)


def test_what_changes_while_it_is_checked_is_not_noted(noted: Publication) -> None:
    files = named_files(noted, ())
    notes = notes_of(noted, files)
    for place, _ in enumerate(check_files(noted, files, noted.house(), 1, notes)):
        if not place:
            with (noted.templates / "house.yaml").open("a", encoding="utf-8") as house:
                house.write("\n# another\n")
    assert noted.output.read(CHECKED) is None


def test_a_check_is_as_true_where_nothing_can_be_noted(
    noted: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    noted.build.symlink_to(noted.recipes)
    first, told = _told(noted, monkeypatch)
    assert (first, told) == _told(noted, monkeypatch)
    assert not list(noted.recipes.glob(".cache"))


def test_notes_that_are_torn_or_of_another_time_are_passed_over(
    noted: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, told = _told(noted, monkeypatch)
    file = noted.build / CHECKED
    whole = file.read_bytes()
    torn = b"\n".join(line[:-9] if b"mustard-dressing" in line else line for line in whole.split(b"\n"))
    file.write_bytes(torn)
    assert _told(noted, monkeypatch) == (["mustard-dressing"], told)
    other = whole.replace(f'"cardsmith",{VERSION}]'.encode(), f'"cardsmith",{VERSION - 1}]'.encode())
    assert other != whole
    file.write_bytes(other)
    assert _told(noted, monkeypatch) == (list(NAMES), told)
