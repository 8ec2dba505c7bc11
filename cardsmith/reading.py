"""Files read on the way to a card, each remembered with its digest, for a later build to compare."""

from __future__ import annotations

import hashlib
import os
import time
from collections.abc import Mapping
from contextvars import ContextVar
from dataclasses import dataclass
from pathlib import Path

ABSENT = ""  # the digest of a file that is not there, or that may not be read
_read: ContextVar[Path | None] = ContextVar("_read", default=None)
_SETTLED = 50_000_000  # ns: a file written this recently may change again without a change of its time


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """What tells a file apart: its digest, and how it looked when that was taken."""

    digest: str  # SHA-256 in hexadecimal; empty for a file that is not there
    changed: int = 0  # ns since 1970, modification; 0 where only the digest may be trusted
    size: int = 0  # bytes
    inode: int = 0

    def looks_like(self, now: os.stat_result) -> bool:
        """Whether a file is so surely the same that it need not be read again."""
        return (self.changed, self.size, self.inode) == (now.st_mtime_ns, now.st_size, now.st_ino)


def last_read() -> Path | None:
    """The author's file that was read last, to be named where something goes wrong."""
    return _read.get()


def digest_of(data: bytes) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def stamp_of(file: str | Path) -> Stamp:
    """The stamp of a file as it is now."""
    return stamped(file)[1]


def stamped(file: str | Path) -> tuple[bytes | None, Stamp]:
    """The bytes of a file and their stamp, which holds for just these; None for a file that is not there."""
    try:
        with Path(file).open("rb") as stream:
            before = os.fstat(stream.fileno())
            data = stream.read()
            after = os.fstat(stream.fileno())
    except (FileNotFoundError, NotADirectoryError, IsADirectoryError):
        return None, Stamp(digest=ABSENT)
    digest = digest_of(data)
    settled = before == after and time.time_ns() - after.st_mtime_ns > _SETTLED
    if not settled:
        return data, Stamp(digest=digest)
    return data, Stamp(digest=digest, changed=after.st_mtime_ns, size=after.st_size, inode=after.st_ino)


class Reader:
    """Reads below one folder and keeps account: of what was there, and of what was looked for in vain."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self._seen: dict[str, Stamp] = {}

    @property
    def seen(self) -> Mapping[str, Stamp]:
        """The stamp of every file asked for, by its path below the root (whole, where it lies elsewhere)."""
        return dict(self._seen)

    def read(self, file: Path) -> bytes | None:
        """The bytes of a file; None where it is missing."""
        _read.set(file)
        data, self._seen[self._key(file)] = stamped(file)
        return data

    def read_beside(self, file: Path, name: str) -> bytes | None:
        """A file in the folder of ``file`` or below; None where it is missing or a link leads elsewhere."""
        beside = file.parent / name
        if not beside.resolve().is_relative_to(file.parent.resolve()):
            self._seen[self._key(beside)] = Stamp(digest=ABSENT)
            return None
        return self.read(beside)

    def _key(self, file: Path) -> str:
        return str(file.relative_to(self.root)) if file.is_relative_to(self.root) else str(file)
