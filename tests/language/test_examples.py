"""The examples in the docstrings of the language room, which are its grammar's."""

from __future__ import annotations

import doctest
import pkgutil
from importlib import import_module

import pytest

import cardsmith.language
from tests.language import beginnings

MODULES = sorted(
    found.name.removeprefix("cardsmith.language.")
    for found in pkgutil.walk_packages(cardsmith.language.__path__, "cardsmith.language.")
    if not found.ispkg
)
HELP = {name: read for name, read in vars(beginnings).items() if name == "tokenize" or name.endswith("_in")}
# Modules that hold a type or a table and read nothing.
WITHOUT = {"faults", "prose.reading", "spans", "word_classes"}


@pytest.mark.parametrize("name", [name for name in MODULES if name not in WITHOUT])
def test_examples_hold(name: str) -> None:
    module = import_module(f"cardsmith.language.{name}")
    tried = doctest.testmod(module, extraglobs=HELP)
    assert tried.attempted, f"{name} has no example"
    assert not tried.failed
