"""What follows from the package, kept for the next command: patterns compiled, the larder, the house style.

A file a subject in the user's cache. It holds for this interpreter and for every file of the package as it
looks now: after an update or an edit it is as if there were none. What is torn, or may be another's, is
passed over; where nothing can be written, all is worked out each time.
"""

from __future__ import annotations

import hashlib
import os
import stat
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

T = TypeVar("T")
_PACKAGE = os.path.dirname(os.path.dirname(__file__))  # noqa: PTH120 - also for the shortest commands
_SIZE = hashlib.sha256().digest_size
_OF_OTHERS = stat.S_IWGRP | stat.S_IWOTH
_NAME = 16  # letters of a digest that tell one installation from another


def kept(subject: str, work: Callable[[], T], of: bytes = b"") -> T:
    """What ``work`` gives, from an earlier command where that still holds.

    It rests on the package and on ``of`` alone, and what was last kept of a subject is kept.
    """
    known = recall(subject, of)
    if known is not None:
        value: T = known
        return value
    made = work()
    keep(subject, made, of)
    return made


def recall(subject: str, of: bytes = b"") -> Any:
    """What was kept; None where there is nothing that holds."""
    try:
        with _file(subject).open("rb") as stream:
            seen = os.fstat(stream.fileno())
            if seen.st_uid != os.getuid() or seen.st_mode & _OF_OTHERS:
                return None
            data = stream.read()
    except OSError:
        return None
    import pickle  # noqa: PLC0415 - the shortest commands keep nothing

    return pickle.loads(data[_SIZE:]) if data[:_SIZE] == _digest(of, data[_SIZE:]) else None


def keep(subject: str, value: object, of: bytes = b"") -> None:
    """Put ``value`` in the place of what was kept, whole or not at all."""
    import pickle  # noqa: PLC0415

    file, payload = _file(subject), pickle.dumps(value, pickle.HIGHEST_PROTOCOL)
    beside = file.with_name(f"{file.name}.{os.urandom(4).hex()}")
    with suppress(OSError):
        file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        try:
            beside.write_bytes(_digest(of, payload) + payload)
            beside.chmod(0o600)
            beside.replace(file)
        finally:
            beside.unlink(missing_ok=True)


def _file(subject: str) -> Path:
    base = Path(os.environ.get("XDG_CACHE_HOME", ""))
    if not base.is_absolute():  # XDG Base Directory Specification 0.8
        base = Path(os.path.expanduser("~"), ".cache")  # noqa: PTH111 - it raises nothing
    if not base.is_absolute():  # a user without a home keeps nothing
        base = Path(os.devnull)
    installed = hashlib.sha256(f"{_PACKAGE}\n{sys.implementation.cache_tag}".encode()).hexdigest()
    return base / "cardsmith" / installed[:_NAME] / subject


def _digest(of: bytes, payload: bytes) -> bytes:
    return hashlib.sha256(b"".join((_state(), b"%d " % len(of), of, payload))).digest()


@cache
def _state() -> bytes:
    """How the interpreter and every file of the package look."""
    return repr((sys.version, sorted(_looks(_PACKAGE)))).encode()


def _looks(folder: str) -> Iterator[tuple[str, int, int, int]]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir():
                if entry.name != "__pycache__":
                    yield from _looks(entry.path)
            else:
                seen = entry.stat()
                yield entry.path, seen.st_size, seen.st_mtime_ns, seen.st_ctime_ns
