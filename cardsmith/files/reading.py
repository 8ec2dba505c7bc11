"""Files read on the way to a card: plain files in their own folder only, each remembered with its digest.

A pipe never ends, a device is no recipe, and a link may lead to what the author never meant to print.
"""

from __future__ import annotations

import hashlib
import os
import stat
import time
from collections.abc import Mapping
from contextvars import ContextVar
from pathlib import Path

from cardsmith.finding import CardsmithError, Finding, Where, error
from cardsmith.frozen import frozen

DIGEST = 64  # letters of one
ABSENT = ""  # the digest of a file that is not there, or that may not be read
LARGEST = 50_000_000  # bytes; a photo for press has some 20 million, text has limits of its own
_read: ContextVar[Path | None] = ContextVar("_read", default=None)
_SETTLED = 50_000_000  # ns: a file written this recently may change again without a change of its time


@frozen
class Stamp:
    """What tells a file apart: its digest, and how it looked when that was taken."""

    digest: str  # SHA-256 in hexadecimal; empty for a file that is not there
    changed: int = 0  # ns since 1970, modification; 0 where only the digest may be trusted
    altered: int = 0  # the same of its state, which no program can set: an edit whose date is put back tells
    size: int = 0  # bytes
    inode: int = 0

    @staticmethod
    def of(digest: str, seen: os.stat_result) -> Stamp:
        """The stamp of a file that looked so when its digest was taken."""
        return Stamp(
            digest=digest,
            changed=seen.st_mtime_ns,
            altered=seen.st_ctime_ns,
            size=seen.st_size,
            inode=seen.st_ino,
        )

    def looks_like(self, now: os.stat_result) -> bool:
        """Whether a file is so surely the same that it need not be read again."""
        return (self.changed, self.altered, self.size, self.inode) == (
            now.st_mtime_ns,
            now.st_ctime_ns,
            now.st_size,
            now.st_ino,
        )


def last_read() -> Path | None:
    """The author's file that was read last, to be named where something goes wrong."""
    return _read.get()


def digest_of(data: bytes) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


class Refused(CardsmithError):  # noqa: N818 - the name says what is the matter
    """A file that may not be read: no plain one, elsewhere by a link, or larger than any has reason to be."""

    def __init__(self, file: str, what: str, instead: str) -> None:
        super().__init__(file, what, instead)

    def __str__(self) -> str:
        file, what, instead = self.args
        return f"{file} {what}; {instead}"

    def finding(self) -> Finding:
        """The same, said of the author's file."""
        file, what, instead = self.args
        where = Where(file=file)
        return error("file-refused", where, f"it {what}", instead)


def allow(file: Path, folder: Path, shown: str) -> None:
    """Pass where ``file`` is a plain one that truly lies below ``folder``, or where there is none.

    Raises:
        Refused: it is none such; ``shown`` is its name in the message.
    """
    if not lies_below(file, folder):
        what = "leads by a symbolic link out of where it stands"
        raise Refused(shown, what, "put the file itself there; nothing outside is read")
    try:
        state = os.stat(file)  # noqa: PTH116
    except (FileNotFoundError, NotADirectoryError):
        return
    except OSError as fault:
        raise _unreadable(shown, fault) from fault
    if not stat.S_ISREG(state.st_mode):
        what = "is a folder" if stat.S_ISDIR(state.st_mode) else "is a pipe or a device"
        raise Refused(shown, what, "put a file there")
    if state.st_size > LARGEST:
        what = f"has {state.st_size // 1_000_000:,} MB, over {LARGEST // 1_000_000}"
        raise Refused(shown, what, "put there what belongs to this recipe alone")


def lies_below(file: str | Path, folder: str | Path) -> bool:
    """Whether a file lies below a folder when every link is followed but those on the way to the folder."""
    return Path(os.path.realpath(file)).is_relative_to(os.path.realpath(folder))


def read_plain(file: Path, folder: Path, shown: str) -> bytes | None:
    """The bytes of a file below ``folder``; None where there is none.

    Raises:
        Refused: as `allow`.
    """
    return _read_stamped(file, folder, shown)[0]


def _read_stamped(file: Path, folder: Path, shown: str) -> tuple[bytes | None, Stamp]:
    _read.set(file)
    allow(file, folder, shown)
    try:
        return stamped(file)
    except OSError as fault:
        raise _unreadable(shown, fault) from fault


def _unreadable(shown: str, fault: OSError) -> Refused:
    return Refused(shown, f"cannot be read ({fault.strerror})", "see to it that you may read it")


def stamp_of(file: str | Path, folder: str | Path | None = None) -> Stamp:
    """The stamp of a file as it is now; that of an absent one where it lies by a link outside ``folder``."""
    if folder is not None and not lies_below(file, folder):
        return Stamp(digest=ABSENT)
    return stamped(file)[1]


def _at_once(path: str, flags: int) -> int:
    return os.open(path, flags | os.O_NONBLOCK)  # a pipe is not waited for


def stamped(file: str | Path) -> tuple[bytes | None, Stamp]:
    """The bytes of a file and their stamp, which holds for just these.

    None where there is no such file, where it is no plain one, or is too large.
    """
    try:
        with open(file, "rb", opener=_at_once) as stream:
            before = os.fstat(stream.fileno())
            if not stat.S_ISREG(before.st_mode) or before.st_size > LARGEST:
                return None, Stamp(digest=ABSENT)
            data = stream.read()
            after = os.fstat(stream.fileno())
    except (FileNotFoundError, NotADirectoryError, IsADirectoryError):
        return None, Stamp(digest=ABSENT)
    digest = digest_of(data)
    stamp, latest = Stamp.of(digest, after), max(after.st_mtime_ns, after.st_ctime_ns)
    settled = stamp.looks_like(before) and time.time_ns() - latest > _SETTLED
    return data, stamp if settled else Stamp(digest=digest)


class Reader:
    """Reads below one folder, and records what was there and what was looked for in vain."""

    def __init__(self, root: Path) -> None:
        self.root = root  # a publication's
        self.recipes = root / "recipes"
        self._seen: dict[str, Stamp] = {}

    @property
    def seen(self) -> Mapping[str, Stamp]:
        """The stamp of every file asked for, by its path below the root (whole, where it lies elsewhere)."""
        return dict(self._seen)

    def read(self, file: Path) -> bytes | None:
        """The bytes of a file; None where it is missing.

        Raises:
            Refused: it is not a plain file, or lies by a link outside the recipes.
        """
        whole = file.absolute()
        return self._read(file, self.recipes if whole.is_relative_to(self.recipes) else whole.parent)

    def read_beside(self, file: Path, name: str) -> bytes | None:
        """A file in the folder of ``file`` or below; None where it is missing.

        Raises:
            Refused: it is not a plain file, or lies by a link outside that folder.
        """
        return self._read(file.parent / name, file.parent)

    def _read(self, file: Path, folder: Path) -> bytes | None:
        key = self._key(file)
        self._seen[key] = Stamp(digest=ABSENT)
        data, self._seen[key] = _read_stamped(file, folder, key)
        return data

    def _key(self, file: Path) -> str:
        return str(file.relative_to(self.root)) if file.is_relative_to(self.root) else str(file)
