"""Stages import earlier stages only; checking and rewriting need neither templates nor a typesetter."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "cardsmith"
# Each room may import those above it, and its own modules; what stands together on a line shares a rank.
ORDER = (
    ("finding", "frozen", "last_result"),
    ("files",),
    ("reference", "regex"),
    ("words",),
    ("measure",),
    ("language",),
    ("recipe",),
    ("facts",),
    ("edition",),
    ("house",),
    ("bench",),
    ("portion",),
    ("check",),
    ("rewrite",),
    ("readback",),
    ("flow",),
    ("draft",),
    ("proof",),
    ("render",),
    ("site",),
    ("engine",),
    ("preview",),
    ("commands",),
    ("__main__",),
)
RANK = {name: rank for rank, names in enumerate(ORDER) for name in names}
# Rooms within a room, and which of each other they may import, besides their own modules and what stands
# beside them. What stands beside is for all of them and imports none, but for the modules of JOINING, which
# put the rooms together and which none of them imports.
INNER: Mapping[str, Mapping[str, frozenset[str]]] = {
    "language": {
        "figures": frozenset(),
        "line": frozenset({"figures"}),
        "prose": frozenset({"figures"}),
    },
    "recipe": {
        "schema": frozenset(),
        "file": frozenset({"schema"}),
        "mentions": frozenset(),
        "fields": frozenset({"file", "mentions"}),
    },
    "facts": {
        "foods": frozenset(),
        "method": frozenset({"foods"}),
        "dangers": frozenset({"foods", "method"}),
    },
    "house": {
        "own": frozenset(),
    },
    "bench": {
        "formula": frozenset(),
        "tasting": frozenset(),
        "history": frozenset({"formula"}),
        "next": frozenset({"formula"}),
        "papers": frozenset({"formula", "tasting", "history", "next"}),
        "file": frozenset({"formula", "tasting", "next"}),
        "pack": frozenset({"formula", "file"}),
    },
    "portion": {
        "teardown": frozenset(),
    },
    "check": {
        "words": frozenset(),
        "formula": frozenset(),
        "safety": frozenset(),
        "method": frozenset({"formula"}),
        "amounts": frozenset({"formula"}),
        "heat": frozenset({"safety"}),
        "records": frozenset({"formula"}),
    },
    "rewrite": {
        "rounding": frozenset(),
        "card": frozenset({"rounding"}),
        "batches": frozenset({"rounding", "card"}),
    },
    "draft": {
        "reading": frozenset(),
        "sorting": frozenset(),
        "making": frozenset({"sorting"}),
        "outward": frozenset(),
        "tidy": frozenset({"sorting"}),
    },
    "render": {
        "pictures": frozenset(),
        "papers": frozenset(),
        "press": frozenset(),
        "card": frozenset({"pictures"}),
        "sheets": frozenset({"press"}),
        "proof": frozenset({"card", "press", "papers"}),
        "handover": frozenset({"card", "proof"}),
        "booklet": frozenset({"card", "pictures", "press"}),
    },
    "site": {
        "recipe_page": frozenset(),
        "collection": frozenset(),
    },
    "engine": {
        "machine": frozenset(),
        "freshness": frozenset(),
        "products": frozenset({"machine", "freshness"}),
    },
    "commands": {
        "paper": frozenset(),
    },
}
JOINING: Mapping[str, frozenset[str]] = {
    "language": frozenset({"dates", "quantities"}),
    "recipe": frozenset({"load"}),
    "house": frozenset(
        {
            "editions",
            "paper",
            "print_tables",
            "printers",
            "publication",
            "settings",
            "start",
            "strays",
            "style",
        }
    ),
    "rewrite": frozenset({"convert"}),
    "draft": frozenset({"drafting"}),
    "check": frozenset({"run", "explain", "sarif"}),
    "engine": frozenset({"build", "built", "checking", "collecting", "reporting"}),
}
LARGEST = 15  # modules side by side, that a newcomer can take in


def _modules() -> list[Path]:
    return sorted(path for path in PACKAGE.rglob("*.py") if path.name != "__init__.py")


def _stage(path: Path) -> str:
    return path.relative_to(PACKAGE).with_suffix("").parts[0]


def _imports(path: Path) -> Iterator[tuple[str, ...]]:
    """What a module imports of cardsmith, wherever in the module it does so: ("render", "card", "view")."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        assert not (isinstance(node, ast.ImportFrom) and node.level), f"{path}: a relative import"
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        yield from (tuple(name.split(".")[1:]) for name in names if name.startswith("cardsmith."))


def _imported(path: Path) -> set[str]:
    """The stages a module imports."""
    return {name[0] for name in _imports(path)}


def _inner(stage: str, name: tuple[str, ...]) -> str | None:
    """The room within a stage, or the module that joins them, which a name stands in; None beside these."""
    inner = name[1] if len(name) > 1 else None
    return inner if inner in INNER[stage] or inner in JOINING.get(stage, ()) else None


@pytest.mark.parametrize("path", _modules(), ids=lambda path: str(path.relative_to(PACKAGE)))
def test_a_stage_never_reaches_back(path: Path) -> None:
    stage = _stage(path)
    assert stage in RANK, f"{stage} has no place in the order of stages"
    for other in _imported(path) - {stage}:
        assert other in RANK, f"{path.name} imports {other}, which has no place in the order"
        assert RANK[other] <= RANK[stage], f"{path.name} ({stage}) imports {other}, a later stage"


@pytest.mark.parametrize("stage", INNER)
def test_a_room_within_a_stage_keeps_to_its_own(stage: str) -> None:
    joining = JOINING.get(stage, frozenset())
    for path in (PACKAGE / stage).rglob("*.py"):
        room = _inner(stage, path.relative_to(PACKAGE).with_suffix("").parts)
        others = {_inner(stage, name) for name in _imports(path) if name[0] == stage} - {None, room}
        allowed = joining | set(INNER[stage]) if room in joining else INNER[stage][room] if room else set()
        assert others <= allowed, path.relative_to(PACKAGE)


@pytest.mark.parametrize("stage", JOINING)
def test_every_module_that_joins_rooms_is_there(stage: str) -> None:
    assert JOINING[stage] <= {path.stem for path in (PACKAGE / stage).glob("*.py")}


@pytest.mark.parametrize("stage", INNER)
def test_rooms_within_a_stage_stand_in_order_so_that_none_reaches_back(stage: str) -> None:
    before: set[str] = set()
    for room, allowed in INNER[stage].items():
        assert allowed <= before, room
        before.add(room)


@pytest.mark.parametrize("stage", sorted({_stage(path) for path in _modules() if path.parent != PACKAGE}))
def test_every_room_within_a_stage_is_named_and_none_is_crowded(stage: str) -> None:
    folders = {path.parent for path in (PACKAGE / stage).rglob("*.py")}
    assert {path.name for path in folders - {PACKAGE / stage}} == set(INNER.get(stage, ()))
    for folder in folders:
        assert len([path for path in folder.glob("*.py") if path.name != "__init__.py"]) <= LARGEST, folder


def test_rewriting_knows_no_checks() -> None:
    assert all("check" not in _imported(path) for path in _modules() if _stage(path) == "rewrite")


HEAVY = {"jinja2", "weasyprint", "pikepdf", "pint", "fontTools", "scipy", "click"}


@pytest.mark.parametrize(
    "module",
    [
        "cardsmith.recipe.load",
        "cardsmith.check.run",
        "cardsmith.rewrite.card.rewrite",
        "cardsmith.flow",
        "cardsmith.rewrite.convert",
    ],
)
def test_the_stages_before_print_start_without_the_typesetter(module: str) -> None:
    """In a process of its own, since this one has imported everything."""
    code = f"import sys, {module}; print(*sorted({{name.partition('.')[0] for name in sys.modules}}))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert HEAVY.isdisjoint(done.stdout.split())


UNASKED = HEAVY - {"click"} | {f"cardsmith.{room}" for room in ("proof", "render", "site", "preview")}
UNASKED |= {"cardsmith.bench.next", "cardsmith.portion.teardown", "concurrent", "multiprocessing", "asyncio"}
OF_STAGES = {f"cardsmith.{room}" for room in ("facts", "readback", "bench", "portion", "flow")}
ALL_ROOMS = {
    "ruamel",
    "cardsmith.language",
    "cardsmith.measure",
    "cardsmith.recipe.load",
    "cardsmith.house.style",
}


@pytest.mark.parametrize(
    ("asked", "unasked"),
    [
        (["--help"], UNASKED | OF_STAGES | ALL_ROOMS),
        (["convert", "2 cups rye flour"], UNASKED | OF_STAGES - {"cardsmith.facts"}),
        (["check", "lemon-curd", "--json"], UNASKED),
    ],
    ids=["help", "convert", "check"],
)
def test_a_command_loads_no_room_that_it_does_not_ask(asked: list[str], unasked: set[str]) -> None:
    """By the interpreter's own list of what it loads, and how long each took."""
    started = [sys.executable, "-X", "importtime", "-m", "cardsmith", "--publication", str(PACKAGE.parent)]
    told = subprocess.run([*started, *asked], capture_output=True, text=True, check=False).stderr
    loaded = {
        line.rpartition("|")[2].strip() for line in told.splitlines() if line.startswith("import time:")
    }
    assert "cardsmith.commands.main" in loaded
    assert unasked.isdisjoint(loaded)


def test_importing_any_module_reads_no_publication(tmp_path: Path) -> None:
    """Every module can be imported from an empty folder, with nothing printed and nothing written."""
    names = [".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts) for path in _modules()]
    code = "\n".join(f"import {name}" for name in names if not name.endswith("__main__"))
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=tmp_path
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    assert list(tmp_path.iterdir()) == []


def test_few_modules_stand_beside_the_rooms() -> None:
    assert len(list(PACKAGE.glob("*.py"))) <= 8  # with __init__ and __main__
