"""Issued proofs on disk, and what a build makes of the last of them."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from cardsmith.commands.main import FINE, FOUND, MISUSED, main
from cardsmith.finding import CardsmithError
from cardsmith.proof.issued import checked_names, keep, latest_proof, read_proofs
from tests.demo import copy_templates
from tests.proof.thins import RECIPE


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A publication whose first proof is issued; to be copied."""
    root = tmp_path_factory.mktemp("issued")
    file = root / "recipes/thins/recipe.yaml"
    file.parent.mkdir(parents=True)
    file.write_text(RECIPE, encoding="utf-8")
    with pytest.MonkeyPatch.context() as patched:
        patched.chdir(root)
        assert main(["proof", "thins", "--issue", "--date", "2026-06-02"]) == FINE
    return root


@pytest.fixture
def recipe(issued: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(issued, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    return tmp_path / "recipes/thins/recipe.yaml"


def slug() -> str:
    file = Path("build/cards/thins/thins-press.pdf")
    done = subprocess.run(["pdftotext", file, "-"], capture_output=True, text=True, check=True)
    return next(line for line in done.stdout.splitlines() if line.startswith("thins · version"))


def read(file: Path) -> bytes | None:
    return file.read_bytes() if file.is_file() else None


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (["01.json", "03.json"], "has no 02.json"),
        (["01.json", "1.json"], "not an issued proof"),
        (["01.json", "001.json"], "not an issued proof"),
        (["notes.txt"], "not an issued proof"),
        (["00.json"], "not an issued proof"),
    ],
)
def test_a_folder_of_proofs_holds_proofs_from_one_on(names: list[str], told: str) -> None:
    with pytest.raises(CardsmithError, match=told):
        checked_names(names, "proofs")


def test_hidden_files_are_no_proofs() -> None:
    assert checked_names([".02.json.x7", "02.json", "01.json", ".DS_Store"], "proofs") == (
        "01.json",
        "02.json",
    )


def test_a_proof_is_never_written_over(recipe: Path) -> None:
    (one,) = read_proofs(recipe, "recipes/thins")
    before = (recipe.parent / "proofs/01.json").read_bytes()
    with pytest.raises(CardsmithError, match="meanwhile"):
        keep(recipe, one)
    assert [file.name for file in (recipe.parent / "proofs").iterdir()] == ["01.json"]
    assert (recipe.parent / "proofs/01.json").read_bytes() == before


def test_nothing_is_kept_where_a_link_leads_out(
    recipe: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = recipe.parent / "proofs"
    (folder / "01.json").unlink()
    folder.rmdir()
    (tmp_path / "elsewhere").mkdir()
    folder.symlink_to(tmp_path / "elsewhere")
    assert main(["proof", "thins", "--issue"]) == MISUSED
    assert "symbolic link out of the recipe's folder" in capsys.readouterr().err
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_the_press_file_names_the_proof_that_shows_it(recipe: Path) -> None:
    assert main(["build", "thins"]) == FINE
    assert "proof 1 · 2026-06-02" in slug()
    assert Path("build/cards/thins/thins-proof.pdf").is_file()  # a build leaves it
    recipe.write_text(RECIPE.replace("Thin and dark.", "Thin, dark."), encoding="utf-8")
    assert main(["build", "thins"]) == FINE
    assert "no proof issued" in slug()
    assert main(["proof", "thins", "--issue", "--date", "2026-06-09"]) == FINE
    assert main(["build", "thins"]) == FINE
    assert "proof 2 · 2026-06-09" in slug()


def test_a_card_that_the_house_changed_is_not_the_proof(recipe: Path) -> None:
    copy_templates(Path("templates"))
    assert main(["build", "thins"]) == FINE
    assert "proof 1 · 2026-06-02" in slug()
    house = Path("templates/house.yaml")
    house.write_text(house.read_text("utf-8").replace("[us, metric]", "[metric, us]"), "utf-8")
    assert main(["build", "thins"]) == FINE
    assert "no proof issued" in slug()


def test_a_damaged_proof_is_an_error_of_the_build(recipe: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = recipe.parent / "proofs/01.json"
    file.write_bytes(file.read_bytes()[:-30])
    assert main(["build", "thins"]) == FOUND
    said = capsys.readouterr().out
    assert "recipes/thins/proofs/01.json" in said
    assert "[proof-damaged]" in said


def test_the_latest_is_read_through_what_keeps_account(recipe: Path) -> None:
    asked: list[str] = []

    def told(file: Path) -> bytes | None:
        asked.append(file.name)
        return read(file)

    found, findings = latest_proof(told, recipe, "recipes/thins")
    assert found is not None
    assert (found.number, findings) == (1, ())
    assert asked == ["01.json", "02.json"]  # that there is no second is worth an account too


def test_a_further_edition_has_numbers_of_its_own(recipe: Path) -> None:
    """Its proofs stand in a folder of its key, which is none of the house's own."""
    (own,) = read_proofs(recipe, "recipes/thins")
    keep(recipe, own, "uk")
    assert read_proofs(recipe, "recipes/thins", "uk") == (own,)
    assert read_proofs(recipe, "recipes/thins") == (own,)
    assert latest_proof(read, recipe, "recipes/thins", "uk") == (own, ())
    assert latest_proof(read, recipe, "recipes/thins", "au") == (None, ())
    (recipe.with_name("proofs") / "uk/notes.txt").touch()
    with pytest.raises(CardsmithError, match=r"recipes/thins/proofs/uk/notes\.txt is not an issued proof"):
        read_proofs(recipe, "recipes/thins", "uk")
