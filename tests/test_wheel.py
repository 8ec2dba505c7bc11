"""An installed wheel stands alone: house style, tables and starter recipe travel with it."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[1]


def test_a_wheel_starts_and_builds_a_publication_in_an_empty_folder(
    tmp_path: Path, filled_in: Callable[[Path], None]
) -> None:
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path / "dist")],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (wheel,) = (tmp_path / "dist").glob("*.whl")
    installed = tmp_path / "installed"
    zipfile.ZipFile(wheel).extractall(installed)
    empty = tmp_path / "empty"
    empty.mkdir()
    command = [
        sys.executable,
        "-c",
        "from cardsmith.commands.main import main; import sys; sys.exit(main(sys.argv[1:]))",
    ]
    environment = {**os.environ, "PYTHONPATH": str(installed)}
    where = subprocess.run(
        [sys.executable, "-c", "import cardsmith; print(cardsmith.__file__)"],
        cwd=empty,
        env=environment,
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    assert Path(where.strip()).is_relative_to(installed)

    def run(*arguments: str) -> None:
        subprocess.run([*command, *arguments], cwd=empty, env=environment, check=True, capture_output=True)

    run("new", "first-card")
    filled_in(empty / "recipes/first-card/recipe.yaml")
    run("build")
    assert (empty / "templates/fonts/AlegreyaSans-Regular.ttf").is_file()
    cards = sorted(file.name for file in (empty / "build/cards/first-card").iterdir())
    papers = ["first-card-press.pdf", "first-card-screen.pdf"]
    pages = ["first-card.html", "first-card.json", "first-card.jsonld"]
    assert cards == ["first-card-fragment.html", *papers, *pages]
