"""``cardsmith ready`` on this machine, and on one that was made to lack something."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable
from importlib import metadata
from pathlib import Path
from types import SimpleNamespace

import pytest

from cardsmith.commands.main import main
from cardsmith.commands.terminal import FINE, FOUND
from cardsmith.engine.machine import questions as machine
from cardsmith.engine.machine import ready
from cardsmith.engine.machine.ready import GLYPHS
from cardsmith.house import printers
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]


@pytest.fixture
def publication(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    copy_templates(tmp_path / "templates")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(ready, "ROOM", 0)
    return tmp_path


def _lacks(capsys: pytest.CaptureFixture[str]) -> list[str]:
    code = main(["ready"])
    told = [line for line in capsys.readouterr().out.splitlines() if line.startswith("LACKS")]
    assert code == (FOUND if told else FINE)
    return told


def test_this_machine_is_ready_and_nothing_is_written(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _lacks(capsys) == []
    assert sorted(one.name for one in publication.iterdir()) == ["templates"]
    assert main(["ready", "--json"]) == FINE
    told = json.loads(capsys.readouterr().out)
    assert told["ready"] is True
    assert {"Python", "library weasyprint", "library fonttools", "Pango", "typeface Fira Sans"} <= {
        one["asked"] for one in told["answers"]
    }


def _no_pango(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(machine, "_version", lambda file: None if "pango-" in file else "")


def _old_library(monkeypatch: pytest.MonkeyPatch) -> None:
    real = metadata.version
    monkeypatch.setattr(metadata, "version", lambda name: "7.0" if name == "click" else real(name))


def _no_library(monkeypatch: pytest.MonkeyPatch) -> None:
    real = metadata.version

    def version(name: str) -> str:
        if name == "pikepdf":
            raise metadata.PackageNotFoundError(name)
        return real(name)

    monkeypatch.setattr(metadata, "version", version)


def _no_room(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ready, "ROOM", 300_000_000)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: SimpleNamespace(free=1_000_000))


def _no_right(monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.access
    monkeypatch.setattr(os, "access", lambda path, mode: not mode & os.W_OK and real(path, mode))


def _no_folder(_: pytest.MonkeyPatch) -> None:
    Path("build").write_bytes(b"")


def _damaged_font(_: pytest.MonkeyPatch) -> None:
    file = Path("templates/fonts/Spectral-Italic.ttf")
    file.write_bytes(file.read_bytes()[:5_000])


def _no_font(_: pytest.MonkeyPatch) -> None:
    for file in Path("templates/fonts").glob("Spectral-*"):
        file.unlink()


def _no_face_named(_: pytest.MonkeyPatch) -> None:
    Path("templates/look.css").write_text(":root {}", encoding="utf-8")


def _bad_house(_: pytest.MonkeyPatch) -> None:
    Path("templates/house.yaml").write_text("name: [", encoding="utf-8")


def _no_profile(monkeypatch: pytest.MonkeyPatch) -> None:
    printers._ours.cache_clear()
    monkeypatch.setattr(printers, "profile", lambda name: Path("nowhere", name).read_bytes())


def _old_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(machine, "terminal_encoding", lambda: "latin-1")


@pytest.mark.parametrize(
    ("spoil", "wanted"),
    [
        (_no_pango, "Pango: not there; on Debian or Ubuntu, apt-get install libpango-1.0-0"),
        (_old_library, "library click: 7.0; python -m pip install 'click>="),
        (_no_library, "library pikepdf: not there; python -m pip install 'pikepdf>="),
        (_no_room, "room for build: 1 MB free; make room"),
        (_no_right, "build: may not be written; give yourself the right to it"),
        (_no_folder, "build: may not be written"),
        (_damaged_font, "font Spectral-Italic.ttf: cannot be read; its file is damaged"),
        (_no_font, "typeface Spectral: not there; put Spectral-Regular.ttf into templates/fonts"),
        (_no_face_named, "house style: "),
        (_bad_house, "house style: "),
        (_no_profile, "house style: colour profile FOGRA39L_coated.icc: not there; install cardsmith again"),
        (_old_terminal, "terminal: latin-1: no"),
    ],
)
def test_each_lack_is_told_with_what_to_do(
    spoil: Callable[[pytest.MonkeyPatch], None],
    wanted: str,
    publication: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    spoil(monkeypatch)
    told, *_ = sorted(_lacks(capsys), reverse=True)
    assert told.startswith(f"LACKS  {wanted}")


def test_the_shipped_fonts_have_what_cards_need() -> None:
    for templates in (ROOT / "templates", *(ROOT / "templates" / "looks").iterdir()):
        known = [machine._glyphs(file) or frozenset() for file in (templates / "fonts").glob("*.ttf")]
        assert frozenset(GLYPHS) <= frozenset().union(*known)
