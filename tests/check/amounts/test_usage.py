"""Fragments in writers' own words: what is listed and not used is told, and what is used and not listed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from cardsmith.finding import Severity
from cardsmith.recipe.model import Recipe
from tests.check.bench import found, part, recipe

CHECKS = """listed-not-used used-not-listed line-twice part-missing part-made-later prose-amount-disagrees
    left-over drawn-too-much remaining-of-nothing remaining-disagrees set-aside-never-used""".split()


@dataclass(frozen=True)
class Fragment:
    """A title, its parts, and the check that must speak of one word; no check for a sound one."""

    title: str
    parts: tuple[str, ...]
    check: str = ""
    word: str = ""

    @property
    def recipe(self) -> Recipe:
        """Each line of a fragment is a part: ``[Name] list; list | step / step``."""
        read = []
        for text in self.parts:
            match = re.fullmatch(r"(?:\[(.*?)\] )?(.*?) \| (.*)", text)
            assert match is not None, text
            name, lines, steps = match.groups("")
            read.append(part(name, [re.sub(";$", "", one) for one in lines.split("; ")], steps.split(" / ")))
        return recipe(parts=tuple(read), title=self.title)

    def findings(self) -> list[tuple[str, Severity, str]]:
        """What the checks of lists and steps say, but for notes."""
        told = ((name, one) for name in CHECKS for one in found(name, self.recipe))
        return [(name, one.severity, one.what) for name, one in told if one.severity is not Severity.NOTE]


def fragments() -> Iterator[Fragment]:
    """Those of fragments.txt."""
    text = (Path(__file__).parent / "fragments.txt").read_text(encoding="utf-8")
    for block in re.split(r"\n(?=sound |faulty )", text)[1:]:
        head, *parts = block.strip().splitlines()
        told, title = head.split(" | ")
        check, word = (*told.split()[1:], "", "")[:2]
        yield Fragment(title=title, parts=tuple(parts), check=check, word=word)


@pytest.mark.parametrize(
    "one", [one for one in fragments() if not one.check], ids=lambda one: one.title.replace(" ", "-")
)
def test_a_sound_fragment_is_left_in_peace(one: Fragment) -> None:
    assert one.findings() == []


@pytest.mark.parametrize(
    "one", [one for one in fragments() if one.check], ids=lambda one: one.title.replace(" ", "-")
)
def test_a_fault_is_named_and_nothing_else(one: Fragment) -> None:
    (told,) = one.findings()
    mild = one.check == "line-twice"
    assert told[:2] == (one.check, Severity.WARNING if mild else Severity.ERROR)
    assert one.word in told[2].lower()
