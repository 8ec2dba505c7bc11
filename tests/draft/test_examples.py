"""The examples in the docstrings of the draft room hold."""

from __future__ import annotations

import doctest
import pkgutil
from importlib import import_module

import pytest

import cardsmith.draft

MODULES = sorted(
    found.name.removeprefix("cardsmith.draft.")
    for found in pkgutil.walk_packages(cardsmith.draft.__path__, "cardsmith.draft.")
    if not found.ispkg
)
WITH_EXAMPLES = 8


@pytest.mark.parametrize("name", MODULES)
def test_examples_hold(name: str) -> None:
    assert not doctest.testmod(import_module(f"cardsmith.draft.{name}")).failed


def test_there_are_examples() -> None:
    finder = doctest.DocTestFinder()
    modules = (import_module(f"cardsmith.draft.{name}") for name in MODULES)
    assert sum(any(one.examples for one in finder.find(module)) for module in modules) >= WITH_EXAMPLES
