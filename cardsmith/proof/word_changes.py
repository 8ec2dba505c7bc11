"""Two texts compared word by word."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher

from cardsmith.frozen import frozen

_CONTEXT = 3  # words of context on each side of a change


@frozen
class Hunk:
    """One place of a text where words changed, with the words around it in the new text."""

    before: str
    old: str  # empty where words were added
    new: str  # empty where words were removed
    after: str
    cell: str = ""  # which of several texts that stand side by side


@frozen
class Marks:
    """What to mark in the new text, its words counted from 0, and which entries of the list say why."""

    new: frozenset[int] = frozenset()
    gaps: frozenset[int] = (
        frozenset()
    )  # words before which others were removed; the number of words stands for the end
    moved: bool = False  # the text stood elsewhere
    entry: int = 0  # from 1, of all the above; 0 for none
    before: tuple[int, ...] = ()  # entries of texts that stood before this one and are gone
    after: tuple[int, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.new or self.gaps or self.moved or self.before or self.after)


def compare_words(old: str, new: str, cell: str = "") -> tuple[tuple[Hunk, ...], Marks]:
    """What changed from one text to the other. Words that are not marked stand in both, in one order."""
    before, after = old.split(), new.split()
    hunks: list[Hunk] = []
    marked: set[int] = set()
    gaps: set[int] = set()
    for kind, a, b, c, d in _matcher(before, after).get_opcodes():
        if kind == "equal":
            continue
        marked.update(range(c, d))
        if c == d:
            gaps.add(c)
        hunks.append(
            Hunk(
                before=" ".join(after[max(0, c - _CONTEXT) : c]),
                old=" ".join(before[a:b]),
                new=" ".join(after[c:d]),
                after=" ".join(after[d : d + _CONTEXT]),
                cell=cell,
            )
        )
    return tuple(hunks), Marks(new=frozenset(marked), gaps=frozenset(gaps))


def likeness(old: str, new: str) -> float:
    """How much two texts have in common: 0 for nothing, 1 for all of it."""
    return _matcher(old.split(), new.split()).ratio()


def _matcher(old: Sequence[str], new: Sequence[str]) -> SequenceMatcher[str]:
    return SequenceMatcher(None, old, new, autojunk=False)
