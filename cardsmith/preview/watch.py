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
    stamps: dict[str, tuple[int, ...]] = {}
    waiting = [str(folder) for folder in folders]
    while waiting:
        try:
            with os.scandir(waiting.pop()) as entries:
                for entry in entries:
                    if entry.name.startswith("."):
                        continue
                    if entry.is_dir(follow_symlinks=False):
                        waiting.append(entry.path)
                    else:
                        seen = entry.stat()
                        stamps[entry.path] = (seen.st_mtime_ns, seen.st_ctime_ns, seen.st_size, seen.st_ino)
        except OSError:
            continue
    return stamps


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
        answer, fault = (file.read_text("utf-8") if file.is_file() else "" for file in (said, complained))
    try:
        report = json.loads(answer)
        return News(findings=tuple(report["findings"]), drafts=report["drafts"], editor=report["editor"])
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
    news: News | None

    def is_old() -> bool:
        return stop.is_set() or look(folders) != before

    while not stop.is_set():
        now = look(folders)
        if now == before:
            stop.wait(INTERVAL)
            continue
        before = now  # what changes while it builds is built next
        first, news = state.viewed, None
        if first and (pages_news := building(root, True, stop.is_set, first)) and not pages_news.fault:
            news = state.told.with_recipe(first, pages_news)
            state.tell(news, of=first)
        for pages in (True, False):
            pages_news = building(root, pages, is_old if first or not pages else stop.is_set, "")
            if pages_news is None:
                break
            if pages or pages_news != news:  # the page that is looked at may show it already
                state.tell(pages_news, but=first if pages_news == news else "")
                said(pages_news.fault or _summary(pages_news.findings))
            news = pages_news


def _summary(findings: tuple[Mapping[str, Any], ...]) -> str:
    errors = [finding for finding in findings if finding["severity"] == "error"]
    lines = [
        f"{error['file']}:{error['line']}: error: {error['what']} - {error['instead']}" for error in errors
    ]
    return "\n".join((*lines, f"built: {len(findings)} findings, {len(errors)} at error"))
