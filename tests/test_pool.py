"""Many jobs over a few processes: a fault, a dead worker or a slow job costs its own recipe and no other."""

from __future__ import annotations

import multiprocessing
import os
import time
from concurrent.futures import Executor, ProcessPoolExecutor
from functools import partial

import pytest

from cardsmith.pool import InProcess, run, timed

COUNT = 24


def work(number: int) -> int:
    if number == 5:
        raise ValueError("five")
    if number == 11:
        os._exit(3)
    if number == 17:
        return timed(0.2, time.sleep, 60) or 0  # type: ignore[func-returns-value]
    return number * number


def pool() -> Executor:
    return ProcessPoolExecutor(2, mp_context=multiprocessing.get_context("fork"))


@pytest.mark.filterwarnings("ignore::DeprecationWarning")
def test_every_other_job_is_done() -> None:
    found = {one.job: one for one in run(work, range(COUNT), pool, 2)}
    assert set(found) == set(range(COUNT))
    assert {job: one.fault.partition(":")[0] for job, one in found.items() if one.fault} == {
        5: "ValueError",
        11: "the process that made it ended without a word",
        17: "TooSlow",
    }
    assert all(one.made == job * job for job, one in found.items() if not one.fault)
    assert not multiprocessing.active_children()


def test_jobs_are_taken_as_they_are_needed() -> None:
    taken: list[int] = []

    def jobs() -> object:
        for number in range(1000):
            taken.append(number)
            yield number

    for count, _ in enumerate(run(partial(pow, 2), jobs(), InProcess, 2), 1):  # type: ignore[arg-type]
        assert len(taken) <= count + 4
    assert len(taken) == 1000


@pytest.mark.filterwarnings("ignore::DeprecationWarning")
def test_stopping_ends_the_workers() -> None:
    going = run(time.sleep, [0.0, 60.0, 60.0, 60.0], pool, 2)
    next(going)
    with pytest.raises(KeyboardInterrupt):
        going.throw(KeyboardInterrupt)
    until = time.monotonic() + 10
    while multiprocessing.active_children() and time.monotonic() < until:
        time.sleep(0.02)
    assert not multiprocessing.active_children()
