"""Regular expressions that are compiled when they are first used, not when their module is read.

What `re` makes of a source, a list of numbers, is kept for the next command: of one recipe a check uses some
three hundred patterns, and to compile them took an eighth of it.
"""

from __future__ import annotations

import atexit
import re
from array import array
from functools import cache
from typing import Any, cast

from cardsmith.files.user_cache import keep, recall

try:  # as CPython 3.11 to 3.14 have them; a pattern made of them is equal to one of `re.compile`
    import _sre  # type: ignore[import-not-found]
    from re import _compiler, _parser  # type: ignore[attr-defined]
except ImportError:  # pragma: no cover - another Python compiles each time
    _sre = None

_MOST = 4_000  # patterns kept; the package has some two thousand
_Parts = tuple[int, bytes, int, dict[str, int], tuple[str | None, ...]]


class _Uncompiled:
    """Stands for a pattern; each of its methods becomes the pattern's own when first asked for."""

    def __init__(self, source: str, flags: int) -> None:
        self._told = (source, int(flags))

    def __getattr__(self, name: str) -> Any:
        value = getattr(_compiled(*self._told), name)
        setattr(self, name, value)  # found by itself from now on
        return value


def regex(source: str, flags: int = 0) -> re.Pattern[str]:
    """A pattern as `re.compile` gives it, for the constants of a module: a run uses but few of them.

    Raises:
        re.error: at the first use, where the source is no pattern (`tests/test_regex.py` uses each).
    """
    return cast("re.Pattern[str]", _Uncompiled(source, flags))


@cache
def _compiled(source: str, flags: int) -> re.Pattern[str]:
    if _sre is None:  # pragma: no cover - as above
        return re.compile(source, flags)
    known = _known()
    parts = known.get((source, flags))
    if parts is None:
        parts = _parts(source, flags)
        if len(known) < _MOST:
            known[source, flags] = parts
    made, code, groups, named, names = parts
    pattern: re.Pattern[str] = _sre.compile(source, made, array("I", code).tolist(), groups, named, names)
    return pattern


def _parts(source: str, flags: int) -> _Parts:
    """What a pattern consists of, as `re` works it out."""
    parsed = _parser.parse(source, flags)
    state = parsed.state
    names: list[str | None] = [None] * state.groups
    for name, place in state.groupdict.items():
        names[place] = name
    code = array("I", _compiler._code(parsed, flags))
    return flags | state.flags, code.tobytes(), state.groups - 1, dict(state.groupdict), tuple(names)


@cache
def _known() -> dict[tuple[str, int], _Parts]:
    """The patterns of commands before and of this one, which are kept at its end where some are new."""
    patterns: dict[tuple[str, int], _Parts] = recall("patterns") or {}
    before = len(patterns)
    atexit.register(lambda: keep("patterns", patterns) if len(patterns) > before else None)
    return patterns
