"""Many jobs over a few processes: some in flight at a time, each held to its time, none stopping the others.

The executor is passed in (`concurrent.futures`), so that a cluster's can take the place of this machine's.
"""

from __future__ import annotations

import faulthandler
import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Executor, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from functools import cache
from itertools import islice
from pathlib import Path
from types import FrameType
from typing import IO, Any, Generic, TypeVar

Job = TypeVar("Job")
Made = TypeVar("Made")
SECONDS = 60  # for one recipe; the slowest of the demo takes under one
MEMORY = 4 << 30  # bytes of address space a worker may take: a runaway layout must not take the machine
_IN_HAND = 2  # jobs for each worker: the next is at hand when one is done


class TooSlow(Exception):  # noqa: N818 - the name says what is the matter
    """A job took longer than it may."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Done(Generic[Job, Made]):
    """What became of a job: its result, or why there is none."""

    job: Job
    made: Made | None
    fault: str = ""


class InProcess(Executor):
    """An executor of this very process, for a job or two and for finding faults."""

    def submit(self, fn: Callable[..., Made], /, *args: Any, **kwargs: Any) -> Future[Made]:
        """Run it at once."""
        future: Future[Made] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as fault:
            future.set_exception(fault)
        return future


def processes(workers: int) -> Executor:
    """An executor over ``workers`` processes that start from one which has loaded the typesetter already."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(["cardsmith.job", "weasyprint"])
    return ProcessPoolExecutor(workers, mp_context=context, initializer=_as_worker)


def run(
    work: Callable[[Job], Made], jobs: Iterable[Job], start: Callable[[], Executor], workers: int
) -> Iterator[Done[Job, Made]]:
    """Every job done, in the order in which they finish; ``start`` gives an executor, another if one breaks.

    Only so many jobs are in flight as the workers can take soon: memory does not grow with their number.
    """
    left = iter(jobs)
    executor = start()
    flying: dict[Future[Made], Job] = {}
    try:
        while True:
            for job in islice(left, workers * _IN_HAND - len(flying)):
                flying[executor.submit(work, job)] = job
            if not flying:
                break
            finished, _ = wait(flying, return_when=FIRST_COMPLETED)
            if any(isinstance(one.exception(), BrokenProcessPool) for one in finished):
                # Who broke it cannot be told: each job in flight is done once more, alone.
                executor.shutdown(wait=False, cancel_futures=True)
                suspects = list(flying.values())
                flying.clear()
                for job in suspects:
                    yield _alone(work, job, start)
                executor = start()
                continue
            for future in finished:
                yield _done(flying.pop(future), future)
        executor.shutdown()
    except BaseException:
        executor.shutdown(wait=False, cancel_futures=True)
        for child in multiprocessing.active_children():
            child.terminate()
        raise


def _alone(work: Callable[[Job], Made], job: Job, start: Callable[[], Executor]) -> Done[Job, Made]:
    with start() as executor:
        future = executor.submit(work, job)
        wait([future])
        return _done(job, future)


def _done(job: Job, future: Future[Made]) -> Done[Job, Made]:
    fault = future.exception()
    if fault is None:
        return Done(job=job, made=future.result())
    if isinstance(fault, BrokenProcessPool):
        return Done(job=job, made=None, fault="the process that made it ended without a word")
    return Done(job=job, made=None, fault=f"{type(fault).__name__}: {fault}")


def timed(seconds: float, work: Callable[[Job], Made], job: Job) -> Made:
    """``work`` held to its time: an exception first, and the end of the process where that is not heard.

    Raises:
        TooSlow: the time is over.
    """

    def over(_signal: int, _frame: FrameType | None) -> None:
        raise TooSlow(f"not finished after {seconds:g} seconds")

    if threading.current_thread() is not threading.main_thread():
        return work(job)
    before = signal.signal(signal.SIGALRM, over)
    signal.setitimer(signal.ITIMER_REAL, seconds)
    if multiprocessing.parent_process() is not None:  # never the process of the command itself
        faulthandler.dump_traceback_later(2 * seconds, exit=True, file=_nowhere())
    try:
        return work(job)
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
        faulthandler.cancel_dump_traceback_later()


@cache
def _nowhere() -> IO[bytes]:
    return Path(os.devnull).open("wb")


def _as_worker() -> None:
    """A worker leaves Ctrl-C to the process that started it, ends when that ends, and takes but its share."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:

        def follow() -> None:
            parent.join()
            os._exit(1)

        threading.Thread(target=follow, daemon=True).start()
    import resource  # noqa: PLC0415

    _, most = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, most))
