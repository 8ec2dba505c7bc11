"""A change of some words of a text, and what a text means, which no change may touch."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardsmith.draft.sorting.readings import line_of
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.prose.sentences import readings
from cardsmith.measure.larder import Larder


@frozen(kw_only=False)
class Change:
    """The characters from ``start`` up to ``end`` of a text written otherwise, and by which rule."""

    start: int
    end: int
    new: str
    rule: str

    def of(self, text: str) -> str:
        """The text with this change alone."""
        return text[: self.start] + self.new + text[self.end :]


def harmless(text: str, changes: Iterable[Change], larder: Larder, *, listed: bool) -> Iterator[Change]:
    """The changes that leave every number and food of a text what it was; of two that overlap the first."""
    meant = _meaning(text, larder, listed=listed)
    taken = 0
    for edit in sorted(changes, key=lambda change: (change.start, -change.end)):
        if (
            edit.start >= taken
            and edit.of(text) != text
            and _meaning(edit.of(text), larder, listed=listed) == meant
        ):
            taken = edit.end
            yield edit


def _meaning(text: str, larder: Larder, *, listed: bool) -> object:
    """The numbers of a text as they are read, and of a line of a list its food and its faults."""
    figures = [
        (
            reading.kind,
            reading.low,
            reading.high,
            reading.bound,
            [(side.low, side.high, side.unit.name) for side in reading.sides],
        )
        for reading in readings(text)
    ]
    if not listed:
        return figures
    line = line_of(text, larder)
    sizes = [
        (
            statement.quantity.low,
            statement.quantity.high,
            statement.quantity.unit.name,
            statement.quantity.bound,
            statement.share,
            statement.role,
        )
        for statement in line.statements
    ]
    faults = sum(fault.severity is Severity.ERROR for fault in line.faults)
    return sizes, line.match.food.key if line.match else None, line.size, faults
