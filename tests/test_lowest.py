"""The bounds of pyproject.toml: tested versions, and `ready` compares with what is installed."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

from cardsmith.engine.machine.ready import libraries, needs

ROOT = Path(__file__).parents[1]
TOLD = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["dependencies"]


def test_every_library_has_a_lowest_version_that_is_tried() -> None:
    command = [sys.executable, ROOT / ".ci/lowest.py"]
    lines = subprocess.run(command, capture_output=True, text=True, check=True).stdout.splitlines()
    assert len(lines) == len(TOLD)
    assert all(line.count("==") == 1 and "[" not in line for line in lines)


def test_a_version_that_is_known_to_break_a_build_is_lacking() -> None:
    there = {"pikepdf": "10.13.9", "pillow": "10.3.0", "weasyprint": "70.0"}
    answers = {one.asked: one for one in libraries(needs(TOLD), there)}
    for name in ("pikepdf", "pillow"):
        assert not answers[f"library {name}"].fine
    assert "pikepdf>=10.14" in answers["library pikepdf"].instead
    assert answers["library weasyprint"].fine
