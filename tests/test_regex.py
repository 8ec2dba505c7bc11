"""A pattern is compiled when it is first used; each in the package is a sound one."""

from __future__ import annotations

import re
import subprocess
import sys
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

import cardsmith
from cardsmith.regex import regex

PACKAGE = Path(cardsmith.__file__).parent
MODULES = sorted(
    ".".join(file.relative_to(PACKAGE.parent).with_suffix("").parts)
    for file in PACKAGE.rglob("*.py")
    if file.stem not in {"__init__", "__main__"}
)


def test_it_answers_as_a_compiled_pattern() -> None:
    source, text = r"(?P<number>\d+) g\b", "20 g and 30 G"
    lazy, plain = regex(source, re.IGNORECASE), re.compile(source, re.IGNORECASE)
    for _ in range(2):
        assert [one.groupdict() for one in lazy.finditer(text)] == [
            one.groupdict() for one in plain.finditer(text)
        ]
        assert lazy.sub("x", text) == plain.sub("x", text) == "x and x"
        assert (lazy.pattern, lazy.flags) == (plain.pattern, plain.flags)
        assert lazy.fullmatch(text) is None


def test_a_faulty_one_raises_at_its_first_use() -> None:
    faulty = regex("(")
    with pytest.raises(re.error):
        faulty.match("")


@pytest.mark.parametrize("name", MODULES)
def test_each_pattern_of_the_package_is_sound(name: str) -> None:
    for value in vars(import_module(name)).values():
        if type(value) is type(regex("")):
            unproven: Any = value
            assert unproven.pattern is not None


def test_importing_the_stages_compiles_next_to_nothing() -> None:
    """In a process of its own; what libraries compile is not counted."""
    code = """
import re, sys
compiled, real = [], re._compile
def counted(pattern, flags):
    caller = sys._getframe(2).f_globals.get("__name__", "")
    if caller.startswith("cardsmith") and (caller, pattern) not in compiled:
        compiled.append((caller, pattern))
    return real(pattern, flags)
re._compile = counted
import cardsmith.flow
print(len(compiled), *compiled[:20], sep="\\n")
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert int(done.stdout.splitlines()[0]) <= 40, done.stdout
