"""How far long work has come and how long it will take: a bar on a terminal, lines in a file."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager, ExitStack
from functools import partial
from time import monotonic
from typing import Any, TypeVar

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
    """Pass ``things`` on, ``number`` in all, and say how many have come once it takes long.

    The rest is estimated from the pace since then: what came at once before was no work.
    """
    if not shown or number < LONG:
        yield from things
        return
    due, bar, terminal = clock() + SLOW, None, sys.stderr.isatty()
    paced: Callable[[int], str] | None = None
    with ExitStack() as stack:
        for count, thing in enumerate(things, start=1):
            if bar and paced:
                bar.update(1, paced(count))
            elif (now := clock()) >= due:
                pace = paced(count) if paced else ""
                paced = paced or partial(estimate, now, count, number, clock)
                due = now + EVERY
                if terminal:
                    bar = stack.enter_context(_bar(number, noun))
                    bar.update(count)
                else:
                    click.echo(f"{count} of {number} {noun}{pace and f', {pace}'}", err=True)
            yield thing


def _bar(number: int, noun: str) -> AbstractContextManager[Any]:
    return click.progressbar(
        length=number,
        label=noun,
        show_pos=True,
        show_eta=False,  # its own counts from the beginning
        item_show_func=lambda name: name,
        file=sys.stderr,
    )


def estimate(began: float, first: int, number: int, clock: Callable[[], float], count: int) -> str:
    """How long the things after ``count`` will take, at the pace since ``began``, when ``first`` had come."""
    seconds = (clock() - began) / (count - first) * (number - count)
    minutes = round(seconds / 60)
    if not round(seconds):
        return ""
    if minutes < 2:
        return f"about {seconds:.0f} s left"
    if minutes < 120:
        return f"about {minutes} min left"
    return f"about {minutes // 60} h {minutes % 60} min left"
