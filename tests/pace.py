"""How long work may take: limits that a slow or busy machine is not failed by."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from time import process_time

ARITHMETIC = 0.005  # seconds that the fixed piece of arithmetic takes on a plain machine of 2025


def pace() -> float:
    """How many times slower than a plain machine this one is just now; never less than 1."""
    start = process_time()
    total = sum((Fraction(number, 7) + Fraction(3, number) for number in range(1, 1_000)), Fraction(0))
    spent = process_time() - start
    assert total > 0
    return max(1.0, spent / ARITHMETIC)


@contextmanager
def within(seconds: float) -> Iterator[None]:
    """Hold work to so many seconds of processor time of a plain machine, at the pace of this one.

    It is for work that could grow with the square of its input: a limit is many times what is usual.
    """
    before = pace()
    gc.disable()  # one search for cycles among all that a run has left in memory costs more than the work
    start = process_time()
    try:
        yield
    finally:
        spent = process_time() - start
        gc.enable()
    allowed = seconds * max(before, pace())
    assert spent < allowed, f"took {spent:.2f} s of processor time, {allowed:.2f} s are allowed"
