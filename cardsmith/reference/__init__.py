"""Published values, one CSV a subject, each row with its source; loaders beside the stage that uses them."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping, Set
from dataclasses import field
from functools import cache
from itertools import repeat
from pathlib import Path

from cardsmith.frozen import frozen

_HERE = Path(__file__).parent
Keys = Mapping[str, tuple[tuple[str, ...], ...]]
PLACE = "place"  # the one more cell of a house's row: its file and line


@frozen(kw_only=False)
class Tables:
    """Our tables with a house's rows joined to them: `rows` gives both, the house's first.

    A row of the house takes the place of ours with the same key. Equal by digest, so that what is worked out
    from tables can be remembered by them.
    """

    digest: str = ""  # of the house's rows; empty where it has none
    own: Mapping[str, tuple[dict[str, str], ...]] = field(default_factory=dict, compare=False, repr=False)
    keys: Keys = field(default_factory=dict, compare=False, repr=False)

    @classmethod
    def of(cls, own: Mapping[str, Iterable[dict[str, str]]], keys: Keys) -> Tables:
        """Ours with these rows, by the names of their tables; each has its `PLACE`.

        ``keys`` are the columns that tell a row of a table from all others; several where each will do.
        """
        import hashlib  # noqa: PLC0415 - few houses have tables of their own

        rows = {name: tuple(some) for name, some in sorted(own.items())}
        content = repr([(name, [sorted(row.items()) for row in some]) for name, some in rows.items()])
        return cls(hashlib.sha256(content.encode()).hexdigest() if rows else "", rows, keys)

    def rows(self, name: str) -> tuple[dict[str, str], ...]:
        """The rows of a table, as `table` gives them; of a folder, those of all its tables."""
        return _joined(self, name) if name in self.own else _ours(name)

    def row(self, name: str, key: str) -> Mapping[str, str] | None:
        """The row whose first cell is ``key``; None where there is none."""
        if name not in self.own:
            return row_of(name, key)
        return next((row for row in self.rows(name) if next(iter(row.values())) == key), None)


OURS = Tables()


@cache
def _joined(tables: Tables, name: str) -> tuple[dict[str, str], ...]:
    own, keys = tables.own[name], tables.keys[name]
    taken = [{tuple(row[column] for column in key) for row in own} for key in keys]
    kept = (row for row in _ours(name) if not any(map(_is_taken, keys, taken, repeat(row))))
    return (*own, *kept)


def _is_taken(key: tuple[str, ...], taken: Set[tuple[str, ...]], row: Mapping[str, str]) -> bool:
    return tuple(row[column] for column in key) in taken


@cache
def _ours(name: str) -> tuple[dict[str, str], ...]:
    """The rows of our own table; of the tables of our folder, of a name that no table has; else none."""
    if _file(name).exists():
        return table(name)
    return tuple(row for member in folder(name) for row in table(member))


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """The rows of ``reference/NAME.csv`` as text; an empty cell is an empty string, never zero.

    Raises:
        ValueError: a row has more or fewer cells than the head.
    """
    with _file(name).open(encoding="utf-8", newline="") as file:
        head, *rows = csv.reader(file)
    return tuple(dict(zip(head, row, strict=True)) for row in rows if row)


@cache
def row_of(name: str, key: str) -> Mapping[str, str] | None:
    """The row of a long table whose first cell is ``key``, read by itself; None where there is none."""
    head, rows = _rows(name)
    if key not in rows:
        return None
    names, cells = csv.reader([head, rows[key]])
    return dict(zip(names, cells, strict=True))


def folder(name: str) -> tuple[str, ...]:
    """The tables in ``reference/NAME/``, as names that `table` takes, in alphabetical order."""
    return tuple(sorted(f"{name}/{file.stem}" for file in (_HERE / name).glob("*.csv")))


def profile(name: str) -> bytes:
    """A colour profile of ``reference/icc/``.

    Raises:
        OSError: it is not there.
    """
    return (_HERE / "icc" / name).read_bytes()


@cache
def _rows(name: str) -> tuple[str, Mapping[str, str]]:
    """The head of a table, and each row by its first cell, as they stand in the file."""
    head, *rows = _file(name).read_text(encoding="utf-8").split("\n")
    return head, {row.partition(",")[0]: row for row in reversed(rows)}


def _file(name: str) -> Path:
    return _HERE / f"{name}.csv"
