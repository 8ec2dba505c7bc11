"""``cardsmith sheets`` as a user meets it."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest

from cardsmith.commands.main import FINE, FOUND, MISUSED, main
from tests.demo import copy_templates

HERE = Path(__file__).parents[3]
NAMES = ("lemon-curd", "mustard-dressing", "seeded-crackers")


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A publication of three recipes, its cards built."""
    root = tmp_path_factory.mktemp("publication")
    copy_templates(root / "templates")
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


def test_the_cards_of_an_issue(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "--issue", "Summer 2026"]) == FINE
    assert "wrote build/sheets/summer-2026-on-a4.pdf: 1 sheet" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (["--on", "a0"], "sheets: letter, a4, sra3, 12x18"),
        (["--printer", "letterpress"], "printers: offset"),
        (["--printer", "digital"], "add digital to printers in house.yaml"),
        (["--copies", "0"], "0 is not in the range"),
        (["--issue", "Winter 1999"], "issues here: Summer 2026"),
        (["lemon-curd", "--issue", "Summer 2026"], "chosen in two ways at once"),
        (["shortbread"], "there is no recipe 'shortbread'"),
    ],
)
def test_misuse_says_what_to_do(
    asked: list[str], told: str, publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sheets", *asked]) == MISUSED
    assert told in capsys.readouterr().err


def _add(text: bytes) -> Callable[[Path], None]:
    def added(file: Path) -> None:
        file.write_bytes((file.read_bytes() if file.is_file() else b"") + text)

    return added


CHANGED = [
    ("recipes/mustard-dressing/recipe.yaml", _add(b"# one word more\n"), "recipe.yaml changed"),
    ("recipes/seeded-crackers/trials.yaml", _add(b"# a remark\n"), "trials.yaml changed"),
    ("recipes/lemon-curd/lemon-curd.svg", _add(b"<!-- a leaf -->"), "lemon-curd.svg changed"),
    ("recipes/lemon-curd/proofs/03.json", _add(b"{}"), "03.json is new"),
    ("templates/house.yaml", _add(b"# a rule\n"), "all 3 cards: templates/house.yaml changed"),
    ("templates/print.css", _add(b"/* a rule */"), "all 3 cards: templates/print.css changed"),
    ("templates/_more.j2", _add(b" "), "all 3 cards: templates/_more.j2 is new"),
    ("build/cards/lemon-curd/lemon-curd-press.pdf", _add(b" "), "lemon-curd-press.pdf was altered"),
    ("build/cards/lemon-curd/lemon-curd-press.pdf", Path.unlink, "lemon-curd-press.pdf is missing"),
    ("build/.cache/manifest", Path.unlink, "all 3 cards: it was not built yet"),
]


@pytest.mark.parametrize(("name", "change", "told"), CHANGED, ids=[told for _, _, told in CHANGED])
def test_sheets_are_made_only_of_what_a_build_would_make_now(
    name: str,
    change: Callable[[Path], object],
    told: str,
    publication: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Twenty copies of yesterday's card are twenty wrong cards."""
    file = publication / name
    before = file.read_bytes() if file.is_file() else None
    change(file)
    try:
        assert main(["sheets"]) == MISUSED
    finally:
        file.unlink(missing_ok=True)
        if before is not None:
            file.write_bytes(before)
    said = capsys.readouterr().err
    assert "build first (`cardsmith build" in said
    assert told in said


def test_a_recipe_that_prints_nothing_has_no_sheet(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = publication / "recipes/draft"
    shutil.copytree(publication / "recipes/mustard-dressing", folder)
    file = folder / "recipe.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "nonsense: 1\n", encoding="utf-8")
    try:
        assert main(["build", "draft"]) == FOUND
        assert main(["sheets", "draft"]) == MISUSED
        assert "draft: the last build made no press file of it; the next says why" in capsys.readouterr().err
    finally:
        shutil.rmtree(folder)


@pytest.mark.parametrize("name", ["templates/print.css", "recipes/lemon-curd/recipe.yaml"])
def test_a_file_of_another_date_is_no_change(name: str, publication: Path) -> None:
    file = publication / name
    os.utime(file, (1, 1))
    assert main(["sheets"]) == FINE


def test_what_no_press_file_rests_on_is_no_change(publication: Path) -> None:
    file = publication / "templates/site/card.css"
    before = file.read_bytes()
    file.write_bytes(before + b"/* a rule */")
    assert main(["sheets"]) == FINE
    file.write_bytes(before)
