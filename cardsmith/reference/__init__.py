"""Published values, one CSV a subject, each row with its source; loaders beside the stage that uses them."""

from __future__ import annotations

import csv
import io
from functools import cache
from importlib import resources


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """The rows of ``reference/NAME.csv`` as text; an empty cell is an empty string, never zero."""
    file = resources.files(__name__).joinpath(f"{name}.csv")
    return tuple(csv.DictReader(io.StringIO(file.read_text(encoding="utf-8"), newline="")))


def folder(name: str) -> tuple[str, ...]:
    """The tables in ``reference/NAME/``, as names that `table` takes, in alphabetical order."""
    files = resources.files(__name__).joinpath(name).iterdir()
    return tuple(sorted(f"{name}/{file.name[:-4]}" for file in files if file.name.endswith(".csv")))
