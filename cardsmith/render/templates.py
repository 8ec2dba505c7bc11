"""Templates of the house: strict Jinja, where an undefined name is an error and every text is escaped.

They come from whoever sends a publication, so they run in Jinja's sandbox: they may repeat, choose and place
what they are given, but can't change it, nor reach Python, files or the network through it.
"""

from __future__ import annotations

import base64
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from jinja2.sandbox import ImmutableSandboxedEnvironment

from cardsmith.render.typeset import composed


@cache
def environment(folder: Path) -> Environment:
    """The templates in ``folder``, compiled once; ``composed`` is a filter of theirs."""
    made = ImmutableSandboxedEnvironment(
        loader=FileSystemLoader(folder),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.filters["composed"] = composed
    return made


def data_uri(kind: str, data: bytes) -> str:
    """Bytes of a media type as an address that holds them. Source: RFC 2397."""
    return f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"
