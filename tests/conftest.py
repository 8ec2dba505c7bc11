"""What holds for all tests."""

from __future__ import annotations

import gc
import os
import re
import tempfile
from collections.abc import Callable, Generator
from pathlib import Path

import pytest
from hypothesis import settings

# The first example of a process reads tables and compiles patterns: on a busy machine no deadline holds.
settings.register_profile("cardsmith", deadline=None)
settings.load_profile("cardsmith")

# Press files that no proof dates have that of this second (2026-11-30): none changes at midnight.
os.environ["SOURCE_DATE_EPOCH"] = "1796000000"

# What commands keep for the next is kept among the temporary files, one folder for all processes.
os.environ["XDG_CACHE_HOME"] = str(Path(tempfile.gettempdir(), f"cardsmith-tests-{os.getuid()}"))


NEW_OBJECTS = 100_000  # before cycles are looked for: the values of a test are many, and dropped without any


def pytest_collection_finish() -> None:
    """Leave what was imported and collected out of every later search for cycles."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(NEW_OBJECTS)


@pytest.fixture(scope="session")
def filled_in() -> Callable[[Path], None]:
    """Writes an author's words over those that hold their place in the recipe of a new publication."""

    def write(file: Path) -> None:
        text = file.read_text(encoding="utf-8")
        assert "‹Say" in text
        text = re.sub(r"‹Say[^›]*›", "Short and sandy, made in one bowl. " * 7, text)
        file.write_text(re.sub(r"‹[^›]*›", "Good with tea.", text), encoding="utf-8")

    return write


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Where nothing may be missing, as in CI, a test that would be skipped for want of something fails."""
    report = yield
    if report.skipped and not hasattr(report, "wasxfail") and os.environ.get("CARDSMITH_NOTHING_SKIPPED"):
        report.outcome = "failed"
        report.longrepr = f"skipped, and nothing may be: {report.longrepr}"
    return report
