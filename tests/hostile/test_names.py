"""Names of recipes that leave the folder, or that no folder and no address can have: refused in one line."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from cardsmith.commands.main import main
from cardsmith.commands.terminal import FINE, FOUND, MISUSED
from cardsmith.finding import Severity
from cardsmith.house.publication import plain_name
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.folder import NAME
from cardsmith.recipe.load import read_recipe

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "recipes/mustard-dressing/recipe.yaml"
ODD = (
    *("<b onclick=y>", "a b", "é", "new\nline", "-x", "x%2e", "q'\"", "esc\x1b[31m", "CON", "rtl\u202e"),
    *("bad\udcff", "x" * 150),
)


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "publication"
    shutil.copytree(DEMO.parent, folder / "recipes/mustard-dressing")
    shutil.copytree(DEMO.parent, tmp_path / "elsewhere/x")
    monkeypatch.chdir(folder)
    return folder


def test_folders_with_no_name_of_a_recipe_are_told(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ODD:
        shutil.copytree(DEMO.parent, root / "recipes" / os.fsdecode(os.fsencode(name)))
    for command in (["check"], ["build", "--serial", "--pages"]):
        assert main(command) == FOUND
        told = capsys.readouterr().out
        assert told.count("[recipe-misnamed]") == len(ODD)
        assert all(f"rename the folder, such as {plain_name(name)}\n" in told for name in ODD)
        assert told.replace("\n", "").isprintable()
    assert [one.name for one in (root / "build/cards").iterdir()] == ["mustard-dressing"]


def test_a_hidden_folder_is_nobody_s_recipe(root: Path) -> None:
    shutil.copytree(DEMO.parent, root / "recipes/.draft")
    assert main(["check"]) == FINE


@pytest.mark.parametrize("name", ["../elsewhere", "/elsewhere/x", "..", ".", "", "a/b", "A", "a\0b", "~"])
@pytest.mark.parametrize(
    "command",
    [
        "new",
        "build",
        "proof",
        "portion",
        "sheets",
        "bench sheet",
        "bench history",
        "bench teardown",
        "bench report",
    ],
)
def test_a_name_that_leaves_the_recipes_is_refused(
    command: str, name: str, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = {str(file) for file in root.parent.rglob("*")}
    assert main([*command.split(), name]) == MISUSED
    told = capsys.readouterr()
    assert told.err.count("\n") == 1
    assert told.err.startswith("cardsmith: ")
    assert {str(file) for file in root.parent.rglob("*")} == before


def test_a_draft_anywhere_is_checked_by_any_name_but_makes_a_card_by_a_plain_one(
    root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    draft = root / "My Draft.yaml"
    shutil.copy(DEMO, draft)
    assert main(["check", str(draft)]) == FINE
    capsys.readouterr()
    assert main(["build", "--serial", str(draft)]) == MISUSED
    assert "My Draft.yaml names no recipe" in capsys.readouterr().err


@pytest.mark.parametrize(
    "former", ["../../../out", "/out", "..", "a/b", ".cache", "A B", "x\\y", "x" * 101, "é"]
)
def test_a_former_name_that_leaves_the_site_is_told(former: str) -> None:
    text = f"title: Rye thins\nformerly: ['{former}', harbour-crackers]\n"
    _, findings = read_recipe("thins", text.encode(), "recipe.yaml", load_larder())
    (told,) = (one for one in findings if one.name == "former-name")
    assert told.severity is Severity.ERROR
    assert told.where.line == 2
    assert former[:100] in told.what


@pytest.mark.parametrize("name", [*ODD, "", "---", "Rye & Ale"])
def test_a_plain_name_is_one(name: str) -> None:
    assert NAME.fullmatch(plain_name(name))
    assert not NAME.fullmatch(name)
