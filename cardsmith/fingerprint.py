"""A digest of values, the same in every process: what a product rests on, in 64 signs."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Set
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from pathlib import PurePath


def fingerprint(*values: object) -> str:
    """SHA-256 of ``values``, in hexadecimal; equal values have equal ones, whatever the order of their sets.

    Raises:
        TypeError: a value whose content is not known to be all there is to it.
    """
    told = hashlib.sha256()
    for piece in _pieces(values):
        told.update(piece)
    return told.hexdigest()


def _pieces(value: object) -> Iterator[bytes]:
    """Every value with its kind and its length first, so that no two values run together."""
    if isinstance(value, bytes):
        yield b"b%d:" % len(value)
        yield value
    elif value is None or isinstance(value, str | int | float | Fraction | PurePath | Enum):
        text = f"{type(value).__name__} {value!s}".encode()
        yield b"s%d:" % len(text)
        yield text
    elif isinstance(value, Mapping):
        # In their own order where it is kept, since a mapping's order may show in what is made from it.
        yield b"m%d:" % len(value)
        for key, one in value.items():
            yield from _pieces(key)
            yield from _pieces(one)
    elif isinstance(value, Set):
        yield b"f%d:" % len(value)
        for digest in sorted(fingerprint(one) for one in value):
            yield digest.encode()
    elif isinstance(value, tuple | list):
        yield b"t%d:" % len(value)
        for one in value:
            yield from _pieces(one)
    elif is_dataclass(value) and not isinstance(value, type):
        yield b"d%s:" % type(value).__name__.encode()
        for field in fields(value):
            yield from _pieces(getattr(value, field.name))
    else:
        raise TypeError(f"no fingerprint of {type(value).__name__}")
