"""Tools that are no Python package: where they are, and what happens where they are not.

What a test needs and the machine lacks skips it, with what to install; where CARDSMITH_WEB_TOOLS_REQUIRED is
set, as it is in CI, it fails instead. CARDSMITH_WEB_TOOLS names a folder that holds node_modules (default:
this one, after `npm install --prefix tests/web`).
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import NoReturn

import pytest

TOOLS = Path(os.environ.get("CARDSMITH_WEB_TOOLS") or Path(__file__).parent) / "node_modules"


def lack(what: str) -> NoReturn:
    """Skip a test for want of a tool; fail it where the tools must be there."""
    if os.environ.get("CARDSMITH_WEB_TOOLS_REQUIRED"):
        pytest.fail(what)
    pytest.skip(what)


def tool(path: str) -> Path:
    """A file of a node package."""
    if not (TOOLS / path).is_file():
        lack(f"{path} is missing: npm install --prefix tests/web")
    return TOOLS / path
