"""Published values, one CSV a subject, each row with its source; loaders beside the stage that uses them."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from pathlib import Path

_HERE = Path(__file__).parent


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


@cache
def _rows(name: str) -> tuple[str, Mapping[str, str]]:
    """The head of a table, and each row by its first cell, as they stand in the file."""
    head, *rows = _file(name).read_text(encoding="utf-8").split("\n")
    return head, {row.partition(",")[0]: row for row in reversed(rows)}


def _file(name: str) -> Path:
    return _HERE / f"{name}.csv"
