"""The preview's work: watch the publication, build what changed, tell the pages.

Each build is a separate process, as by hand: whatever goes wrong in it, the preview goes on, and an edited
template is read afresh. It starts from one that has loaded cardsmith already (`cardsmith.preview.preload`).
"""

from __future__ import annotations

import json
import multiprocessing
import os
import signal
import tempfile
import threading
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from cardsmith.house.files import tables_folder
from cardsmith.preview.news import News
from cardsmith.preview.server import State

INTERVAL = 0.15  # seconds between two looks at the files
CommandLine = Callable[[tuple[str, ...]], int]  # gives its exit code
Looks = Mapping[str, tuple[int, ...]]


def look(folders: tuple[Path, ...]) -> Looks:
    """The dates and sizes of all files in the folders; files that vanish meanwhile are left out."""
    found: dict[str, tuple[int, ...]] = {}
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
                        found[one.path] = (seen.st_mtime_ns, seen.st_ctime_ns, seen.st_size, seen.st_ino)
        except OSError:
            continue
    return found


def build(
    command: CommandLine, root: Path, pages: bool, is_old: Callable[[], bool], recipe: str = ""
) -> News | None:
    """Build what changed in the publication by ``command``: its findings, and why it failed where it did.

    With ``recipe`` that alone, in one process. None where it was stopped because ``is_old`` said that
    something newer is to be built.
    """
    alone = ("--serial", recipe) if recipe else ()
    arguments = ("--publication", str(root), "build", "--json", *(["--pages"] if pages else []), *alone)
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(["cardsmith.preview.preload", command.__module__])
    with tempfile.TemporaryDirectory() as folder:
        said, complained = Path(folder, "said"), Path(folder, "complained")
        running = context.Process(target=_run, args=(command, arguments, said, complained, root))
        try:
            running.start()
            while running.exitcode is None:
                running.join(INTERVAL)
                if (
                    running.exitcode is None and is_old()
                ):  # its finished files are complete: the next build goes on from there
                    return None
        finally:
            if running.exitcode is None and running.pid:
                os.kill(running.pid, signal.SIGINT)
                running.join()
        told, fault = (file.read_text("utf-8") if file.is_file() else "" for file in (said, complained))
    try:
        found = json.loads(told)
        return News(findings=tuple(found["findings"]), drafts=found["drafts"], editor=found["editor"])
    except (ValueError, KeyError):
        return News(fault=fault.strip() or f"the build ended with {running.exitcode}")


def _run(command: CommandLine, arguments: tuple[str, ...], said: Path, complained: Path, root: Path) -> None:
    from cardsmith.preview import preload  # noqa: PLC0415 - loaded where this runs, never in the preview itself

    if not said.parent.is_dir():
        return  # the preview ended before this began
    preload.run(command, arguments, said, complained, root)


def follow(
    root: Path,
    state: State,
    stop: threading.Event,
    said: Callable[[str], None],
    building: Callable[[Path, bool, Callable[[], bool], str], News | None],
) -> None:
    """Build now by ``building``, and again after every change, until ``stop``; ``state`` gets every result.

    The page that is looked at comes first, then all pages, each told of; cards on paper, which take longer,
    follow. Both give way to the next edit, once the page that is looked at is there.
    """
    folders = (root / "recipes", root / "templates", tables_folder(root))
    before: Looks | None = None
    told: News | None

    def is_old() -> bool:
        return stop.is_set() or look(folders) != before

    while not stop.is_set():
        now = look(folders)
        if now == before:
            stop.wait(INTERVAL)
            continue
        before = now  # what changes while it builds is built next
        first, told = state.viewed, None
        if first and (found := building(root, True, stop.is_set, first)) and not found.fault:
            told = state.told.with_recipe(first, found)
            state.tell(told, of=first)
        for pages in (True, False):
            found = building(root, pages, is_old if first or not pages else stop.is_set, "")
            if found is None:
                break
            if pages or found != told:  # the page that is looked at may show it already
                state.tell(found, but=first if found == told else "")
                said(found.fault or _summary(found.findings))
            told = found


def _summary(findings: tuple[Mapping[str, Any], ...]) -> str:
    errors = [one for one in findings if one["severity"] == "error"]
    lines = [f"{one['file']}:{one['line']}: error: {one['what']} - {one['instead']}" for one in errors]
    return "\n".join((*lines, f"built: {len(findings)} findings, {len(errors)} at error"))
