"""The workers of a cluster in the place of this machine's processes: a Dask scheduler is asked for them.

Bytes are handed over and bytes come back, so that a worker shares no folder with this machine. What all jobs
of a build have in common goes once to each worker; it is a task of the scheduler's own, so that where the
worker that holds it dies it is made again. So is the job of such a worker, on another one.
"""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import CancelledError, Future
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from cardsmith.engine.machine.pool import PATIENCE, SECONDS, WITHOUT_A_WORD, Ended, Halted, ended
from cardsmith.finding import CardsmithError

if TYPE_CHECKING:
    from distributed import Client

PROMPT = 10  # seconds in which a scheduler answers
COMING = 60  # seconds in which the first worker comes
_LACKING = "--on asks a Dask scheduler, for which this machine lacks {}: pip install 'cardsmith[cluster]'"
_SAME = "install the same cardsmith and the same libraries on every worker and here"
_one_at_a_time = threading.Lock()  # in a worker: the typesetter is for one thread

# What is done in a worker: of what all jobs have in common, and one job; in a folder of the worker's own.
Work = Callable[[bytes, bytes, Path], bytes]
Versions = Mapping[str, str]  # of code, tables and libraries, by their names


class Cluster:
    """A scheduler and its workers, who do jobs for one build.

    ``workers`` are those that were there at the start; jobs reach those that come later too.
    """

    def __init__(self, client: Client, address: str, common: bytes) -> None:
        self._client, self._address = client, address
        self.workers = len(client.nthreads())
        name = f"cardsmith-{hashlib.sha256(common).hexdigest()}"
        self._common = client.submit(bytes, common, key=name)
        self._asked = client.get_executor(pure=False)

    def do(self, work: Work, job: bytes) -> Future[bytes]:
        """The job done by a worker, or the fault it met; `Halted` where no worker is left."""
        done: Future[bytes] = Future()
        asked: Future[bytes] = self._asked.submit(_on_worker, work, self._common, job)
        asked.add_done_callback(partial(self._tell, done))
        return done

    def cancel(self) -> None:
        """Stop: no further job is done."""
        self._asked.shutdown(wait=False)

    def _tell(self, done: Future[bytes], asked: Future[bytes]) -> None:
        try:
            done.set_result(asked.result())
        except CancelledError:
            done.set_exception(Halted(f"the scheduler at {self._address} answers no more; {_AGAIN}"))
        except Exception as fault:
            done.set_exception(_in_our_words(fault, self._address))


_AGAIN = "what was finished is whole, and the next build goes on from there"


def _in_our_words(fault: Exception, address: str) -> Exception:
    from distributed import KilledWorker  # noqa: PLC0415 - an extra

    if isinstance(fault, KilledWorker):
        return Ended(f"{WITHOUT_A_WORD}, on every worker that was given it")
    if isinstance(fault, ModuleNotFoundError):  # on a worker that came later
        return Halted(f"a worker at {address} lacks {fault.name}; {_SAME}")
    return fault


@contextmanager
def cluster(address: str, versions: Callable[[], Versions], common: bytes) -> Iterator[Cluster]:
    """The workers of the scheduler at ``address``, such as 10.0.0.5:8786; those there must be as we are.

    ``versions`` is called here and on each worker; ``common`` is what all jobs have in common.

    Raises:
        CardsmithError: Dask is not installed here, nothing answers there, no worker comes, or one differs.
    """
    client = _client(address)
    try:
        _wait(client, address)
        there = _asked(client, address, versions)
        if faults := differences(versions(), there):
            raise CardsmithError("; ".join([*faults, _SAME]))
        yield Cluster(client, address, common)
    finally:
        client.close(timeout=PROMPT)


def _client(address: str) -> Client:
    try:
        from distributed import Client  # noqa: PLC0415
    except ModuleNotFoundError as lacking:
        raise CardsmithError(_LACKING.format(lacking.name)) from lacking
    try:
        return Client(address, timeout=PROMPT, set_as_default=False)
    except (OSError, ValueError, TypeError) as fault:
        raise CardsmithError(
            f"no Dask scheduler answers at {address}; `dask scheduler` starts one and says its address"
        ) from fault


def _wait(client: Client, address: str) -> None:
    try:
        client.wait_for_workers(1, timeout=COMING)
    except TimeoutError as late:
        raise CardsmithError(
            f"no worker has come to {address} within {COMING} seconds; "
            f"`dask worker {address} --nthreads 1` starts one"
        ) from late


def _asked(client: Client, address: str, versions: Callable[[], Versions]) -> Mapping[str, Versions]:
    try:
        there: Mapping[str, Versions] = client.run(versions)
    except Exception as fault:  # what a worker can't even read comes as this
        raise CardsmithError(
            f"a worker at {address} says no version of cardsmith ({fault}); {_SAME}"
        ) from fault
    return there


def differences(here: Versions, there: Mapping[str, Versions]) -> tuple[str, ...]:
    """What differs on which workers, in words; empty where nothing does."""
    workers_by_difference: dict[str, list[str]] = {}
    for worker, versions in there.items():
        for name in sorted(here.keys() | versions.keys()):
            if here.get(name) != versions.get(name):
                workers_by_difference.setdefault(
                    _difference(name, here.get(name), versions.get(name)), []
                ).append(worker)
    return tuple(f"{what} ({', '.join(sorted(workers))})" for what, workers in workers_by_difference.items())


def _difference(name: str, here: str | None, there: str | None) -> str:
    kind, _, what = name.rpartition("/")
    if kind == "library":
        return f"{what} is {there or 'missing'} on a worker, {here or 'missing'} here"
    return f"{name if kind else 'the code of ' + name} on a worker is not what it is here"


def _on_worker(work: Work, common: bytes, job: bytes) -> bytes:
    """In a worker: the job done, alone, in the time it may take; else the worker ends, as Dask tells."""
    from distributed import get_worker  # noqa: PLC0415

    place = Path(get_worker().local_directory) / "cardsmith"
    with _one_at_a_time, ended(2 * SECONDS, PATIENCE):
        return work(common, job, place)
