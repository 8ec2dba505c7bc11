"""``cardsmith sheets`` as a user meets it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pikepdf
import pytest

from cardsmith.cli import FINE, MISUSED, main

HERE = Path(__file__).parents[1]
NAMES = ("lemon-curd", "mustard-dressing", "seeded-crackers")


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A publication of three recipes, its cards built."""
    root = tmp_path_factory.mktemp("publication")
    shutil.copytree(HERE / "templates", root / "templates")
    for name in NAMES:
        shutil.copytree(HERE / "recipes" / name, root / "recipes" / name)
    assert main(["--publication", str(root), "build"]) == FINE
    return root


@pytest.fixture
def publication(built: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(built)
    return built


def test_one_of_each_is_the_default(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "--on", "letter"]) == FINE
    assert "wrote build/sheets/all-on-letter.pdf: 2 sheets\n2 to a sheet, duplex" in capsys.readouterr().out
    with pikepdf.open(publication / "build/sheets/all-on-letter.pdf") as pdf:
        assert len(pdf.pages) == 4


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (["--copies", "20"], "lemon-curd-on-letter.pdf: 10 sheets"),
        (["--copies", "20", "--order", "repeat"], "1 sheet, to be printed 10 times"),
        (["--flip", "short"], "turned over the short edge"),
    ],
)
def test_twenty_of_one(
    asked: list[str], told: str, publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sheets", "lemon-curd", "--on", "letter", *asked]) == FINE
    assert told in capsys.readouterr().out


def test_same_command_same_bytes(publication: Path) -> None:
    file = publication / "build/sheets/lemon-curd-and-1-more-on-sra3.pdf"
    command = ["sheets", "lemon-curd", "mustard-dressing", "--on", "sra3"]
    assert main(command) == FINE
    first = file.read_bytes()
    assert main(command) == FINE
    assert file.read_bytes() == first


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (["--on", "a0"], "sheets: letter, a4, sra3, 12x18"),
        (["--printer", "letterpress"], "printers: offset"),
        (["--printer", "digital"], "add digital to printers in house.yaml"),
        (["--copies", "0"], "0 is not in the range"),
        (["shortbread"], "there is no recipe 'shortbread'"),
    ],
)
def test_misuse_says_what_to_do(
    asked: list[str], told: str, publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sheets", *asked]) == MISUSED
    assert told in capsys.readouterr().err


def test_a_recipe_changed_since_its_card_was_built_is_refused(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Twenty copies of yesterday's card are twenty wrong cards."""
    file = publication / "recipes/mustard-dressing/recipe.yaml"
    before = file.read_text(encoding="utf-8")
    file.write_text(before + "# one word more\n", encoding="utf-8")
    assert main(["sheets", "mustard-dressing"]) == MISUSED
    file.write_text(before, encoding="utf-8")
    told = capsys.readouterr().err
    assert "mustard-dressing; run `cardsmith build` first" in told
