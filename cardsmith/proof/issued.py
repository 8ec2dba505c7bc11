"""Issued proofs beside a recipe: ``recipes/NAME/proofs/01.json`` and on. Written once, never over.

Those of a further edition have numbers of their own in a folder of its key: ``proofs/uk/01.json``.
"""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path

from cardsmith.edition.markets import EDITIONS
from cardsmith.files.reading import lies_below, read_plain
from cardsmith.finding import CardsmithError, Finding, Where, error
from cardsmith.proof.snapshot import DamagedProof, Snapshot, read_snapshot, write_snapshot

FOLDER = "proofs"
_NAME = re.compile(r"(\d{2,4})\.json")


def proof_folder(recipe_file: Path, edition: str = "") -> Path:
    """Where the proofs of a recipe stand, or those of one of its further editions."""
    return recipe_file.with_name(FOLDER) / edition


def proof_files(recipe_file: Path, shown: str, edition: str = "") -> tuple[Path, ...]:
    """The issued proofs of a recipe, by number; empty where there is no such folder.

    Raises:
        DamagedProof: a file's name is not that of a proof, or a number is missing.
    """
    folder = proof_folder(recipe_file, edition)
    names = sorted(file.name for file in folder.iterdir()) if folder.is_dir() else []
    return tuple(folder / name for name in checked_names(names, _shown(shown, edition)))


def _shown(recipe: str, edition: str) -> str:
    return f"{recipe}/{FOLDER}/{edition}".removesuffix("/")


def checked_names(names: Iterable[str], shown: str) -> tuple[str, ...]:
    """The names of proofs among ``names``, by number; hidden files and folders of editions are left out.

    Raises:
        DamagedProof: a stray name, or a gap.
    """
    dates: dict[int, str] = {}
    for name in names:
        if name.startswith(".") or name in EDITIONS:
            continue
        match = _NAME.fullmatch(name)
        if match is None or not int(match[1]) or file_name(int(match[1])) != name:
            raise DamagedProof(
                f"{shown}/{name} is not an issued proof; proofs are 01.json, 02.json and on: move it"
            )
        dates[int(match[1])] = name
    missing = [number for number in range(1, max(dates, default=0)) if number not in dates]
    if missing:
        raise DamagedProof(
            f"{shown}/ has no {file_name(missing[0])}; take it back from version control or a backup"
        )
    return tuple(dates[number] for number in sorted(dates))


def read_proofs(recipe_file: Path, shown: str, edition: str = "") -> tuple[Snapshot, ...]:
    """Every issued proof of a recipe or of its edition, the oldest first; ``shown`` names its folder.

    Raises:
        DamagedProof: one is damaged or edited.
    """
    return tuple(
        read_snapshot(_bytes(file, name), name, number)
        for number, file in enumerate(proof_files(recipe_file, shown, edition), 1)
        for name in (f"{_shown(shown, edition)}/{file.name}",)
    )


def _bytes(file: Path, shown: str) -> bytes:
    return read_plain(file, file.parents[1], shown) or b""


def latest_proof(
    read: Callable[[Path], bytes | None], recipe_file: Path, shown: str, edition: str = ""
) -> tuple[Snapshot | None, tuple[Finding, ...]]:
    """The latest issued proof of a recipe, and an error where it can't be trusted; earlier ones are not read.

    ``read`` gives the bytes of a file, or None where there is none.
    """
    number, data = 0, None
    while (proof := read(proof_folder(recipe_file, edition) / file_name(number + 1))) is not None:
        number, data = number + 1, proof
    if data is None:
        return None, ()
    name = f"{_shown(shown, edition)}/{file_name(number)}"
    try:
        return read_snapshot(data, name, number), ()
    except DamagedProof as fault:
        what, _, instead = str(fault).removeprefix(f"{name}: ").partition("; ")
        where = Where(file=name)
        return None, (error("proof-damaged", where, what, instead),)


def file_name(number: int) -> str:
    """``03.json``."""
    return f"{number:02d}.json"


def keep(recipe_file: Path, snapshot: Snapshot, edition: str = "") -> Path:
    """Write an issued proof, whole or not at all, and never over another.

    Raises:
        CardsmithError: that number was issued meanwhile, or the folder is a symbolic link to another place.
    """
    target = proof_folder(recipe_file, edition) / file_name(snapshot.number)
    if not lies_below(target.parent, recipe_file.parent):
        raise CardsmithError(
            f"{target.parent} leads by a symbolic link out of the recipe's folder; nothing is written there, "
            "so put a folder in its place"
        )
    target.parent.mkdir(parents=True, exist_ok=True)
    handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(write_snapshot(snapshot))
            stream.flush()
            os.fsync(stream.fileno())
        Path(temporary).chmod(0o644)
        target.hardlink_to(temporary)
    except FileExistsError as taken:
        raise CardsmithError(
            f"proof {snapshot.number} was issued meanwhile; look at it, then ask again"
        ) from taken
    finally:
        Path(temporary).unlink(missing_ok=True)
    return target
