"""The demo publication, as tests copy it."""

from __future__ import annotations

import shutil
from dataclasses import replace
from functools import cache
from pathlib import Path

from cardsmith.house.style import House, load_house

ROOT = Path(__file__).parents[1]


def copy_templates(into: Path, *, editions: bool = False) -> None:
    """The demo's house style; of its editions, which cost a card each, the house's own alone."""
    shutil.copytree(ROOT / "templates", into)
    if not editions:
        file = into / "house.yaml"
        lines = file.read_text(encoding="utf-8").split("\n")
        file.write_text(
            "\n".join(line for line in lines if not line.startswith("editions:")), encoding="utf-8"
        )


@cache
def house_of_one_edition() -> House:
    """The demo's house without its further editions, which ask of every food that another market lacks."""
    return replace(load_house(ROOT), editions=())
