"""How much of a processor a piece of work takes, and what of it for what."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from time import process_time


class Clock:
    """Runs from when it is made; seconds of this process's processor time."""

    def __init__(self) -> None:
        self._began = process_time()
        self._took: dict[str, float] = defaultdict(float)

    @contextmanager
    def of(self, what: str) -> Iterator[None]:
        """The time spent inside is noted under ``what``."""
        before = process_time()
        try:
            yield
        finally:
            self._took[what] += process_time() - before

    def told(self, rest: str) -> Mapping[str, float]:
        """All seconds until now, by what they were noted under; what is left as ``rest``."""
        left = process_time() - self._began - sum(self._took.values())
        return {rest: left, **self._took}
