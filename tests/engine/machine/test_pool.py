"""Many jobs over a few processes: a fault, a dead worker or a slow job costs its own recipe and no other."""

from __future__ import annotations

import multiprocessing
import os
import subprocess
import sys
import time
import traceback
from collections.abc import Callable
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from functools import partial
from itertools import repeat
from pathlib import Path
from typing import Any

import pytest

from cardsmith.engine.machine.pool import Ended, InProcess, TooSlow, run, timed

COUNT = 24


def busy() -> None:
    while True:
        pass


def work(number: int) -> int:
    if number == 5:
        raise ValueError("five")
    if number == 11:
        os._exit(3)
    if number == 17:
        timed(0.2, lambda _: busy(), number)
    return number * number


def pool() -> Executor:
    return ProcessPoolExecutor(2, mp_context=multiprocessing.get_context("fork"))


@pytest.mark.filterwarnings("ignore::DeprecationWarning")
def test_every_other_job_is_done() -> None:
    found = {one.job: one for one in run(work, range(COUNT), pool, 2)}
    assert set(found) == set(range(COUNT))
    faults = {job: one.fault for job, one in found.items() if one.fault}
    assert {job: type(fault) for job, fault in faults.items()} == {5: ValueError, 11: Ended, 17: TooSlow}
    assert 'raise ValueError("five")' in "".join(traceback.format_exception(faults[5]))
    assert all(one.made == job * job for job, one in found.items() if not one.fault)
    assert not multiprocessing.active_children()


class Breaking(InProcess):
    """An executor that is found broken when the third job is given to it, once."""

    given = 0

    def submit(self, fn: Callable[..., int], /, *args: Any, **kwargs: Any) -> Future[int]:
        Breaking.given += 1
        if Breaking.given == 3:
            raise BrokenProcessPool("a process died meanwhile")
        return super().submit(fn, *args, **kwargs)


def test_a_pool_that_broke_unheard_costs_no_job() -> None:
    found = [one.job for one in run(partial(pow, 2), range(9), Breaking, 2)]
    assert sorted(found) == list(range(9))
    assert Breaking.given > 9


def test_time_is_that_of_the_processor_so_that_a_busy_machine_costs_no_card() -> None:
    assert timed(0.05, lambda _: time.sleep(0.3) or 7, 0) == 7  # type: ignore[func-returns-value]
    with pytest.raises(TooSlow, match=r"0\.05 seconds of processor time"):
        timed(0.05, lambda _: busy(), 0)


def deaf(_: int) -> int:
    """Works for some minutes in a library that hears no signal, and would then return."""
    return timed(0.2, lambda _: sum(map(abs, repeat(0, 4_000_000_000))), 0)


def stuck(_: int) -> int:
    return timed(60, lambda _: time.sleep(60) or 0, 0, patience=0.2)  # type: ignore[func-returns-value]


@pytest.mark.filterwarnings("ignore::DeprecationWarning")
@pytest.mark.parametrize("work", [deaf, stuck])
def test_what_hears_nothing_is_ended(work: Callable[[int], int]) -> None:
    (done,) = run(work, [0], pool, 2)
    assert isinstance(done.fault, Ended)


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


def test_workers_are_replaced_before_they_have_grown(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("cardsmith.engine.machine.pool.EACH", 5)
    started: list[Executor] = []

    def start() -> Executor:
        started.append(InProcess())
        return started[-1]

    found = [one.job for one in run(partial(pow, 2), range(40), start, 2)]
    assert sorted(found) == list(range(40))
    assert len(started) == 5  # with the one that finds nothing left


STOPPED = """
from cardsmith.engine.machine.pool import processes, run

if __name__ == "__main__":
    made = run(bytes, [100 << 20] * 8, lambda: processes(2, ()), 2)  # as many zeros, for long on their way
    next(made)
    made.close()
"""


def test_stopped_while_a_worker_gives_its_result_the_command_ends(tmp_path: Path) -> None:
    script = tmp_path / "stopped.py"
    script.write_text(STOPPED, encoding="utf-8")
    subprocess.run([sys.executable, script], check=True, timeout=60, capture_output=True)
