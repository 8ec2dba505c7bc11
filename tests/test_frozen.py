"""Immutable values behave as frozen dataclasses do, but that an assignment is for mypy to refuse."""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from pathlib import Path

import pytest

from cardsmith.frozen import frozen


@frozen
class Pan:
    """As most values are declared."""

    width: int
    depth: int = 5
    words: str = field(default="", repr=False, compare=False)
    fits: Mapping[str, int] = field(default_factory=dict, hash=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Same:
    """What `Pan` must behave as."""

    width: int
    depth: int = 5
    words: str = field(default="", repr=False, compare=False)
    fits: Mapping[str, int] = field(default_factory=dict, hash=False)


@frozen(kw_only=False)
class Mark:
    """One field, by its place."""

    text: str


@frozen(slots=False)
class Shelf:
    """What is worked out once, and a hash and a likeness of its own."""

    pans: tuple[Pan, ...]

    def __eq__(self, other: object) -> bool:
        return self is other

    def __hash__(self) -> int:
        return 7

    @cached_property
    def widest(self) -> int:
        """Of all."""
        return max(one.width for one in self.pans)


@frozen
class Nothing:
    """No field at all."""


def test_a_value_equals_another_of_its_class_by_what_it_compares() -> None:
    assert Pan(width=20, words="a") == Pan(width=20, words="b")
    assert Pan(width=20) != Pan(width=20, fits={"cake": 1})
    assert Pan(width=20) != Same(width=20)
    assert Mark("a") == Mark("a") != Mark("b")
    assert Nothing() == Nothing()


def test_a_value_hashes_and_shows_as_a_dataclass_does() -> None:
    told = {"width": 20, "words": "a", "fits": {"cake": 1}}
    assert hash(Pan(**told)) == hash(Same(**told))
    assert repr(Pan(**told)) == repr(Same(**told)).replace("Same", "Pan")
    assert hash(Mark("a")) == hash(("a",))
    assert repr(Mark("a")) == "Mark(text='a')"
    assert hash(Shelf(pans=())) == 7
    assert (shelf := Shelf(pans=())) == shelf != Shelf(pans=())
    assert hash(Nothing()) == hash(())


def test_fields_defaults_and_copies_are_those_of_a_dataclass() -> None:
    assert [one.name for one in fields(Pan)] == ["width", "depth", "words", "fits"]
    assert replace(Pan(width=20), depth=7) == Pan(width=20, depth=7)
    assert Pan(width=20).fits is not Pan(width=20).fits
    assert pickle.loads(pickle.dumps(Pan(width=20))) == Pan(width=20)
    with pytest.raises(TypeError):
        Pan(20)  # type: ignore[call-arg, misc]


def test_a_value_has_no_other_attribute_and_may_work_one_out_without_slots() -> None:
    with pytest.raises(AttributeError):
        Pan(width=20).height = 3  # type: ignore[attr-defined]
    assert Shelf(pans=(Pan(width=20), Pan(width=24))).widest == 24


ASSIGNED = """
from cardsmith.frozen import frozen

@frozen
class Pan:
    width: int

Pan(width=20).width = 24
"""


def test_mypy_refuses_an_assignment(tmp_path: Path) -> None:
    file = tmp_path / "assigned.py"
    file.write_text(ASSIGNED)
    asked = [sys.executable, "-m", "mypy", "--cache-dir", os.devnull, str(file)]
    told = subprocess.run(
        asked, cwd=Path(__file__).parents[1], capture_output=True, text=True, check=False
    ).stdout
    assert 'Property "width" defined in "Pan" is read-only' in told
