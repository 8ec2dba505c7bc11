"""Names say what a thing is: one class name has one meaning, and no variable is called one, found or told."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "cardsmith"
VAGUE = frozenset({"one", "found", "told"})  # each was once bound to dozens of types


def test_no_two_modules_give_one_name_to_two_classes() -> None:
    modules: dict[str, list[str]] = defaultdict(list)
    for path in PACKAGE.rglob("*.py"):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                modules[node.name].append(path.relative_to(PACKAGE).as_posix())
    assert {name: sorted(places) for name, places in modules.items() if len(places) > 1} == {}


def test_no_room_gives_one_name_to_two_classes_of_its_own() -> None:
    modules: dict[tuple[str, str], list[str]] = defaultdict(list)
    for path in PACKAGE.rglob("*.py"):
        room = path.relative_to(PACKAGE).parts[0]
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                modules[room, node.name.lstrip("_")].append(path.relative_to(PACKAGE).as_posix())
    assert {key: sorted(places) for key, places in modules.items() if len(places) > 1} == {}


def variables(tree: ast.Module) -> Iterator[tuple[str, int]]:
    """Every parameter, loop variable and local of a module, with its line; fields of classes are none."""
    fields = {
        id(statement.target)
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef)
        for statement in node.body
        if isinstance(statement, ast.AnnAssign)
    }
    for node in ast.walk(tree):
        match node:
            case ast.arg(arg=name):
                yield name, node.lineno
            case ast.Name(id=name, ctx=ast.Store()) if id(node) not in fields:
                yield name, node.lineno
            case (
                ast.MatchAs(name=str(name))
                | ast.MatchStar(name=str(name))
                | ast.ExceptHandler(name=str(name))
            ):
                yield name, node.lineno


def test_a_variable_says_what_it_holds() -> None:
    vague = [
        f"{path.relative_to(PACKAGE).as_posix()}:{line}: call {name!r} by what it holds: line, step, match …"
        for path in sorted(PACKAGE.rglob("*.py"))
        for name, line in variables(ast.parse(path.read_text(encoding="utf-8")))
        if name in VAGUE
    ]
    assert vague == []


@pytest.mark.parametrize(
    "code",
    [
        "def weigh(one): ...",
        "lambda told: told",
        "for one in lines: ...",
        "[one for one in lines]",
        "found = larder.find(name)",
        "if found := larder.find(name): ...",
        "def held():\n    found: list[str] = []",
        "match line:\n    case Line() as one: ...",
    ],
)
def test_each_way_to_bind_a_vague_name_is_seen(code: str) -> None:
    assert VAGUE & {name for name, _ in variables(ast.parse(code))}
