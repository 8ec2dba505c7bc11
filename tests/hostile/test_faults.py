"""Where the machine refuses or cardsmith itself fails: one line that says what to do, and an exit code."""

from __future__ import annotations

import errno
import os
import shutil
from importlib import metadata
from pathlib import Path

import pytest

from cardsmith import flow
from cardsmith.commands.main import main
from cardsmith.commands.terminal import BROKEN, FOUND, MISUSED
from cardsmith.engine.machine.messages import refusal

DEMO = Path(__file__).parents[2] / "recipes" / "mustard-dressing" / "recipe.yaml"


@pytest.fixture
def recipe(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    file = tmp_path / "recipes" / "mustard-dressing" / "recipe.yaml"
    file.parent.mkdir(parents=True)
    shutil.copy(DEMO, file)
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("CARDSMITH_TRACE", raising=False)
    return file


@pytest.mark.parametrize(
    ("number", "wanted"),
    [
        (errno.ENOSPC, "make room on the disk"),
        (errno.EACCES, "give yourself the right"),
        (errno.EROFS, "copy the publication to where it can"),
        (errno.EISDIR, "move it away"),
    ],
)
def test_a_refusal_is_one_line_with_its_remedy(
    number: int,
    wanted: str,
    recipe: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def refused(*_arguments: object) -> None:
        raise OSError(number, os.strerror(number), "/somewhere/file")

    monkeypatch.setattr(flow, "prepare", refused)
    assert main(["check"]) == MISUSED
    told = capsys.readouterr().err
    assert told.startswith(f"cardsmith: /somewhere/file: {os.strerror(number)}; ")
    assert wanted in told
    assert told.count("\n") == 1


def test_a_refusal_unheard_of_is_told_all_the_same() -> None:
    assert refusal(OSError(errno.EXDEV, "Invalid cross-device link")) == "Invalid cross-device link"
    assert refusal(OSError("all gone")) == "all gone"


def test_a_full_disk_stops_a_build_with_its_remedy(
    recipe: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def full(_descriptor: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    assert main(["build", "--serial"]) == MISUSED
    assert "make room on the disk" in capsys.readouterr().err
    assert not list(recipe.parents[2].glob("build/cards/*/*"))


def test_a_fault_of_our_own_names_the_file_and_shows_its_trace_only_when_asked(
    recipe: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_arguments: object) -> None:
        raise KeyError("rye")

    monkeypatch.setattr(flow, "prepare", broken)
    assert main(["check"]) == BROKEN
    told = capsys.readouterr().err
    assert "this is a fault of cardsmith (KeyError: 'rye')" in told
    assert "please report it" in told
    assert "CARDSMITH_TRACE=1" in told
    assert "Traceback" not in told
    monkeypatch.setenv("CARDSMITH_TRACE", "1")
    assert main(["check"]) == BROKEN
    assert "Traceback" in capsys.readouterr().err


@pytest.mark.parametrize("version", ["2.0", ""])
def test_a_library_too_old_or_absent_is_told_instead_of_a_fault_of_ours(
    version: str, recipe: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_arguments: object) -> None:
        raise ImportError("cannot import name 'new' from 'jinja2'")

    real = metadata.version

    def installed(name: str) -> str:
        if name == "jinja2" and not version:
            raise metadata.PackageNotFoundError(name)
        return version if name == "jinja2" else real(name)

    monkeypatch.setattr(flow, "prepare", broken)
    monkeypatch.setattr(metadata, "version", installed)
    assert main(["check"]) == MISUSED
    told = capsys.readouterr().err
    shown = version or "not there"
    assert told.startswith(f"cardsmith: library jinja2: {shown}, python -m pip install 'jinja2>=")
    assert "`cardsmith ready` says what else" in told
    assert told.count("\n") == 1


@pytest.mark.parametrize("command", ["check", "build"])
def test_a_folder_in_a_recipes_place_is_told(
    command: str, recipe: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    recipe.unlink()
    recipe.mkdir()
    assert main([command]) in {FOUND, MISUSED}
    told = capsys.readouterr()
    assert "recipes/mustard-dressing/recipe.yaml" in told.out + told.err
    assert "Traceback" not in told.err
