"""A recipe that is left out for its name is said, with what to rename."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication, named_files
from cardsmith.house.strays import strays


def kitchen(root: Path, *files: str) -> Publication:
    for name in files:
        (root / "recipes" / name).parent.mkdir(parents=True, exist_ok=True)
        (root / "recipes" / name).write_text("title: Thins\n", encoding="utf-8")
    return Publication(root=root)


@pytest.mark.parametrize(
    ("file", "instead"),
    [
        ("thins/recipe.yml", "rename it to recipe.yaml"),
        ("thins/Recipe.YAML", "rename it to recipe.yaml"),
        ("Rye_Thins/recipe.yaml", "rename the folder, such as rye-thins"),
        ("Rye Thins/recipe.yml", "rename it to recipe.yaml"),
        ("thins.yaml", "move it to recipes/thins/recipe.yaml"),
    ],
)
def test_what_is_left_out_is_said_with_what_to_rename(file: str, instead: str, tmp_path: Path) -> None:
    publication = kitchen(tmp_path, "lemon-curd/recipe.yaml", file)
    (found,) = strays(publication)
    assert (found.where.file, found.name, found.instead) == (f"recipes/{file}", "recipe-misnamed", instead)
    assert list(named_files(publication, ())) == ["lemon-curd"]


@pytest.mark.parametrize(
    "file", ["thins/recipe.yaml", "thins/portion.yaml", "prices.csv", ".trash/recipe.yml", "thins/notes.yml"]
)
def test_what_belongs_there_is_no_stray(file: str, tmp_path: Path) -> None:
    assert not strays(kitchen(tmp_path, file))


def test_a_publication_without_recipes_has_no_strays(tmp_path: Path) -> None:
    assert not strays(Publication(root=tmp_path))


def test_a_folder_asked_for_by_name_is_told_to_hold_none(tmp_path: Path) -> None:
    with pytest.raises(CardsmithError, match=r"recipes/thins holds no recipe\.yaml"):
        named_files(kitchen(tmp_path, "thins/recipe.yml"), ("thins",))
