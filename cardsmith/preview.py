"""The preview's work: watch the publication, build what changed, tell the pages.

Each build is a process of its own, as by hand: whatever goes wrong in it, the preview goes on, and an edited
template is read afresh.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from cardsmith.preview_server import State

INTERVAL = 0.4  # seconds between two looks at the files
Looks = Mapping[str, tuple[int, int]]


def look(folders: tuple[Path, ...]) -> Looks:
    """The dates and sizes of all files in the folders; what vanishes meanwhile is not there."""
    found: dict[str, tuple[int, int]] = {}
    waiting = [str(folder) for folder in folders]
    while waiting:
        try:
            with os.scandir(waiting.pop()) as entries:
                for one in entries:
                    if one.name.startswith("."):
                        continue
                    if one.is_dir(follow_symlinks=False):
                        waiting.append(one.path)
                    else:
                        seen = one.stat()
                        found[one.path] = (seen.st_mtime_ns, seen.st_size)
        except OSError:
            continue
    return found


def build(root: Path) -> tuple[tuple[Mapping[str, Any], ...], str]:
    """Build what changed in the publication: its findings, and why it failed where it did."""
    command = [sys.executable, "-m", "cardsmith", "--publication", str(root), "build", "--json"]
    done = subprocess.run(command, capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL)
    try:
        return tuple(json.loads(done.stdout)["findings"]), ""
    except (ValueError, KeyError):
        return (), done.stderr.strip() or f"the build ended with {done.returncode}"


def follow(
    root: Path,
    state: State,
    stop: threading.Event,
    said: Callable[[str], None],
    building: Callable[[Path], tuple[tuple[Mapping[str, Any], ...], str]] = build,
) -> None:
    """Build at once, and again after every change, until ``stop``; each time tell ``state``."""
    folders = (root / "recipes", root / "templates")
    before: Looks | None = None
    while not stop.is_set():
        now = look(folders)
        if now != before:
            before = now  # what changes while it builds is built next
            findings, fault = building(root)
            state.tell(findings, fault)
            said(fault or _summary(findings))
        else:
            stop.wait(INTERVAL)


def _summary(findings: tuple[Mapping[str, Any], ...]) -> str:
    errors = [one for one in findings if one["severity"] == "error"]
    lines = [f"{one['file']}:{one['line']}: error: {one['what']} - {one['instead']}" for one in errors]
    return "\n".join((*lines, f"built: {len(findings)} findings, {len(errors)} at error"))
