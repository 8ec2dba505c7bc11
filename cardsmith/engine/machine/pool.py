"""Many jobs over a few processes: some in flight at a time, each held to its time, none stopping the others.

The executor is passed in (`concurrent.futures`), so that a cluster's can take the place of this machine's.
"""

from __future__ import annotations

import faulthandler
import gc
import math
import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Executor, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, nullcontext
from functools import cache
from itertools import islice
from multiprocessing.connection import Connection
from pathlib import Path
from types import FrameType
from typing import IO, Any, Generic, TypeVar

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen

Task = TypeVar("Task")
Output = TypeVar("Output")
SECONDS = (
    60  # of processor time for one recipe, on a busy machine as on an idle one; the demo's take under one
)
PATIENCE = 600  # seconds by the clock, for what waits and never works
MEMORY = 4 << 30  # bytes of address space a worker may take: a runaway layout must not take the machine
EACH = 250  # jobs for each worker, then others take their place: what libraries never give back is given back
WITHOUT_A_WORD = "its process ended without a word, as when it is killed or takes too much memory or time"
_IN_HAND = 2  # jobs for each worker: the next is at hand when one is done


class TooSlow(Exception):  # noqa: N818 - the name says what is the matter
    """A job took longer than it may."""


class Ended(Exception):  # noqa: N818 - as above
    """The process of a job exited or was killed."""


class Halted(CardsmithError):  # noqa: N818 - as above
    """The executor can do no more jobs, through no fault of theirs: the run ends."""


@frozen
class Done(Generic[Task, Output]):
    """What became of a job: its result, or why there is none (with the trace of its own process)."""

    job: Task
    made: Output | None
    fault: Exception | None = None


class InProcess(Executor):
    """An executor of this very process, for a job or two and for finding faults."""

    def submit(self, fn: Callable[..., Output], /, *args: Any, **kwargs: Any) -> Future[Output]:
        """Run it at once."""
        future: Future[Output] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as fault:
            future.set_exception(fault)
        return future


def processes(
    workers: int, preload: Sequence[str] = ("cardsmith.engine.products.job", "cardsmith.render.preload")
) -> Executor:
    """An executor over ``workers`` processes that start from one which has loaded ``preload`` already."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(list(preload))
    return ProcessPoolExecutor(
        workers, mp_context=context, initializer=_as_worker, initargs=(gc.get_threshold(),)
    )


def forked(workers: int) -> Executor:
    """An executor over processes forked from this one, in which no other thread may be running."""
    context = multiprocessing.get_context("fork")
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})  # not for processes that are starting
    try:
        executor = ProcessPoolExecutor(
            workers, mp_context=context, initializer=_as_worker, initargs=(gc.get_threshold(),)
        )
        executor.submit(int)  # the first job starts all of them
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
    return executor


def run(
    work: Callable[[Task], Output], jobs: Iterable[Task], start: Callable[[], Executor], workers: int
) -> Iterator[Done[Task, Output]]:
    """Every job done, in the order in which they finish; ``start`` gives an executor, another if one breaks.

    Only so many jobs are in flight as the workers can take soon, and no worker takes more than a number of
    them: memory does not grow with the jobs.
    """
    left = iter(jobs)
    executor, given = start(), 0
    flying: dict[Future[Output], Task] = {}
    try:
        while True:
            broken = False
            for job in islice(left, min(workers * _IN_HAND - len(flying), workers * EACH - given)):
                future, broken = _submitted(executor, work, job)
                flying[future] = job
                given += 1
                if broken:
                    break
            if not flying and given < workers * EACH:
                break
            if not flying:
                executor.shutdown()
                executor, given = start(), 0
                continue
            finished, _ = wait(flying, return_when=FIRST_COMPLETED)
            if broken or any(isinstance(job.exception(), BrokenProcessPool) for job in finished):
                # Nobody knows which job broke it: each one in flight is run again, alone.
                executor.shutdown(wait=False, cancel_futures=True)
                suspects = list(flying.values())
                flying.clear()
                for job in suspects:
                    yield _alone(work, job, start)
                executor, given = start(), 0
                continue
            for future in finished:
                yield _done(flying.pop(future), future)
        executor.shutdown()
    except BaseException:
        results = getattr(executor, "_result_queue", None)
        executor.shutdown(wait=False, cancel_futures=True)
        for child in multiprocessing.active_children():
            child.terminate()
        _let_go(results)
        raise


def _let_go(results: object) -> None:
    """Close our own end of the pipe that workers give results by, which nobody here writes to.

    A worker may end in the middle of a result. The thread of `concurrent.futures` that reads it waits for the
    rest as long as any end is open to write, and this process would wait for the thread.
    """
    writer = getattr(results, "_writer", None)
    if isinstance(writer, Connection):
        writer.close()


def _submitted(executor: Executor, work: Callable[[Task], Output], job: Task) -> tuple[Future[Output], bool]:
    """The job on its way, and whether the executor broke since it was last heard of."""
    try:
        return executor.submit(work, job), False
    except BrokenProcessPool as fault:
        future: Future[Output] = Future()
        future.set_exception(fault)
        return future, True


def _alone(work: Callable[[Task], Output], job: Task, start: Callable[[], Executor]) -> Done[Task, Output]:
    with start() as executor:
        future, _ = _submitted(executor, work, job)
        wait([future])
        return _done(job, future)


def _done(job: Task, future: Future[Output]) -> Done[Task, Output]:
    fault = future.exception()
    if fault is None:
        return Done(job=job, made=future.result())
    if isinstance(fault, BrokenProcessPool):
        fault = Ended(WITHOUT_A_WORD)
    if isinstance(fault, Halted) or not isinstance(fault, Exception):
        raise fault
    return Done(job=job, made=None, fault=fault)


def timed(seconds: float, work: Callable[[Task], Output], job: Task, patience: float = PATIENCE) -> Output:
    """``work`` held to ``seconds`` of processor time, and to ``patience`` seconds by the clock.

    Where the exception is not heard, a process that is not the command's own is ended.

    Raises:
        TooSlow: the time is over.
    """

    def over(_signal: int, _frame: FrameType | None) -> None:
        raise TooSlow(f"not finished after {seconds:g} seconds of processor time")

    if threading.current_thread() is not threading.main_thread():
        return work(job)
    before = signal.signal(signal.SIGPROF, over)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        with nullcontext() if multiprocessing.parent_process() is None else ended(2 * seconds, patience):
            return work(job)
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


@contextmanager
def ended(seconds: float, patience: float = PATIENCE) -> Iterator[None]:
    """The system ends this process after ``seconds`` of work from now, whatever library it is in by then.

    So it does after ``patience`` seconds by the clock.
    """
    import resource  # noqa: PLC0415

    used = resource.getrusage(resource.RUSAGE_SELF)
    before = _limit(resource.RLIMIT_CPU, math.ceil(used.ru_utime + used.ru_stime + seconds))
    faulthandler.dump_traceback_later(patience, exit=True, file=_nowhere())
    try:
        yield
    finally:
        faulthandler.cancel_dump_traceback_later()
        resource.setrlimit(resource.RLIMIT_CPU, before)


def _limit(kind: int, limit: int) -> tuple[int, int]:
    """Hold this process to so much of a resource, or to less where the machine allows no more; as it was."""
    import resource  # noqa: PLC0415

    before = _, most = resource.getrlimit(kind)
    resource.setrlimit(kind, (limit if most == resource.RLIM_INFINITY else min(limit, most), most))
    return before


@cache
def _nowhere() -> IO[bytes]:
    return Path(os.devnull).open("wb")


def _as_worker(new_objects: tuple[int, int, int]) -> None:
    """A worker leaves Ctrl-C to the process that started it, ends when that ends, and takes but its share.

    It looks for cycles as seldom as that process does, and never in what it began with: an eighth of a build.
    """
    gc.freeze()
    gc.set_threshold(*new_objects)
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:

        def follow() -> None:
            parent.join()
            os._exit(1)

        threading.Thread(target=follow, daemon=True).start()
    import resource  # noqa: PLC0415

    _limit(resource.RLIMIT_AS, MEMORY)
    _limit(resource.RLIMIT_CORE, 0)
