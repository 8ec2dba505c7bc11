"""The folder ``build/`` at the edge: held by one build at a time, swept of what no build wants."""

from __future__ import annotations

import fcntl
import os
import shutil
import time
from collections.abc import Callable, Iterable, Iterator, Set
from contextlib import contextmanager
from pathlib import Path

from cardsmith.finding import CardsmithError
from cardsmith.reading import lies_below
from cardsmith.trouble import refusal

CACHE = ".cache"  # below build/: what a machine keeps for itself
TEMPORARY = ".cache/tmp"  # files being written
PICTURES = ".cache/pictures"  # made ready for paper, each named after the picture it was made from:
OF_PICTURE = 32  # by so many letters of its digest
_WRITING = 3600  # seconds: a hidden file so young is one that another command is writing


@contextmanager
def held(build: Path, waiting: Callable[[], None]) -> Iterator[None]:
    """Hold the folder for one build; where another holds it, ``waiting`` is called and its end awaited.

    The lock is the system's own, so that it goes with its process, however that ends.

    Raises:
        CardsmithError: nothing can be written here, or the disk is full.
    """
    try:
        (build / CACHE).mkdir(parents=True, exist_ok=True)
        with (build / CACHE / "lock").open("ab") as lock:
            try:
                fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                waiting()
                fcntl.flock(lock, fcntl.LOCK_EX)
            shutil.rmtree(build / TEMPORARY, ignore_errors=True)  # what a killed build was writing
            (build / TEMPORARY).mkdir()
            yield
    except OSError as fault:
        raise CardsmithError(
            f"cannot write {'' if fault.filename else f'{build}: '}{refusal(fault)}; what was finished is "
            "whole, and the next build goes on from there"
        ) from fault


def remove(build: Path, paths: Iterable[str]) -> None:
    """Remove files below ``build``, and nothing anywhere else, whatever a manifest says."""
    for path in paths:
        if lies_below((build / path).parent, build):
            (build / path).unlink(missing_ok=True)


def sweep(build: Path, folder: str, wanted: Set[str]) -> list[str]:
    """Remove what is not wanted below ``build``/``folder``, and empty folders; the paths of files removed."""
    removed: list[str] = []
    if not lies_below(build / folder, build):
        return removed  # what stands elsewhere is not ours
    _sweep(str(build), folder, wanted, removed)
    return removed


def _sweep(build: str, folder: str, wanted: Set[str], removed: list[str]) -> bool:
    """The same; whether the folder is gone."""
    try:
        with os.scandir(f"{build}/{folder}") as found:
            entries = list(found)
    except OSError:
        return False
    left = 0
    for one in entries:
        path = f"{folder}/{one.name}"
        if one.is_dir(follow_symlinks=False):
            left += not _sweep(build, path, wanted, removed)
        elif path in wanted or _is_being_written(one):
            left += 1
        else:
            Path(one.path).unlink()
            removed.append(path)
    if not left:
        Path(f"{build}/{folder}").rmdir()
    return not left


def _is_being_written(one: os.DirEntry[str]) -> bool:
    if not one.name.startswith("."):
        return False
    try:
        return time.time() - one.stat(follow_symlinks=False).st_mtime < _WRITING
    except FileNotFoundError:
        return True  # just put in its place
