"""SciPy, loaded when the statistics of liking, a teardown or the next trial first needs it.

It takes 150 MB of disk and half a second to load, so it comes with the extra ``bench``.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

from cardsmith.finding import CardsmithError

LACKING = (
    "teardowns and the statistics of liking and of trials need SciPy, which is not installed; it comes with "
    "the extra bench: python -m pip install 'cardsmith[bench]'"
)


def numpy() -> Any:
    """NumPy, which SciPy rests on.

    Raises:
        CardsmithError: it is not installed; says how to install it.
    """
    scipy("linalg")
    return import_module("numpy")


def scipy(part: str) -> Any:
    """A part of SciPy: ``stats``, ``optimize``, ``linalg``.

    Raises:
        CardsmithError: SciPy is not installed; says how to install it.
    """
    try:
        return import_module(f"scipy.{part}")
    except ModuleNotFoundError as fault:
        raise CardsmithError(LACKING) from fault
