"""What DEVELOPERS.md names is there, and the version has its section."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
# Files by the end of their path.
FILES = sorted(set(re.findall(r"`(?:python )?((?:[a-z0-9_-]+/)*[a-z0-9_.-]+\.(?:py|csv|css|j2|js))\b", TEXT)))
WRITTEN = {"moved.csv"}  # by a build
THERE = [
    path.relative_to(ROOT).as_posix()
    for top in ("cardsmith", "templates", "tests", "recipes")
    for path in (ROOT / top).rglob("*")
]


@pytest.mark.parametrize("file", [one for one in FILES if one not in WRITTEN])
def test_a_file_it_names_is_there(file: str) -> None:
    assert any(path == file or path.endswith(f"/{file}") for path in THERE)


def test_many_files_are_named() -> None:
    assert len(FILES) > 40


def test_the_newest_changes_are_those_of_this_version() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    sections = re.findall(r"(?m)^### (\d+\.\d+\.\d+)$", TEXT.partition("\n## Changes\n")[2])
    assert sections[0] == project["version"]
    assert f'git tag -a v{project["version"]} -m "cardsmith {project["version"]}"' in TEXT
    assert f"rev: v{project['version']}" in TEXT


def test_the_oldest_python_is_the_one_that_is_declared() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    (oldest,) = re.findall(r"Python (\d\.\d+) is the oldest that is supported", TEXT)
    assert project["requires-python"] == f">={oldest}"
