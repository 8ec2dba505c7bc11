"""Regular expressions that are compiled when they are first used, not when their module is read."""

from __future__ import annotations

import re
from typing import Any, cast


class _Uncompiled:
    """Stands for a pattern; each of its methods becomes the pattern's own when first asked for."""

    def __init__(self, source: str, flags: int) -> None:
        self._told = (source, flags)

    def __getattr__(self, name: str) -> Any:
        value = getattr(re.compile(*self._told), name)
        setattr(self, name, value)  # found by itself from now on
        return value


def regex(source: str, flags: int = 0) -> re.Pattern[str]:
    """A pattern as `re.compile` gives it, for the constants of a module: a run uses but few of them.

    Raises:
        re.error: at the first use, where the source is no pattern (`tests/test_regex.py` uses each).
    """
    return cast("re.Pattern[str]", _Uncompiled(source, flags))
