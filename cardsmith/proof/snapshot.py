"""An issued proof as it is kept: words and numbers in print, the author's file, sealed."""

from __future__ import annotations

import datetime
import hashlib
import json
from collections.abc import Sequence
from dataclasses import field
from typing import Any

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.proof.fields import FieldNumber, ProofField

FORMAT = 1
MARK = 8  # how many digits of a version are printed
LONGEST = 20_000_000  # bytes
_KEYS = ("format", "recipe", "number", "date", "version", "rests_on", "trials", "printed", "source", "seal")


class DamagedProof(CardsmithError):  # noqa: N818 - the name says what is the matter
    """A kept proof that was altered after issue; it is neither compared with nor overwritten."""


@frozen
class Snapshot:
    """One issued proof."""

    recipe: str  # the folder's name then
    number: int  # counts from 1
    date: str  # of issue: 2026-06-02
    version: str  # SHA-256 of the recipe file, as hexadecimal digits
    rests_on: str  # the trial that ``tested:`` named; empty for none
    trials: tuple[int, ...]  # all that were recorded then
    printed: tuple[ProofField, ...] = field(repr=False)
    source: str = field(repr=False)  # the recipe file

    def shows(self, version: str, printed: tuple[ProofField, ...]) -> bool:
        """Whether a card of this version that says ``printed`` is the card of this proof."""
        return self.version == version and self.printed == printed


def version_of_source(source: bytes) -> str:
    """The hash that identifies a recipe file; `MARK` digits of it are printed.

    Unlike the mark that readers' corrections use (recipe/mark.py), it changes with every byte: a press
    file and a proof hold the headnote and the picture too.
    """
    return hashlib.sha256(source).hexdigest()


def write_snapshot(snapshot: Snapshot) -> bytes:
    """The file of a proof: JSON that people can read too; the same proof always gives the same bytes."""
    record: dict[str, Any] = {
        "format": FORMAT,
        "recipe": snapshot.recipe,
        "number": snapshot.number,
        "date": snapshot.date,
        "version": snapshot.version,
        "rests_on": snapshot.rests_on,
        "trials": list(snapshot.trials),
        "printed": [_record(field) for field in snapshot.printed],
        "source": snapshot.source.split("\n"),
    }
    record["seal"] = _seal(record)
    return (json.dumps(record, indent=1, ensure_ascii=False) + "\n").encode()


def _record(field: ProofField) -> dict[str, Any]:
    record: dict[str, Any] = {"place": field.place, "kind": field.kind, "at": field.at}
    record |= {name: value for name, value in (("key", field.key), ("part", field.part)) if value}
    record["words"] = dict(field.words)
    if field.figures:
        record["figures"] = [
            {"author": figure.author, "us": figure.us, "metric": figure.metric} for figure in field.figures
        ]
    return record


def _seal(record: dict[str, Any]) -> str:
    unsealed = {key: value for key, value in record.items() if key != "seal"}
    text = json.dumps(unsealed, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def read_snapshot(data: bytes, shown: str, number: int) -> Snapshot:
    """A proof from its file. ``shown`` names the file in messages, ``number`` is that of its name.

    Raises:
        DamagedProof: cut short, edited, or of another number.
    """
    record = _told(data, shown)
    try:
        if set(record) != set(_KEYS) or record["format"] != FORMAT:
            raise _damaged(shown, "its keys are not those of a proof")
        if record["seal"] != _seal(record):
            raise _damaged(shown, "it was edited after it was issued")
        if record["number"] != number:
            raise _damaged(shown, f"it is proof {record['number']} by its own words")
        datetime.date.fromisoformat(record["date"])
        return Snapshot(
            recipe=str(record["recipe"]),
            number=number,
            date=record["date"],
            version=str(record["version"]),
            rests_on=str(record["rests_on"]),
            trials=tuple(int(number) for number in record["trials"]),
            printed=tuple(_field(field) for field in record["printed"]),
            source="\n".join(record["source"]),
        )
    except (KeyError, TypeError, ValueError, AttributeError) as fault:
        raise _damaged(shown, f"it can't be read ({fault})") from fault


def _told(data: bytes, shown: str) -> dict[str, Any]:
    if len(data) > LONGEST:
        raise _damaged(shown, f"it has more than {LONGEST} bytes")
    try:
        record = json.loads(data)
    except (ValueError, RecursionError) as fault:
        raise _damaged(shown, "it is not a complete JSON file") from fault
    if not isinstance(record, dict):
        raise _damaged(shown, "it is not a proof")
    return record


def _field(record: dict[str, Any]) -> ProofField:
    return ProofField(
        kind=record["kind"],
        at=record["at"],
        place=record["place"],
        key=record.get("key", ""),
        part=record.get("part", ""),
        words={str(cell): str(words) for cell, words in record["words"].items()},
        figures=tuple(_figures(record.get("figures", ()))),
    )


def _figures(records: Sequence[dict[str, str]]) -> list[FieldNumber]:
    return [
        FieldNumber(author=record["author"], us=record["us"], metric=record["metric"]) for record in records
    ]


def _damaged(shown: str, what: str) -> DamagedProof:
    return DamagedProof(
        f"{shown}: {what}; take the file back from version control or a backup, "
        "or move it out of the folder to do without it. Nothing was changed"
    )
