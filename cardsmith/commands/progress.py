"""How far long work has come: a bar on a terminal, a line every few seconds in a file."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack
from time import monotonic
from typing import TypeVar

import click

Thing = TypeVar("Thing")
LONG = 3  # things; below this a bar is only noise
SLOW = 2.0  # seconds before anything is said
EVERY = 5.0  # seconds from line to line


def progress(
    things: Iterable[Thing],
    number: int,
    *,
    shown: bool,
    noun: str = "cards",
    clock: Callable[[], float] = monotonic,
) -> Iterator[Thing]:
    """Pass ``things`` on, ``number`` in all, and say how many have come once it takes long."""
    if not shown or number < LONG:
        yield from things
        return
    due, bar, terminal = clock() + SLOW, None, sys.stderr.isatty()
    with ExitStack() as stack:
        for count, thing in enumerate(things, start=1):
            if bar:
                bar.update(1)
            elif (now := clock()) >= due and terminal:
                shape = click.progressbar(length=number, label=noun, show_pos=True, file=sys.stderr)
                bar = stack.enter_context(shape)
                bar.update(count)
            elif now >= due:
                due = now + EVERY
                click.echo(f"{count} of {number} {noun}", err=True)
            yield thing
