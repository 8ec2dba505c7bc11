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
    "cardsmith.frozen",
    "cardsmith.house",
    "cardsmith.language",
    "cardsmith.measure",
    "cardsmith.portion",
    "cardsmith.recipe",
    "cardsmith.reference",
    "cardsmith.regex",
    "cardsmith.last_result",
)
HERE = Path(cardsmith.check.__file__).parent
MODULES = sorted(HERE.rglob("*.py"))


def imported(file: Path) -> list[str]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    froms = [node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    plain = [name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names]
    return froms + plain


@pytest.mark.parametrize("file", MODULES, ids=lambda file: file.relative_to(HERE).as_posix())
def test_checking_knows_nothing_of_later_stages(file: Path) -> None:
    names = imported(file)
    assert [name for name in names if name.startswith("cardsmith") and not name.startswith(ALLOWED)] == []
    assert not {"jinja2", "weasyprint", "pikepdf"} & {name.split(".")[0] for name in names}
