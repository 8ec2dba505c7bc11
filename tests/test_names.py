"""One class name, one meaning: a reader who meets it need not ask of which room it is."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "cardsmith"


def test_no_two_modules_give_one_name_to_two_classes() -> None:
    modules: dict[str, list[str]] = defaultdict(list)
    for path in PACKAGE.rglob("*.py"):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                modules[node.name].append(path.relative_to(PACKAGE).as_posix())
    assert {name: sorted(places) for name, places in modules.items() if len(places) > 1} == {}
