from __future__ import annotations

import ast
from pathlib import Path

import pytest

import cardsmith.check

ALLOWED = (
    "cardsmith.bench",
    "cardsmith.check",
    "cardsmith.facts",
    "cardsmith.finding",
    "cardsmith.house.style",
    "cardsmith.language",
    "cardsmith.measure",
    "cardsmith.portion",
    "cardsmith.recipe",
    "cardsmith.reference",
    "cardsmith.regex",
    "cardsmith.last_result",
)
MODULES = sorted(Path(cardsmith.check.__file__).parent.glob("*.py"))


@pytest.mark.parametrize("file", MODULES, ids=lambda file: file.stem)
def test_checking_knows_nothing_of_later_stages(file: Path) -> None:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    froms = [node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    plain = [name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names]
    ours = [name for name in froms + plain if name.startswith("cardsmith")]
    assert [name for name in ours if not name.startswith(ALLOWED)] == []
    assert not {"jinja2", "weasyprint", "pikepdf"} & {name.split(".")[0] for name in froms + plain}
