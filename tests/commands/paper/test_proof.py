"""``cardsmith proof`` as an author and an editor meet it."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image

from cardsmith.commands.main import FINE, FOUND, MISUSED, main
from tests.proof.thins import RECIPE

ROOT = Path(__file__).parents[3]


def _begin(folder: Path) -> None:
    folder.mkdir(parents=True)
    (folder / "recipe.yaml").write_text(RECIPE, encoding="utf-8")


@pytest.fixture
def publication(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    _begin(tmp_path / "recipes/thins")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture(scope="module")
def once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A publication whose first proof is issued; to be copied."""
    root = tmp_path_factory.mktemp("once")
    _begin(root / "recipes/thins")
    with pytest.MonkeyPatch.context() as patched:
        patched.chdir(root)
        assert issue("2026-06-02") == FINE
    return root


@pytest.fixture(scope="module")
def twice(once: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same after an edit and a second proof."""
    root = tmp_path_factory.mktemp("twice") / "kitchen"
    shutil.copytree(once, root)
    edit(root, "4 g fine salt", "5 g fine salt")
    with pytest.MonkeyPatch.context() as patched:
        patched.chdir(root)
        assert issue("2026-06-09") == FINE
    return root


@pytest.fixture
def copied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[Path], Path]:
    def copy(issued: Path) -> Path:
        shutil.copytree(issued, tmp_path / "kitchen")
        monkeypatch.chdir(tmp_path / "kitchen")
        return tmp_path / "kitchen"

    return copy


def edit(publication: Path, old: str, new: str) -> None:
    file = publication / "recipes/thins/recipe.yaml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def issue(date: str) -> int:
    return main(["proof", "thins", "--issue", "--date", date])


def kept(publication: Path) -> list[str]:
    return sorted(file.name for file in (publication / "recipes/thins/proofs").iterdir())


def paper(publication: Path) -> str:
    file = publication / "build/cards/thins/thins-proof.pdf"
    done = subprocess.run(["pdftotext", "-layout", file, "-"], capture_output=True, text=True, check=True)
    return " ".join(done.stdout.split())


def test_a_proof_is_issued_and_the_next_says_what_changed(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert issue("2026-06-02") == FINE
    assert kept(publication) == ["01.json"]
    assert "this is proof 1, issued 2026-06-02" in capsys.readouterr().out
    first = (publication / "recipes/thins/proofs/01.json").read_bytes()
    assert json.loads(first)["source"] == RECIPE.split("\n")
    edit(publication, "4 g fine salt", "5 g fine salt")
    assert main(["proof", "thins"]) == FINE
    told = capsys.readouterr().out
    assert "list: fine salt: 5 g: no trial behind it" in told
    assert kept(publication) == ["01.json"]  # looking numbers nothing
    assert issue("2026-06-09") == FINE
    assert kept(publication) == ["01.json", "02.json"]
    assert "4 g → 5 g: no trial behind it" in paper(publication)
    assert "Proof 2, issued 2026-06-09" in paper(publication)
    assert (publication / "recipes/thins/proofs/01.json").read_bytes() == first


def test_nothing_new_is_not_numbered_again(
    once: Path, copied: Callable[[Path], Path], capsys: pytest.CaptureFixture[str]
) -> None:
    publication = copied(once)
    file = publication / "build/cards/thins/thins-proof.pdf"
    once = file.read_bytes()
    assert issue("2026-06-09") == FINE
    assert "nothing has changed; proof 1 of 2026-06-02" in capsys.readouterr().err
    assert kept(publication) == ["01.json"]
    assert file.read_bytes() == once


def test_a_draft_is_printed_as_such_and_never_issued(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    edit(publication, "to 160 °C with", "to 160 with")
    assert issue("2026-06-02") == FOUND
    assert "mend the errors first" in capsys.readouterr().err
    assert not (publication / "recipes/thins/proofs").exists()
    assert "Draft with" in paper(publication)
    assert "DRAFT" in paper(publication)


def test_a_card_that_does_not_fit_is_a_draft_too(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    long = " ".join(["Stir the dough well and let it stand in a cool place until it is smooth."] * 26)
    edit(publication, "steps:\n", "steps:\n" + f"  - {long}\n" * 6)
    assert issue("2026-06-02") == FOUND
    told = capsys.readouterr()
    assert "[card-does-not-fit]" in told.out
    assert "mend the errors first" in told.err
    assert not (publication / "recipes/thins/proofs").exists()
    assert "It can’t be shown" in paper(publication)
    assert "Draft with 1 error: not for press" in paper(publication)


PHOTO = "photo: {file: thins.png, alt: A stack of dark thins on a board, credit: House photo}\n"


def picture(publication: Path, width: int, height: int) -> None:
    noise = b"".join(bytes(((x * 7 + y * 3) % 256,) * 3) for y in range(height) for x in range(width))
    Image.frombytes("RGB", (width, height), noise).save(publication / "recipes/thins/thins.png")


def test_what_only_the_finished_files_know_is_a_query_too(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    edit(publication, "storage:", f"{PHOTO}storage:")
    picture(publication, 300, 200)
    assert issue("2026-06-02") == FINE  # a query, no error
    said = re.search(
        r"thins.png prints at (\d+) dots per inch, under 300 .{0,80}photo-too-coarse", paper(publication)
    )
    assert said
    assert 30 < int(said[1]) < 150  # 300 dots over two inches and more
    assert "photo-left-off" not in paper(publication)
    edit(publication, "credit: House photo}", "credit: House photo, place: back}")
    assert main(["proof", "thins"]) == FINE
    assert re.search(r"5\d% of thins.png is cut off where it stands .back.", paper(publication))
    assert "photo-cropped" in paper(publication)


def test_a_picture_that_is_refused_makes_a_draft_that_shows_the_card(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    edit(publication, "storage:", f"{PHOTO}storage:")
    picture(publication, 300, 200)
    file = publication / "recipes/thins/thins.png"
    file.write_bytes(file.read_bytes()[: file.stat().st_size // 2])
    assert issue("2026-06-02") == FOUND
    assert "[photo-refused]" in capsys.readouterr().out
    assert not (publication / "recipes/thins/proofs").exists()
    assert "Front, page 1 of " in paper(publication)
    assert "Draft with 1 error: not for press" in paper(publication)


def test_what_is_wrong_beside_the_recipe_is_a_query(publication: Path) -> None:
    (publication / "recipes/thins/portion.yaml").write_text("finished: heavy\n", encoding="utf-8")
    assert issue("2026-06-02") == FOUND
    text = paper(publication)
    assert "portion.yaml, line 1" in text
    assert "“heavy” can’t be read as what is measured here" in text
    assert "The portion" in text


def test_a_file_that_is_no_recipe_has_no_proof(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (publication / "recipes/thins/recipe.yaml").write_text("[not a recipe", encoding="utf-8")
    assert main(["proof", "thins"]) == FOUND
    assert "recipes/thins/recipe.yaml" in capsys.readouterr().out
    assert not (publication / "build").exists()


@pytest.mark.parametrize("spoil", ["edit", "cut", "gap", "stray"])
def test_a_spoilt_proof_stops_everything_and_loses_nothing(
    twice: Path, copied: Callable[[Path], Path], spoil: str, capsys: pytest.CaptureFixture[str]
) -> None:
    publication = copied(twice)
    folder = publication / "recipes/thins/proofs"
    if spoil == "edit":
        text = (folder / "01.json").read_text(encoding="utf-8")
        (folder / "01.json").write_text(text.replace("Rye thins", "Rye thicks"), encoding="utf-8")
    elif spoil == "cut":
        (folder / "02.json").write_bytes((folder / "02.json").read_bytes()[:100])
    elif spoil == "gap":
        (folder / "01.json").unlink()
    else:
        (folder / "02 (copy).json").write_bytes((folder / "02.json").read_bytes())
    before = {file.name: file.read_bytes() for file in folder.iterdir()}
    edit(publication, "5 g fine salt", "6 g fine salt")
    capsys.readouterr()
    assert issue("2026-06-16") == MISUSED
    said = capsys.readouterr().err
    assert "recipes/thins/proofs/" in said
    assert "version control" in said or "move it" in said
    assert {file.name: file.read_bytes() for file in folder.iterdir()} == before


@pytest.mark.parametrize("date", ["yesterday", "2026-13-01"])
def test_a_date_that_is_none_is_misuse(publication: Path, date: str) -> None:
    assert issue(date) == MISUSED


def test_an_answer_to_a_query_is_in_nothing_that_a_reader_gets(
    publication: Path,
) -> None:
    edit(publication, "storage:", "accepted: {rack-unsaid: Any rack of a quokka oven will do.}\nstorage:")
    edit(publication, " with a rack in the middle", "")
    assert main(["build"]) == FINE
    assert main(["proof", "thins"]) == FINE
    told = paper(publication)
    assert "1 note; 1 answered" in told
    assert "Any rack of a quokka oven will do." in told
    held = {
        file.relative_to(publication / "build").as_posix(): _words(file)
        for file in (publication / "build").rglob("*")
        if file.is_file() and not file.relative_to(publication / "build").parts[0].startswith(".")
    }
    assert {name for name, text in held.items() if "quokka" in text} <= {
        "cards/thins/thins-proof.pdf",
        "report.json",
        "report.sarif",
    }
    assert len([name for name in held if name.startswith(("cards/", "site/"))]) > 10


def _words(file: Path) -> str:
    if file.suffix != ".pdf":
        return file.read_bytes().decode("utf-8", errors="replace")
    return subprocess.run(["pdftotext", file, "-"], capture_output=True, text=True, check=True).stdout
