"""A progress bar for long work, on a terminal only."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from typing import TypeVar

Thing = TypeVar("Thing")
LONG = 3  # things; below this a bar is only noise


def progress(things: Iterable[Thing], number: int, *, shown: bool) -> Iterator[Thing]:
    """Pass ``things`` on, ``number`` in all, with a bar on standard error while they come."""
    if not shown or number < LONG or not sys.stderr.isatty():
        yield from things
        return
    from rich.console import Console  # noqa: PLC0415 - only a terminal needs it
    from rich.progress import track  # noqa: PLC0415

    yield from track(things, "cards", total=number, console=Console(stderr=True), transient=True)
