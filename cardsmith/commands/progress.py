"""A progress bar for long work, on a terminal only."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from typing import TypeVar

import click

Thing = TypeVar("Thing")
LONG = 3  # things; below this a bar is only noise


def progress(things: Iterable[Thing], number: int, *, shown: bool) -> Iterator[Thing]:
    """Pass ``things`` on, ``number`` in all, with a bar on standard error while they come."""
    if not shown or number < LONG or not sys.stderr.isatty():
        yield from things
        return
    with click.progressbar(things, length=number, label="cards", show_pos=True, file=sys.stderr) as counted:
        yield from counted
