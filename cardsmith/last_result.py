"""What several stages ask about one value in turn is worked out once."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from operator import is_not
from typing import TypeVar, TypeVarTuple

Asked = TypeVarTuple("Asked")
R = TypeVar("R")


def remembered(function: Callable[[*Asked], R]) -> Callable[[*Asked], R]:
    """Keep the result of the last call for when the very same objects are asked about again.

    Unlike `functools.cache` it compares by identity, so that a whole recipe need not be hashed, and keeps
    one result, so that it doesn't grow.
    """
    last: tuple[tuple[*Asked], R] | None = None

    @wraps(function)
    def asked(*values: *Asked) -> R:
        nonlocal last
        known = last  # read once: another thread may put its own in the place
        if known is None or len(known[0]) != len(values) or any(map(is_not, known[0], values)):
            known = (values, function(*values))
            last = known
        return known[1]

    return asked
