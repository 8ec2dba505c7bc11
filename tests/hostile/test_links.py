"""Files that are none, and links out of the recipes: refused by every command, in a word, and never read."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from cardsmith.commands.main import main
from cardsmith.commands.terminal import FINE, FOUND, MISUSED
from cardsmith.files.reading import ABSENT, LARGEST, Reader, Refused, read_plain, stamp_of

DEMO = Path(__file__).parents[2] / "recipes" / "mustard-dressing" / "recipe.yaml"
SECRET = "nobody-may-read-this"


@pytest.fixture
def recipe(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "publication" / "recipes" / "dressing"
    folder.mkdir(parents=True)
    shutil.copy(DEMO, folder / "recipe.yaml")
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "recipe.yaml").write_text(f"title: {SECRET}\n", encoding="utf-8")
    (outside / "secret").write_text(f"{SECRET}: true\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path / "publication")
    return folder / "recipe.yaml"


def _outside(recipe: Path) -> Path:
    return recipe.parents[3] / "outside"


def _link_file(recipe: Path) -> None:
    recipe.unlink()
    recipe.symlink_to(_outside(recipe) / "recipe.yaml")


def _link_folder(recipe: Path) -> None:
    shutil.rmtree(recipe.parent)
    recipe.parent.symlink_to(_outside(recipe))


def _link_trials(recipe: Path) -> None:
    recipe.with_name("trials.yaml").symlink_to(_outside(recipe) / "secret")


def _circle(recipe: Path) -> None:
    recipe.with_name("trials.yaml").symlink_to("trials.yaml")


def _pipe(recipe: Path) -> None:
    os.mkfifo(recipe.with_name("trials.yaml"))


def _device(recipe: Path) -> None:
    recipe.with_name("trials.yaml").symlink_to("/dev/zero")


def _pipe_as_recipe(recipe: Path) -> None:
    recipe.unlink()
    os.mkfifo(recipe)


def _folder_as_recipe(recipe: Path) -> None:
    recipe.unlink()
    recipe.mkdir()


def _huge(recipe: Path) -> None:
    with recipe.with_name("trials.yaml").open("wb") as stream:
        stream.truncate(LARGEST + 1)  # holes, no blocks


def _link_photo(recipe: Path) -> None:
    text = recipe.read_text(encoding="utf-8")
    recipe.write_text(text.replace("file: mustard-dressing.svg", "file: bowl.jpg"), encoding="utf-8")
    recipe.with_name("bowl.jpg").symlink_to(_outside(recipe) / "secret")


SPOILS = [
    _link_file, _link_folder, _link_trials, _circle, _pipe, _device, _pipe_as_recipe, _folder_as_recipe,
    _huge,
]  # fmt: skip


@pytest.mark.parametrize("spoil", SPOILS)
def test_check_and_build_refuse_it_and_go_on(
    spoil: Callable[[Path], None], recipe: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken = recipe.parent.with_name("another")
    broken.mkdir()
    (broken / "recipe.yaml").write_text("title: Another\n", encoding="utf-8")
    spoil(recipe)
    for command in (["check"], ["build", "--serial"], ["build", "--serial"]):
        assert main(command) == FOUND
        told = capsys.readouterr()
        report = told.out + told.err
        assert "[file-refused]" in report
        assert "recipes/another/recipe.yaml" in report
        assert SECRET not in report
        assert "Traceback" not in report
    written = [file for file in Path("build").rglob("*") if file.is_file()]
    assert "file-refused" in Path("build/report.json").read_text(encoding="utf-8")
    assert not any(SECRET.encode() in file.read_bytes() for file in written)
    assert not Path("build/cards/dressing").exists()


def test_a_photo_that_is_a_link_out_is_refused(recipe: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _link_photo(recipe)
    assert main(["build", "--serial"]) == FOUND
    assert "recipes/dressing/bowl.jpg: error: it leads by a symbolic link out" in capsys.readouterr().out


@pytest.mark.parametrize("command", ["scale --by 2 dressing", "portion dressing", "proof dressing"])
def test_the_other_commands_refuse_a_link_in_one_line(
    command: str, recipe: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _link_file(recipe)
    assert main(command.split()) == MISUSED
    told = capsys.readouterr()
    assert told.err.startswith("cardsmith: recipes/dressing/recipe.yaml leads by a symbolic link out")
    assert told.err.count("\n") == 1
    assert SECRET not in told.out + told.err


@pytest.mark.parametrize("name", ["portion.yaml", "../prices.csv"])
def test_portion_refuses_links_for_what_stands_beside(
    name: str, recipe: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (recipe.parent / name).symlink_to(_outside(recipe) / "secret")
    assert main(["portion", "dressing"]) == MISUSED
    assert "leads by a symbolic link out" in capsys.readouterr().err


@pytest.mark.parametrize("kind", ["trials", "teardown"])
def test_the_bench_refuses_links(kind: str, recipe: Path, capsys: pytest.CaptureFixture[str]) -> None:
    recipe.with_name(f"{kind}.yaml").symlink_to(_outside(recipe) / "secret")
    assert main(["bench", "history" if kind == "trials" else kind, "dressing"]) == MISUSED
    assert "leads by a symbolic link out" in capsys.readouterr().err


def test_a_link_within_the_recipes_is_followed(recipe: Path) -> None:
    shared = recipe.parents[1] / "shared.yaml"
    recipe.rename(shared)
    recipe.symlink_to("../shared.yaml")
    assert main(["check", "dressing"]) == FINE


def test_a_draft_anywhere_is_read_but_no_link_in_its_place(recipe: Path, tmp_path: Path) -> None:
    draft = tmp_path / "draft.yaml"
    shutil.copy(recipe, draft)
    assert main(["check", str(draft)]) == FINE
    draft.unlink()
    draft.symlink_to(_outside(recipe) / "recipe.yaml")
    assert main(["check", str(draft)]) == FOUND


def test_a_photo_stays_in_its_recipes_folder(recipe: Path) -> None:
    reader = Reader(recipe.parents[2])
    recipe.with_name("bowl.jpg").write_bytes(b"picture")
    assert reader.read_beside(recipe, "bowl.jpg") == b"picture"
    assert reader.read_beside(recipe, "absent.jpg") is None
    for name in ("../../../outside/secret", str(_outside(recipe) / "secret")):
        with pytest.raises(Refused, match="leads by a symbolic link out"):
            reader.read_beside(recipe, name)
        assert SECRET not in str(reader.seen.values())


def test_a_file_that_may_not_be_read_says_so(recipe: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_arguments: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refused)
    with pytest.raises(Refused, match=r"recipe\.yaml cannot be read \(Permission denied\); see to it"):
        read_plain(recipe, recipe.parent, "recipe.yaml")


def test_no_stamp_is_taken_through_a_link_out(recipe: Path) -> None:
    _link_file(recipe)
    assert stamp_of(recipe, recipe.parent).digest == ABSENT
    assert stamp_of(recipe).digest != ABSENT
