"""How a file is written whole: nobody ever sees a part of it."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from cardsmith.reading import Stamp, digest_of


def write_whole(file: Path, data: bytes, through: Path | None = None) -> Stamp:
    """Write ``file`` whole or not at all: a temporary file, flushed to disk, then renamed; its stamp.

    The temporary file lies in ``through``, a folder of the same disk, else beside the file.
    """
    file.parent.mkdir(parents=True, exist_ok=True)
    handle, temporary = tempfile.mkstemp(dir=through or file.parent, prefix=f".{file.name}.")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
            os.fchmod(stream.fileno(), 0o644)
            state = os.fstat(stream.fileno())
        Path(temporary).replace(file)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise
    return Stamp(digest=digest_of(data), changed=state.st_mtime_ns, size=state.st_size, inode=state.st_ino)
