"""A digest of values, the same in every process: what a product rests on, in 64 signs."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Set
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from functools import partial
from pathlib import PurePath
from types import NoneType
from typing import Any

_Say = Callable[[bytes], None]


def fingerprint(*values: object) -> str:
    """SHA-256 of ``values``, in hexadecimal; equal values have equal ones, whatever the order of their sets.

    Raises:
        TypeError: a value whose content is not known to be all there is to it.
    """
    pieces: list[bytes] = []
    _tell(values, pieces.append)
    return hashlib.sha256(b"".join(pieces)).hexdigest()


def _tell(value: object, say: _Say) -> None:
    """Every value with its kind and its length first, so that no two values run together."""
    kind = type(value)
    if kind not in _TELLERS:
        _TELLERS[kind] = _teller(kind)
    _TELLERS[kind](value, say)


_TELLERS: dict[type, Callable[[Any, _Say], None]] = {}


def _teller(kind: type) -> Callable[[Any, _Say], None]:
    """How values of a type are written; looked up once a type, since a page has some ten thousand values."""
    if issubclass(kind, bytes):
        return _tell_bytes
    if issubclass(kind, NoneType | str | int | float | Fraction | PurePath | Enum):
        return partial(_tell_plain, kind.__name__)
    if issubclass(kind, Mapping):
        return _tell_mapping
    if issubclass(kind, Set):
        return _tell_set
    if issubclass(kind, tuple | list):
        return _tell_row
    if is_dataclass(kind):
        return partial(
            _tell_fields, b"d%s:" % kind.__name__.encode(), tuple(field.name for field in fields(kind))
        )
    raise TypeError(f"no fingerprint of {kind.__name__}")


def _tell_bytes(value: bytes, say: _Say) -> None:
    say(b"b%d:" % len(value))
    say(value)


def _tell_plain(kind: str, value: object, say: _Say) -> None:
    text = f"{kind} {value!s}".encode()
    say(b"s%d:%s" % (len(text), text))


def _tell_mapping(value: Mapping[Any, Any], say: _Say) -> None:
    # In their own order where it is kept, since a mapping's order may show in what is made from it.
    say(b"m%d:" % len(value))
    for key, item in value.items():
        _tell(key, say)
        _tell(item, say)


def _tell_set(value: Set[Any], say: _Say) -> None:
    say(b"f%d:" % len(value))
    for digest in sorted(fingerprint(item) for item in value):
        say(digest.encode())


def _tell_row(value: tuple[Any, ...] | list[Any], say: _Say) -> None:
    say(b"t%d:" % len(value))
    for item in value:
        _tell(item, say)


def _tell_fields(head: bytes, names: tuple[str, ...], value: object, say: _Say) -> None:
    say(head)
    for name in names:
        _tell(getattr(value, name), say)
