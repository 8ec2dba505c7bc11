"""What the package imports is what pyproject.toml installs: nothing borrowed, nothing unused."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from importlib import metadata
from pathlib import Path

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
EXTRAS = PROJECT["optional-dependencies"]
DECLARED = [*PROJECT["dependencies"], *EXTRAS["bench"], *EXTRAS["cluster"]]
WITHOUT_IMPORT = {"ruamel-yaml-clib"}  # makes another of them faster where it is at hand


def _plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()  # PEP 503


def _imported() -> set[str]:
    """The distributions that modules of the package import, wherever in them they do."""
    tops: set[str] = set()
    for path in (ROOT / "cardsmith").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom):
                tops.add((node.module or "").partition(".")[0])
            elif isinstance(node, ast.Import):
                tops |= {alias.name.partition(".")[0] for alias in node.names}
            elif isinstance(node, ast.JoinedStr) and ast.unparse(node).startswith("f'scipy."):
                tops.add("scipy")  # which the bench asks for by the name of a part
    found = metadata.packages_distributions()
    # ruamel is a folder that several libraries share.
    tops = {
        "ruamel.yaml" if top == "ruamel" else top for top in tops - {"cardsmith", *sys.stdlib_module_names}
    }
    return {_plain(found.get(top, [top])[0]) for top in tops}


def test_declared_and_imported_libraries_are_the_same() -> None:
    declared = {_plain(re.split(r"[<>=; ]", one)[0]) for one in DECLARED}
    assert _imported() == declared - WITHOUT_IMPORT
