"""Links where a command writes: nothing lands elsewhere, nothing elsewhere is taken away."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from cardsmith.commands.main import main
from cardsmith.commands.terminal import FINE, MISUSED

ROOT = Path(__file__).parents[2]
NAME = "seeded-crackers"
KEPT = "their own words"


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A publication, and a folder beside it with the very folders and files that a build would sweep."""
    folder = tmp_path / "publication"
    shutil.copytree(ROOT / "recipes" / NAME, folder / "recipes" / NAME)
    for place in ("", "cards", "site", NAME, f"cards/{NAME}", f"{NAME}/more"):
        outside = tmp_path / "outside" / place
        outside.mkdir(parents=True, exist_ok=True)
        (outside / "kept.html").write_text(KEPT, encoding="utf-8")
    monkeypatch.chdir(folder)
    return folder


def _elsewhere(root: Path) -> dict[str, str]:
    outside = root.parent / "outside"
    return {str(file): file.read_text(encoding="utf-8") for file in outside.rglob("*") if file.is_file()}


@pytest.mark.parametrize(
    "link",
    [
        *("build", "build/.cache", "build/.cache/tmp", "build/.cache/pictures"),
        *("build/cards", "build/site", "build/bench", "build/portion", f"build/cards/{NAME}"),
    ],
)
def test_a_build_writes_and_sweeps_nothing_elsewhere(
    link: str, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = _elsewhere(root)
    (root / link).parent.mkdir(parents=True, exist_ok=True)
    (root / link).symlink_to(root.parent / "outside")
    assert main(["build", "--serial", "--pages"]) == MISUSED
    told = capsys.readouterr().err
    assert told.startswith(f"cardsmith: {link}")
    assert "is a symbolic link, and nothing is written through one; take it away" in told
    assert told.count("\n") == 1
    assert _elsewhere(root) == before


@pytest.mark.parametrize(
    ("link", "command"),
    [
        (f"build/cards/{NAME}", "proof {} --issue"),
        ("build", "proof {} --issue"),
        ("build/.cache/pictures", "proof {}"),
        ("build/.cache/tmp", "bench report {}"),
        (f"build/bench/{NAME}", "bench sheet {}"),
        (f"build/portion/{NAME}", "portion {} --page"),
        ("build/sheets", "sheets {} --on a4"),
        ("build/handover", "handover {}"),
        (f"build/handover/{NAME}", "handover {}"),
        (f"build/booklets/{NAME}-saddle", "booklet {}"),
    ],
)
def test_no_other_command_writes_elsewhere(
    link: str, command: str, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = _elsewhere(root)
    (root / link).parent.mkdir(parents=True, exist_ok=True)
    (root / link).symlink_to(root.parent / "outside")
    assert main(command.format(NAME).split()) == MISUSED
    assert "is a symbolic link, and nothing is written through one" in capsys.readouterr().err
    assert _elsewhere(root) == before
    assert not (root / "recipes" / NAME / "proofs").exists()


@pytest.mark.parametrize("target", ["kept.html", "not-there", "/dev/zero"])
@pytest.mark.parametrize("link", ["build/.cache/manifest", "build/.cache/lock"])
def test_what_a_build_keeps_for_itself_is_no_link(
    link: str, target: str, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A repository may bring one, to whatever file of the user's it names."""
    before = _elsewhere(root)
    (root / link).parent.mkdir(parents=True)
    (root / link).symlink_to(root.parent / "outside" / target)
    assert main(["build", "--serial", "--pages"]) == MISUSED
    assert capsys.readouterr().err.startswith(f"cardsmith: {link} is a symbolic link")
    assert _elsewhere(root) == before


@pytest.mark.parametrize("file", ["build/.cache/manifest", "build/.cache/lock"])
def test_what_a_build_keeps_for_itself_is_no_pipe_and_has_no_other_name(
    file: str, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A copy of a folder by links, as backups are made, would be written to together with it."""
    kept = root.parent / "outside" / "kept.html"
    (root / file).parent.mkdir(parents=True)
    (root / file).hardlink_to(kept)
    assert main(["build", "--serial", "--pages"]) == MISUSED
    assert f"{file} is not a plain file, or has another name elsewhere" in capsys.readouterr().err
    assert kept.read_text("utf-8") == KEPT
    (root / file).unlink()
    os.mkfifo(root / file)
    assert main(["build", "--serial", "--pages"]) == MISUSED


def test_a_file_that_is_a_link_is_replaced_and_not_written_through(root: Path) -> None:
    before = _elsewhere(root)
    for link in ("report.json", f"cards/{NAME}/{NAME}.html", "site/index.html"):
        (root / "build" / link).parent.mkdir(parents=True, exist_ok=True)
        (root / "build" / link).symlink_to(root.parent / "outside/kept.html")
    assert main(["build", "--serial", "--pages"]) == FINE
    assert _elsewhere(root) == before
    assert not any(path.is_symlink() for path in (root / "build").rglob("*"))


def test_press_files_are_read_through_no_link(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = root / "build/cards" / NAME
    assert main(["build", "--serial"]) == FINE
    outside = root.parent / "outside/pressed"
    shutil.copytree(folder, outside)
    shutil.rmtree(folder)
    folder.symlink_to(outside)
    assert main(["sheets", NAME, "--on", "a4"]) == MISUSED
    assert f"{NAME}-press.pdf is missing" in capsys.readouterr().err


def test_a_link_left_where_a_recipe_is_gone_is_not_followed(root: Path) -> None:
    before = _elsewhere(root)
    for part in ("cards", "bench", "portion", "site"):
        (root / "build" / part).mkdir(parents=True)
        (root / "build" / part / "gone").symlink_to(root.parent / "outside" / NAME)
    assert main(["build", "--serial", "--pages"]) == FINE
    assert _elsewhere(root) == before


@pytest.mark.parametrize("command", ["new {}", "new {} --from-trial 1"])
def test_a_recipe_is_started_in_no_folder_elsewhere(
    command: str, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copy(root / "recipes" / NAME / "trials.yaml", root.parent / "outside")
    (root / "recipes/plum-tart").symlink_to(root.parent / "outside")
    before = _elsewhere(root)
    assert main(command.format("plum-tart").split()) == MISUSED
    assert "recipes/plum-tart" in capsys.readouterr().err
    assert _elsewhere(root) == before


def test_a_link_that_leads_nowhere_is_not_written_through(root: Path) -> None:
    target = root.parent / "outside/new.yaml"
    (root / "recipes/plum-tart").mkdir()
    (root / "recipes/plum-tart/recipe.yaml").symlink_to(target)
    assert main(["new", "plum-tart"]) == MISUSED
    assert not target.exists()


@pytest.mark.parametrize("link", ["templates", ".gitignore"])
def test_a_publication_is_started_through_no_link(
    link: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "empty" / link).symlink_to(tmp_path / "nowhere")
    monkeypatch.chdir(tmp_path / "empty")
    assert main(["new", "plum-tart"]) == FINE
    assert not (tmp_path / "nowhere").exists()
