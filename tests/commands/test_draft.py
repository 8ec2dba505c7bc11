"""``cardsmith draft``, ``text`` and ``tidy`` as they are typed."""

from __future__ import annotations

import io
import shutil
import sys
from pathlib import Path

import pytest

from cardsmith.commands.main import FINE, MISUSED, main
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
BROTH = """Leek and barley broth
Serves 4

200 g pearl barley
300 g leeks, sliced
1.5 kg vegetable stock
4 g fine salt

Bring the stock to a boil with the leeks and salt.
Add the barley and simmer for 45 minutes, until tender.
"""


@pytest.fixture
def kitchen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    copy_templates(tmp_path / "templates")
    (tmp_path / "recipes").mkdir()
    (tmp_path / "broth.txt").write_text(BROTH, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _recipe(kitchen: Path, name: str = "leek-and-barley-broth") -> Path:
    return kitchen / "recipes" / name / "recipe.yaml"


def test_a_draft_becomes_a_recipe_and_says_what_to_settle(
    kitchen: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (kitchen / "broth.txt").write_text(BROTH.replace(", until tender", ""), encoding="utf-8")
    assert main(["draft", "broth.txt"]) == FINE
    told = capsys.readouterr().out
    assert "8 lines: 1 title, 1 yield, 4 ingredients, 2 steps" in told
    assert told.index("warning") < told.index("notes of style")
    assert "- 300 g leeks, sliced" in _recipe(kitchen).read_text(encoding="utf-8")


def test_a_recipe_that_is_there_is_never_written_over(
    kitchen: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["draft", "broth.txt"]) == FINE
    _recipe(kitchen).write_text("title: Mine\n", encoding="utf-8")
    assert main(["draft", "broth.txt"]) == MISUSED
    assert "is there already; nothing was written" in capsys.readouterr().err
    assert _recipe(kitchen).read_text(encoding="utf-8") == "title: Mine\n"


def test_of_several_all_are_written_or_none(kitchen: Path) -> None:
    (kitchen / "other.txt").write_text(BROTH.replace("Leek and", "Kale and"), encoding="utf-8")
    (kitchen / "page.jpg").write_bytes(b"\xff\xd8\xff\xe0")
    assert main(["draft", "other.txt", "broth.txt", "page.jpg"]) == MISUSED
    assert list((kitchen / "recipes").iterdir()) == []
    assert main(["draft", "broth.txt"]) == FINE
    assert main(["draft", "other.txt", "broth.txt"]) == MISUSED
    assert not _recipe(kitchen, "kale-and-barley-broth").exists()


def test_a_folder_and_standard_input_are_read(
    kitchen: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (kitchen / "inbox").mkdir()
    shutil.move(kitchen / "broth.txt", kitchen / "inbox" / "broth.txt")
    assert main(["draft", "inbox", "--dry", "--why"]) == FINE
    told = capsys.readouterr().out
    assert "“300 g” of leek" in told
    assert "title: Leek and barley broth" in told
    assert not _recipe(kitchen).exists()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(BROTH.encode())))
    assert main(["draft", "-"]) == FINE
    assert _recipe(kitchen).is_file()


def test_a_draft_goes_into_a_recipe_that_is_there(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = _recipe(kitchen, "broth")
    file.parent.mkdir()
    file.write_text("title: Broth  # mine\n", encoding="utf-8")
    assert main(["draft", "broth.txt", "--into", "broth"]) == FINE
    text = file.read_text(encoding="utf-8")
    assert "title: Broth  # mine\n" in text
    assert "+yield: {serves: 4}" in capsys.readouterr().out
    assert main(["draft", "broth.txt", "--into", "broth"]) == FINE
    assert file.read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["draft", "none.txt"], "there is no file 'none.txt'"),
        (["draft", "recipes"], "holds no file"),
        (["draft", "words.txt"], "no line that reads as an ingredient or a step"),
        (["draft", "broth.txt", "--into", "none"], "there is no recipe 'none'"),
    ],
)
def test_what_can_not_be_drafted_is_said(
    arguments: list[str], said: str, kitchen: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (kitchen / "words.txt").write_text("Dear all,\n\nThanks\n", encoding="utf-8")
    assert main(arguments) == MISUSED
    assert said in capsys.readouterr().err


def test_prose_without_a_recipe_is_no_recipe(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = (
        "The market opens at six, and by seven the best of the fish has gone. Wilmot wraps each herring in\n"
        "paper.\n\nHe does not cook much himself. What he likes is bread with butter and smoked eel.\n"
    )
    (kitchen / "prose.txt").write_text(told, encoding="utf-8")
    assert main(["draft", "prose.txt"]) == MISUSED
    assert "no line that reads as an ingredient or a step" in capsys.readouterr().err


def test_all_drafts_that_can_not_be_read_are_named(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (kitchen / "page.jpg").write_bytes(b"\xff\xd8\xff\xe0")
    (kitchen / "none.txt").write_bytes(b"")
    assert main(["draft", "broth.txt", "page.jpg", "none.txt"]) == MISUSED
    told = capsys.readouterr().err
    assert "page.jpg is a picture" in told
    assert "none.txt is empty" in told


def test_in_an_empty_folder_a_publication_begins(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "broth.txt").write_text(BROTH, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert main(["draft", "broth.txt"]) == FINE
    assert (tmp_path / "templates" / "house.yaml").is_file()
    assert _recipe(tmp_path).is_file()


def test_a_recipe_goes_out_and_comes_back(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["draft", "broth.txt"]) == FINE
    capsys.readouterr()
    assert main(["text", "leek-and-barley-broth"]) == FINE
    assert "- 300 g leeks, sliced\n" in capsys.readouterr().out
    assert main(["text", "leek-and-barley-broth", "--as", "docx"]) == FINE
    file = kitchen / "build" / "text" / "leek-and-barley-broth.docx"
    shutil.rmtree(_recipe(kitchen).parent)
    assert main(["draft", str(file)]) == FINE
    assert "- 300 g leeks, sliced\n" in _recipe(kitchen).read_text(encoding="utf-8")


def test_tidy_tells_and_writes_only_when_it_may(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (kitchen / "broth.txt").write_text(BROTH.replace("4 g fine", "1/2 teaspoon fine"), encoding="utf-8")
    assert main(["draft", "broth.txt"]) == FINE
    before = _recipe(kitchen).read_bytes()
    assert main(["tidy", "leek-and-barley-broth", "--dry"]) == FINE
    assert "nothing was written" in capsys.readouterr().out
    assert _recipe(kitchen).read_bytes() == before
    assert main(["tidy", "leek-and-barley-broth"]) == FINE
    assert "- ½ tsp fine salt" in _recipe(kitchen).read_text(encoding="utf-8")
    assert main(["tidy", "leek-and-barley-broth"]) == FINE
    assert "already" in capsys.readouterr().out
