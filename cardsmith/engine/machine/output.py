"""The folder ``build/`` at the edge: what stands where, and that one build at a time holds it."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from cardsmith.edition.markets import EDITIONS
from cardsmith.engine.machine.messages import refusal
from cardsmith.files.writing import OutputFolder
from cardsmith.finding import CardsmithError

# Below build/: what a machine keeps for itself.
LOCK = ".cache/lock"
MANIFEST = ".cache/manifest"
TEMPORARY = ".cache/tmp"  # files being written
PICTURES = ".cache/pictures"  # made ready for paper, each named after the picture it was made from:
OF_PICTURE = 32  # by so many letters of its digest


@contextmanager
def held(build: Path, waiting: Callable[[], None]) -> Iterator[None]:
    """Hold the folder for one build; where another holds it, ``waiting`` is called and its end awaited.

    The lock is the system's own, so that it goes with its process, however that ends.

    Raises:
        CardsmithError: nothing can be written here, the disk is full, or a link leads elsewhere.
    """
    output = OutputFolder(build)
    try:
        with os.fdopen(output.open(LOCK, os.O_WRONLY | os.O_CREAT), "wb") as lock:
            try:
                fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                waiting()
                fcntl.flock(lock, fcntl.LOCK_EX)
            output.clear(TEMPORARY)  # what a killed build was writing
            yield
    except OSError as fault:
        written = Path(fault.filename or build).is_relative_to(build)
        raise CardsmithError(
            f"{'cannot write ' if written else ''}{'' if fault.filename else f'{build}: '}{refusal(fault)}; "
            "what was finished is whole, and the next build goes on from there"
        ) from fault


def proof_file(name: str, edition: str = "") -> str:
    """Where the proof of a recipe stands, below build/; that of a further edition under its key."""
    return f"cards/{name}/{name}{f'-{edition}' if edition else ''}-proof.pdf"


def proof_files(name: str) -> frozenset[str]:
    """The proofs of a recipe in every edition, which a command of its own writes among the card's files."""
    return frozenset(proof_file(name, edition) for edition in ("", *EDITIONS))
