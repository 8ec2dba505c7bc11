"""Files of drafts, made of rows: # a heading, * a bullet, 1. a number, | a row of a table |."""

from __future__ import annotations

from collections.abc import Callable, Sequence

Rows = Sequence[str]


def _text(rows: Rows) -> bytes:
    return "\n".join(rows).encode()


def _windows(rows: Rows) -> bytes:
    return "\r\n".join(rows).encode("cp1252")


MAKERS: dict[str, tuple[str, Callable[[Rows], bytes]]] = {
    "text": ("txt", _text),
    "markdown": ("md", _text),
    "windows": ("txt", _windows),
}


def made(kind: str, rows: Rows) -> tuple[str, bytes]:
    """The ending and the bytes of a file of a kind."""
    ending, maker = MAKERS.get(kind, ("txt", _text))
    return ending, maker(rows)
