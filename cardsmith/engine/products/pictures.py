"""Pictures made ready once, whatever is made anew around them: kept below build/."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import PIL

from cardsmith.engine.freshness.inputs import libraries
from cardsmith.engine.machine.output import OF_PICTURE
from cardsmith.files.reading import DIGEST, digest_of
from cardsmith.files.writing import OutputFolder
from cardsmith.frozen import frozen
from cardsmith.render.pictures.prepare import VERSION


@frozen(kw_only=False)
class KeptPictures:
    """A folder of pictures, each by what it was made from, how, and with which libraries."""

    folder: Path

    def __call__(self, of: bytes, how: str, make: Callable[[], bytes]) -> bytes:
        """The picture made of ``of``; ``how`` says all that it rests on besides."""
        kept = OutputFolder(self.folder)
        key = f"{VERSION} {PIL.__version__} {libraries()['resvg_py']} {how}".encode()
        # By its beginning a build knows whose it is, and throws it away when no recipe has that picture.
        file = f"{digest_of(of)[:OF_PICTURE]}-{hashlib.sha256(key).hexdigest()[:16]}"
        made = _sound(kept.read(file) or b"")
        if not made:
            made = make()
            with suppress(
                OSError
            ):  # kept only to save time; a disk that is full stops what is written for good
                kept.write(file, digest_of(made).encode() + made)
        return made


def _sound(kept: bytes) -> bytes:
    """What was kept behind its digest; empty where it is not what was put there."""
    digest, data = kept[:DIGEST], kept[DIGEST:]
    return data if digest == digest_of(data).encode() else b""
