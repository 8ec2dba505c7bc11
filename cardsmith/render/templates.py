"""Templates of the house: strict Jinja, where an undefined name is an error and every text is escaped.

They come from whoever sends a publication, so they run in Jinja's sandbox: they may repeat, choose and place
what they are given, but can't change it, nor reach Python, files or the network through it.
"""

from __future__ import annotations

import base64
import errno
import os
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import BytecodeCache, Environment, FileSystemLoader, StrictUndefined, TemplateNotFound
from jinja2.bccache import Bucket
from jinja2.sandbox import ImmutableSandboxedEnvironment

from cardsmith.render.typeset import composed, running


class _Compiled(BytecodeCache):
    """Templates compiled in this process, by their text: a preview's builds begin with those of the start."""

    def __init__(self) -> None:
        self._kept: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        """Take what the same text was compiled to; jinja refuses that of another text."""
        if kept := self._kept.get(bucket.checksum):
            bucket.bytecode_from_string(kept)

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep what a text was compiled to."""
        self._kept[bucket.checksum] = bucket.bytecode_to_string()


_COMPILED = _Compiled()


class _Folder(FileSystemLoader):
    """The templates of a folder; one that is not there is a missing file like any other."""

    def get_source(self, environment: Environment, template: str) -> Any:
        """Its text, its file, and what tells whether it has changed.

        Raises:
            FileNotFoundError: there is none.
        """
        try:
            return super().get_source(environment, template)
        except TemplateNotFound as fault:
            file = f"{self.searchpath[0]}/{template}"
            raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), file) from fault


@cache
def environment(folder: Path) -> Environment:
    """The templates in ``folder``, compiled once; ``composed`` and ``running`` are filters of theirs."""
    made = ImmutableSandboxedEnvironment(
        loader=_Folder(folder),
        undefined=StrictUndefined,
        autoescape=True,
        bytecode_cache=_COMPILED,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.filters["composed"] = composed
    made.filters["running"] = running
    return made


def data_uri(kind: str, data: bytes) -> str:
    """Bytes of a media type as an address that holds them. Source: RFC 2397."""
    return f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"
