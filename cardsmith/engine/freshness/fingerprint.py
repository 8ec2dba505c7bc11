"""A digest of values, the same in every process: what a product rests on, in 64 signs."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Set
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from pathlib import PurePath


def fingerprint(*values: object) -> str:
    """SHA-256 of ``values``, in hexadecimal; equal values have equal ones, whatever the order of their sets.

    Raises:
        TypeError: a value whose content is not known to be all there is to it.
    """
    pieces: list[bytes] = []
    _tell(values, pieces.append)
    return hashlib.sha256(b"".join(pieces)).hexdigest()


def _tell(value: object, say: Callable[[bytes], None]) -> None:
    """Every value with its kind and its length first, so that no two values run together."""
    if isinstance(value, bytes):
        say(b"b%d:" % len(value))
        say(value)
    elif value is None or isinstance(value, str | int | float | Fraction | PurePath | Enum):
        text = f"{type(value).__name__} {value!s}".encode()
        say(b"s%d:" % len(text))
        say(text)
    elif isinstance(value, Mapping):
        # In their own order where it is kept, since a mapping's order may show in what is made from it.
        say(b"m%d:" % len(value))
        for key, one in value.items():
            _tell(key, say)
            _tell(one, say)
    elif isinstance(value, Set):
        say(b"f%d:" % len(value))
        for digest in sorted(fingerprint(one) for one in value):
            say(digest.encode())
    elif isinstance(value, tuple | list):
        say(b"t%d:" % len(value))
        for one in value:
            _tell(one, say)
    elif is_dataclass(value) and not isinstance(value, type):
        say(b"d%s:" % type(value).__name__.encode())
        for field in fields(value):
            _tell(getattr(value, field.name), say)
    else:
        raise TypeError(f"no fingerprint of {type(value).__name__}")
