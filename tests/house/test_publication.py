"""Which files a command means."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from cardsmith.finding import CardsmithError
from cardsmith.house.publication import BESIDE, OF_ALL, Publication, means_all, named_files

ROOT = Path(__file__).parents[2]


def test_two_files_of_one_name_are_told_apart(tmp_path: Path) -> None:
    """Both would be the card ``thins``, and one of them would be left out unsaid."""
    for name in ("a", "b"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "thins.yaml").write_text("title: Thins\n", encoding="utf-8")
    one, other = str(tmp_path / "a/thins.yaml"), str(tmp_path / "b/thins.yaml")
    with pytest.raises(CardsmithError, match="would both be the card 'thins'"):
        named_files(Publication(root=tmp_path), (one, other))
    assert named_files(Publication(root=tmp_path), (one, one)) == {"thins": Path(one)}


@pytest.mark.parametrize("beside", BESIDE)
def test_a_file_beside_a_recipe_means_the_recipe(beside: str, tmp_path: Path) -> None:
    folder = tmp_path / "recipes/thins"
    folder.mkdir(parents=True)
    for name in (beside, "recipe.yaml"):
        (folder / name).touch()
    words = (str(folder / beside), str(folder / "recipe.yaml"))
    assert not means_all(words)
    assert named_files(Publication(root=tmp_path), words) == {"thins": folder / "recipe.yaml"}


@pytest.mark.parametrize("name", OF_ALL)
def test_a_file_on_which_all_rest_means_them_all(name: str, tmp_path: Path) -> None:
    for folder in ("thins", "curd"):
        (tmp_path / "recipes" / folder).mkdir(parents=True)
        (tmp_path / "recipes" / folder / "recipe.yaml").touch()
    (tmp_path / name).touch()
    words = (str(tmp_path / "recipes/thins/recipe.yaml"), str(tmp_path / name))
    assert means_all(words)
    assert list(named_files(Publication(root=tmp_path), words)) == ["curd", "thins"]


def test_the_hook_runs_on_every_file_that_a_check_reads() -> None:
    (hook,) = YAML(typ="safe").load(ROOT / ".pre-commit-hooks.yaml")
    files = re.compile(hook["files"])
    for name in ("recipe.yaml", *BESIDE):
        assert files.search(f"recipes/thins/{name}")
    for name in ("templates/house.yaml", "recipes/prices.csv"):
        assert files.search(name)
        assert Path(name).name in OF_ALL
    assert not files.search("recipes/thins/photo.jpg")
    assert not files.search("build/recipes/thins/recipe.yaml")
