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
    text = _text(name)
    start = text.find(f"\n{key},") + 1
    if not start:
        return None
    names, cells = csv.reader([text.partition("\n")[0], text[start : text.index("\n", start)]])
    return dict(zip(names, cells, strict=True))


def folder(name: str) -> tuple[str, ...]:
    """The tables in ``reference/NAME/``, as names that `table` takes, in alphabetical order."""
    return tuple(sorted(f"{name}/{file.stem}" for file in (_HERE / name).glob("*.csv")))


@cache
def _text(name: str) -> str:
    with _file(name).open(encoding="utf-8", newline="") as file:
        return file.read()


def _file(name: str) -> Path:
    return _HERE / f"{name}.csv"
