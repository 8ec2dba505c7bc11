"""What the last build left: for every recipe what it rested on and what came of it; a journal.

One record a line behind its checksum; a later record of a recipe takes the place of an earlier one. A build
adds a line as each recipe is finished, so a killed one keeps what it had done, and rewrites the file at
its end. A line that is torn or damaged is passed over, and its recipe made again.
"""

from __future__ import annotations

import json
import os
import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field, fields, replace
from operator import attrgetter
from typing import TYPE_CHECKING, Any

from cardsmith.files.reading import Stamp
from cardsmith.finding import Finding, Severity, Where
from cardsmith.frozen import frozen

if TYPE_CHECKING:
    from cardsmith.recipe.model import Accepted

VERSION = 4  # of this format, that of entries included; another one means that all is made again
OWED = ""  # the key of a product that is still to be made
_START = ["cardsmith", VERSION]


@frozen
class Kept:
    """What is known of one recipe, or of the collection as a whole (whose name is empty)."""

    name: str
    reads: Mapping[str, Stamp] = field(default_factory=dict)  # by path below the publication
    grounds: Mapping[str, str] = field(default_factory=dict)  # digest of what each scope rested on
    keys: Mapping[str, str] = field(default_factory=dict)  # of each product
    files: Mapping[str, Mapping[str, Stamp]] = field(default_factory=dict)  # by product, by path below build/
    records: Mapping[str, list[Any]] = field(default_factory=dict)  # findings by product, as JSON has them
    answered: list[Any] = field(default_factory=list)  # findings silenced, each with check, reason and place
    entry: Mapping[str, Any] | None = None

    def findings(self) -> tuple[Finding, ...]:
        """Everything to report about it, in the order in which it was found."""
        return tuple(finding_from(record) for records in self.records.values() for record in records)

    @property
    def told_of(self) -> Mapping[str, Any] | None:
        """What the collection says of it; None where it has no card."""
        return self.entry if self.keys else None

    def paths(self) -> Iterator[tuple[str, Stamp]]:
        """Its files below build/."""
        for files in self.files.values():
            yield from files.items()


@frozen
class Manifest:
    """All that the last build left."""

    recipes: Mapping[str, Kept] = field(default_factory=dict)
    grounds: Mapping[str, Mapping[str, str]] = field(default_factory=dict)  # by their digest: each one's own
    stamps: Mapping[str, Stamp] = field(default_factory=dict)  # of files all recipes rest on, by whole path
    collection: Kept | None = None
    finished: bool = False  # the build came to its end, so that its report is that of these recipes


def load(data: bytes | None) -> Manifest:
    """The manifest that a file holds; an empty one where there is none or it is of another version."""
    recipes: dict[str, Kept] = {}
    grounds: dict[str, Mapping[str, str]] = {}
    stamps: Mapping[str, Stamp] = {}
    collection: Kept | None = None
    starts = 0
    for record in filter(None, map(_record, (data or b"").split(b"\n"))):
        try:
            match record:
                case ["cardsmith", version]:
                    if version != VERSION:
                        return Manifest()
                    starts += 1
                case ["recipe", values]:
                    kept = _kept(values)
                    recipes[kept.name] = kept
                case ["grounds", str(digest), dict(each)]:
                    grounds[digest] = each
                case ["stamps", dict(each)]:
                    stamps = _stamps(each)
                case ["collection", values]:
                    collection = _kept(values)
        except (TypeError, KeyError, ValueError, AttributeError):
            continue  # whole, but not ours
    if not starts:
        return Manifest()
    return Manifest(
        recipes=recipes, grounds=grounds, stamps=stamps, collection=collection, finished=starts == 1
    )


def dump(manifest: Manifest) -> bytes:
    """The whole manifest as `load` reads it."""
    records: list[list[Any]] = [_START, ["stamps", _plain_stamps(manifest.stamps)]]
    records += [["grounds", digest, dict(each)] for digest, each in sorted(manifest.grounds.items())]
    records += [["recipe", _plain(kept)] for _, kept in sorted(manifest.recipes.items())]
    if manifest.collection:
        records.append(["collection", _plain(manifest.collection)])
    return b"".join(map(_line, records))


class Journal:
    """The manifest's file, open for adding, while a build is at work: no line of it is changed."""

    def __init__(self, descriptor: int) -> None:
        self._descriptor = descriptor
        self._add(_START)

    def grounds(self, digest: str, each: Mapping[str, str]) -> None:
        """Note what a digest of grounds stands for."""
        self._add(["grounds", digest, dict(each)])

    def recipe(self, kept: Kept) -> None:
        """Note a finished recipe, after its files are in their place."""
        self._add(["recipe", _plain(kept)])

    def close(self) -> None:
        """Let go of the file."""
        os.close(self._descriptor)

    def _add(self, record: list[Any]) -> None:
        # The line before may be torn: each starts with a line's end, so that none is lost with it.
        os.write(self._descriptor, b"\n" + _line(record))


def plain_finding(finding: Finding) -> list[Any]:
    """A finding in JSON's values."""
    where = _plain_where(finding.where)
    return [finding.name, finding.severity.value, where, finding.what, finding.instead, finding.width]


def finding_from(record: list[Any]) -> Finding:
    """The finding that gave ``record``."""
    name, severity, where, what, instead, width = record
    return Finding(
        name=name,
        severity=Severity(severity),
        where=where_from(where),
        what=what,
        instead=instead,
        width=width,
    )


def plain_answers(silenced: Iterable[tuple[Finding, Accepted]]) -> list[Any]:
    """Findings that their author has answered, in JSON's values."""
    return [
        [plain_finding(finding), answer.check, answer.reason, _plain_where(answer.where)]
        for finding, answer in silenced
    ]


def answers_from(kept: Kept) -> tuple[tuple[Finding, Accepted], ...]:
    """The findings of a recipe that its author has answered."""
    from cardsmith.recipe.model import Accepted  # noqa: PLC0415 - a build with nothing to do needs none

    return tuple(
        (finding_from(record), Accepted(where=where_from(where), check=check, reason=reason))
        for record, check, reason, where in kept.answered
    )


def _plain_where(where: Where) -> list[Any]:
    return [where.file, where.line, where.column, where.field]


def where_from(record: list[Any]) -> Where:
    """A place in a file."""
    file, line, column, path = record
    return Where(file=file, line=line, column=column, field=path)


def _line(record: list[Any]) -> bytes:
    data = json.dumps(record, ensure_ascii=False, separators=(",", ":")).encode()
    return b"%08x %s\n" % (zlib.crc32(data), data)


def _record(line: bytes) -> list[Any] | None:
    """What stands on a line; None where it is empty or damaged."""
    checksum, _, data = line.partition(b" ")
    if not data or checksum != b"%08x" % zlib.crc32(data):
        return None
    try:
        record = json.loads(data)
    except ValueError:
        return None
    return record if isinstance(record, list) else None


def _plain(kept: Kept) -> dict[str, Any]:
    return {
        "name": kept.name,
        "reads": _plain_stamps(kept.reads),
        "grounds": dict(kept.grounds),
        "keys": dict(kept.keys),
        "files": {product: _plain_stamps(files) for product, files in kept.files.items()},
        "records": {product: list(records) for product, records in kept.records.items()},
        "answered": kept.answered,
        "entry": kept.entry,
    }


def _kept(values: dict[str, Any]) -> Kept:
    files = {product: _stamps(files) for product, files in values["files"].items()}
    return replace(Kept(**values), reads=_stamps(values["reads"]), files=files)


_NAMES = tuple(field.name for field in fields(Stamp))
_values = attrgetter(*_NAMES)  # a large publication has a hundred thousand stamps


def _plain_stamps(stamps: Mapping[str, Stamp]) -> dict[str, tuple[Any, ...]]:
    return {path: _values(stamp) for path, stamp in sorted(stamps.items())}


def _stamps(values: Mapping[str, Any]) -> dict[str, Stamp]:
    return {path: Stamp(**dict(zip(_NAMES, each, strict=True))) for path, each in values.items()}
