"""What to say where the machine refuses, or where cardsmith itself fails: no trace, and what to do."""

from __future__ import annotations

import errno
import os
from pathlib import Path

from cardsmith.files.reading import last_read
from cardsmith.house.files import shipped_folder

TRACE = "CARDSMITH_TRACE"  # set it, to anything, to see the trace of a fault as well
_REMEDIES = {
    errno.ENOSPC: "make room on the disk",
    errno.EDQUOT: "make room: your share of the disk is used up",
    errno.EACCES: "give yourself the right to it, or work in a folder of your own",
    errno.EPERM: "give yourself the right to it, or work in a folder of your own",
    errno.EROFS: "it cannot be written there; copy the publication to where it can",
    errno.EISDIR: "a folder stands where a file belongs; move it away",
    errno.ENOTDIR: "a file stands where a folder belongs; move it away",
    errno.ENOENT: "put it back, and ask again; it may have gone meanwhile",
    errno.ELOOP: "its symbolic links lead in a circle; put the file itself there",
    errno.ENAMETOOLONG: "give it a shorter name",
    errno.EMFILE: "raise the number of open files with `ulimit -n`, or ask for fewer --jobs",
    errno.ENOMEM: "close other programs, or ask for fewer --jobs",
    errno.EIO: "the disk does not answer as it should; look after it, and have a backup",
}


def remedy(fault: OSError) -> str:
    """What helps against a refusal of the system; empty where that is not known."""
    if fault.errno == errno.ENOENT and (shipped := _shipped(str(fault.filename))):
        return f"copy it there from {shipped}"
    return _REMEDIES.get(fault.errno or 0, "")


def _shipped(file: str) -> Path | None:
    """The file of the style that comes with cardsmith which stands where ``file`` stands in a house's own."""
    _, inside, name = file.rpartition("/templates/")
    path = shipped_folder() / name
    return path if inside and path.is_file() else None


def refusal(fault: OSError) -> str:
    """One line on a refusal of the system: the file, its word for it, the remedy."""
    said = ": ".join(str(part) for part in (fault.filename, fault.strerror or fault) if part)
    return "; ".join(filter(None, (said, remedy(fault))))


def unmet() -> str:
    """What to say where a Python library is not there or too old, which breaks anything; else empty."""
    from cardsmith.engine.machine.questions import outdated  # noqa: PLC0415 - only in trouble

    lacking = "; ".join(
        f"{requirement.asked}: {requirement.found}, {requirement.instead}" for requirement in outdated()
    )
    return f"{lacking}; `cardsmith ready` says what else this machine lacks" if lacking else ""


def own_fault(fault: Exception) -> str:
    """What to say of a fault that can only be cardsmith's own."""
    file = last_read()
    said = " ".join(f"{type(fault).__name__}: {fault}".split())[:200]
    return (
        f"this is a fault of cardsmith ({said})"
        + (f", met after it read {file}" if file else "")
        + "; please report it with "
        + ("that recipe's folder" if file else "the command")
        + ("" if _traced() else f", and what it prints when {TRACE}=1 is set")
    )


def trace(fault: Exception) -> str:
    """The trace of a fault where it is asked for, else empty."""
    if not _traced():
        return ""
    import traceback  # noqa: PLC0415 - only in trouble

    return "".join(traceback.format_exception(fault))


def _traced() -> bool:
    return bool(os.environ.get(TRACE))
