"""What holds for all tests."""

from __future__ import annotations

import os
from collections.abc import Generator

import pytest
from hypothesis import settings

# The first example of a process reads tables and compiles patterns: on a busy machine no deadline holds.
settings.register_profile("cardsmith", deadline=None)
settings.load_profile("cardsmith")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Where nothing may be missing, as in CI, a test that would be skipped for want of something fails."""
    report = yield
    if report.skipped and not hasattr(report, "wasxfail") and os.environ.get("CARDSMITH_NOTHING_SKIPPED"):
        report.outcome = "failed"
        report.longrepr = f"skipped, and nothing may be: {report.longrepr}"
    return report
