"""What changed between two proofs: every word and number, where it stands, old and new."""

from __future__ import annotations

import enum
from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from difflib import SequenceMatcher

from cardsmith.frozen import frozen
from cardsmith.proof.fields import FieldNumber, ProofField
from cardsmith.proof.pairing import moved, pairs
from cardsmith.proof.word_changes import Hunk, Marks, compare_words


@enum.unique
class ChangeKind(enum.StrEnum):
    """What became of a text."""

    CHANGED = "changed"
    ADDED = "added"
    REMOVED = "removed"
    MOVED = "moved"  # its words are as they were


@frozen
class Renumbered:
    """A number that changed; None where there was or is none."""

    old: FieldNumber | None
    new: FieldNumber | None

    @property
    def only_rounding(self) -> bool:
        """Whether only its printed form changed, not the author's figure."""
        return self.old is not None and self.new is not None and self.old.author == self.new.author


@frozen
class TextChange:
    """One text that changed."""

    kind: ChangeKind
    place: str
    field: ProofField  # the new text's field; the old one's where it was removed
    hunks: tuple[Hunk, ...] = ()
    numbers: tuple[Renumbered, ...] = ()
    moved_from: str = ""  # where it stood; empty where it did not move


@frozen
class Changes:
    """All that changed, in the reading order of the new card, then what was removed."""

    listed: tuple[TextChange, ...] = ()
    marks: Mapping[tuple[str, int], Mapping[str, Marks]] = field(default_factory=dict, hash=False)

    def __bool__(self) -> bool:
        return bool(self.listed)


def changes(old: Sequence[ProofField], new: Sequence[ProofField]) -> Changes:
    """Compare two cards."""
    paired = pairs(old, new)
    elsewhere = moved(paired, old, new)
    listed: list[TextChange] = []
    marks: dict[tuple[str, int], dict[str, Marks]] = {}
    for place, current in enumerate(new):
        if place not in paired:
            if current.text:
                listed.append(_whole(ChangeKind.ADDED, current))
                marks[current.spot] = _numbered(
                    {cell: _all(words) for cell, words in current.words.items() if words}, len(listed)
                )
            continue
        before = old[paired[place]]
        moved_from = _stood(before) if place in elsewhere else ""
        hunks, marked = _cells(before, current)
        numbers = _renumbered(before.figures, current.figures)
        if hunks or numbers or moved_from:
            kind = ChangeKind.CHANGED if hunks or numbers else ChangeKind.MOVED
            listed.append(
                TextChange(
                    kind=kind,
                    place=current.place,
                    field=current,
                    hunks=hunks,
                    numbers=numbers,
                    moved_from=moved_from,
                )
            )
            if moved_from:
                cell = _cells_of(current)[0]
                marked[cell] = replace(marked.get(cell, Marks()), moved=True)
            marks[current.spot] = _numbered(marked, len(listed))
    kept = set(paired.values())
    for place, current in enumerate(old):
        if place not in kept and current.text:
            listed.append(_whole(ChangeKind.REMOVED, current))
            _mark_gone(place, len(listed), old, new, paired, marks)
    return Changes(listed=tuple(listed), marks=marks)


def _numbered(marks: Mapping[str, Marks], entry: int) -> dict[str, Marks]:
    return {cell: replace(mark, entry=entry) for cell, mark in marks.items()}


def _cells_of(current: ProofField) -> list[str]:
    """The cells whose words tell where a text begins and ends; the amounts of a line stand beside it."""
    return [cell for cell in ("text", "item", "prep", "note") if current.words.get(cell)]


def _mark_gone(
    place: int,
    entry: int,
    old: Sequence[ProofField],
    new: Sequence[ProofField],
    paired: Mapping[int, int],
    marks: dict[tuple[str, int], dict[str, Marks]],
) -> None:
    """Mark where the text at ``place`` stood: beside the nearest of its part and kind, else near by."""
    gone = old[place]
    shown = {other: mine for mine, other in paired.items() if _cells_of(new[mine])}
    now = {other: mine for other, mine in shown.items() if old[other].kind != "photo"}
    if not now:
        return

    def far(other: int) -> tuple[bool, bool, bool, int]:
        kin = old[other].kind == gone.kind
        return not (kin and old[other].part == gone.part), not kin, other > place, abs(other - place)

    other = min(now) if gone.kind == "photo" else min(now, key=far)  # a picture stands above everything else
    after = other < place and gone.kind != "photo"
    current = new[now[other]]
    cell = _cells_of(current)[-1 if after else 0]
    cells = marks.setdefault(current.spot, {})
    known = cells.get(cell, Marks())
    if after:
        cells[cell] = replace(known, after=(*known.after, entry))
    else:
        cells[cell] = replace(known, before=(*known.before, entry))


def _stood(current: ProofField) -> str:
    if current.kind == "line":
        return f"line {current.at + 1} of the list"
    return (
        f"{current.part}, {current.place}"
        if current.part and current.part not in current.place
        else current.place
    )


def _all(words: str) -> Marks:
    return Marks(new=frozenset(range(len(words.split()))))


def _whole(kind: ChangeKind, current: ProofField) -> TextChange:
    old, new = (current.text, "") if kind is ChangeKind.REMOVED else ("", current.text)
    numbers = tuple(
        Renumbered(old=figure, new=None) if kind is ChangeKind.REMOVED else Renumbered(old=None, new=figure)
        for figure in current.figures
    )
    hunk = Hunk(before="", old=old, new=new, after="")
    return TextChange(kind=kind, place=current.place, field=current, hunks=(hunk,), numbers=numbers)


def _cells(before: ProofField, current: ProofField) -> tuple[tuple[Hunk, ...], dict[str, Marks]]:
    hunks: list[Hunk] = []
    marked: dict[str, Marks] = {}
    for cell in dict.fromkeys([*current.words, *before.words]):
        compared, marks = compare_words(before.words.get(cell, ""), current.words.get(cell, ""), cell)
        hunks += compared
        if marks and current.words.get(cell):
            marked[cell] = marks
        elif marks:  # all its words went out: it stood beside the item
            words = len(current.words.get("item", "").split())
            item = marked.get("item", Marks())
            marked["item"] = replace(item, gaps=item.gaps | {words})
    return tuple(hunks), marked


def _renumbered(old: Sequence[FieldNumber], new: Sequence[FieldNumber]) -> tuple[Renumbered, ...]:
    renumbered: list[Renumbered] = []
    for kind, a, b, c, d in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if kind == "equal":
            continue
        gone, came = [*old[a:b]], [*new[c:d]]
        for place in range(max(len(gone), len(came))):
            renumbered.append(
                Renumbered(
                    old=gone[place] if place < len(gone) else None,
                    new=came[place] if place < len(came) else None,
                )
            )
    return tuple(renumbered)
