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
    head, *rows = csv.reader(_lines(name))
    return tuple(dict(zip(head, row, strict=True)) for row in rows if row)


@cache
def row_of(name: str, key: str) -> Mapping[str, str] | None:
    """The row of a long table whose first cell is ``key``, read by itself; None where there is none."""
    head, found = _lines(name)[0], _by_key(name).get(key)
    if found is None:
        return None
    names, cells = csv.reader([head, found])
    return dict(zip(names, cells, strict=True))


def folder(name: str) -> tuple[str, ...]:
    """The tables in ``reference/NAME/``, as names that `table` takes, in alphabetical order."""
    return tuple(sorted(f"{name}/{file.stem}" for file in (_HERE / name).glob("*.csv")))


def _lines(name: str) -> list[str]:
    with (_HERE / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return file.readlines()


@cache
def _by_key(name: str) -> Mapping[str, str]:
    return {line.partition(",")[0]: line for line in _lines(name)[1:]}
