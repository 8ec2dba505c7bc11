"""WeasyPrint without what it does over again for nothing; what it makes is the same, byte for byte.

At import it asks compiler and linker, by running them, where libraries of other systems' names may be (0.3 s
of 0.9), and loads what thins out a font where HarfBuzz can't (0.2 s). In every file it has the C type of each
array of glyphs parsed anew, with all declarations, since a length stands in it: 8 ms a card, 0.1 s for the
first. And at import it lists the fonts of the machine, which no card may have, and has fontconfig note them
down in the user's own folders.
"""

from __future__ import annotations

import ctypes.util
import os
import re
import sys
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any

_NO_FONTS = Path(__file__).with_name("no-fonts.conf")
_SELDOM = ("fontTools.subset", "fontTools.varLib.instancer")
_ARRAY = re.compile(r"(\w+)\[\d+\]")


@cache
def quicken() -> None:
    """Import WeasyPrint, once a process; its libraries must be there under the names of this system."""
    with _no_search(), fonts_by(_NO_FONTS), _loaded_when_called(*_SELDOM), warnings.catch_warnings():
        warnings.filterwarnings("ignore", "No fonts configured")
        import weasyprint  # noqa: F401, PLC0415
    from weasyprint.text.ffi import ffi  # noqa: PLC0415

    _any_length(ffi)


@contextmanager
def fonts_by(file: Path) -> Iterator[None]:
    """Fontconfig takes its fonts by this file, which it reads when a list of fonts is asked for."""
    before = os.environ.get("FONTCONFIG_FILE")
    os.environ["FONTCONFIG_FILE"] = str(file)
    try:
        yield
    finally:
        if before is None:
            del os.environ["FONTCONFIG_FILE"]
        else:
            os.environ["FONTCONFIG_FILE"] = before


@contextmanager
def _no_search() -> Iterator[None]:
    """Libraries are opened by name or not at all; on Linux the loader knows where they are."""
    search = ctypes.util.find_library
    if sys.platform == "linux":
        ctypes.util.find_library = lambda name: None
    try:
        yield
    finally:
        ctypes.util.find_library = search


class _Later(ModuleType):
    """Stands for a module whose functions and classes are but called, which then loads it."""

    def __getattr__(self, name: str) -> Any:
        if name.startswith("__"):
            raise AttributeError(name)

        def called(*given: Any, **named: Any) -> Any:
            return getattr(import_module(self.__name__), name)(*given, **named)

        return called


@contextmanager
def _loaded_when_called(*names: str) -> Iterator[None]:
    """Modules imported meanwhile that are loaded when something of them is called; those after, at once."""
    left = {name: _Later(name) for name in names if name not in sys.modules}
    sys.modules.update(left)
    try:
        yield
    finally:
        for name in left:
            del sys.modules[name]


def _any_length(ffi: Any) -> None:
    """Arrays made of given values are of one C type whatever their number: that of open length."""
    new = ffi.new

    def made(kind: Any, values: Any = None) -> Any:
        if isinstance(values, list | tuple) and (array := _ARRAY.fullmatch(str(kind))):
            return new(f"{array[1]}[]", values)
        return new(kind, values)

    ffi.new = made
