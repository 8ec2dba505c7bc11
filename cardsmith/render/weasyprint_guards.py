"""What a patch of WeasyPrint asks before it is made: whether that has the shape the patch was written for."""

from __future__ import annotations

import inspect
import sys
import warnings
from collections.abc import Callable
from typing import Any

SPLITS = ("text", "style", "context", "max_width", "justification_spacing", "is_line_start", "minimum")


def left_out(why: str) -> None:
    """Warn that a patch was not made."""
    warnings.warn(f"WeasyPrint is used as it is: {why}", RuntimeWarning, stacklevel=3)


def takes(function: Any, *names: str) -> bool:
    """Whether a function has these parameters, in this order, and no others."""
    try:
        return tuple(inspect.signature(function).parameters) == names
    except (TypeError, ValueError):  # no function, or one that does not say
        return False


def replace_everywhere(function: Callable[..., Any], by: Callable[..., Any]) -> None:
    """In every module of WeasyPrint that imported it by its name."""
    for module in [loaded for name, loaded in sys.modules.items() if name.startswith("weasyprint.")]:
        if vars(module).get(function.__name__) is function:
            vars(module)[function.__name__] = by
