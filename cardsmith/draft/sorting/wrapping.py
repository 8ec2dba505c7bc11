"""Rows put together that a mail program, a typist or a narrow column cut one line into."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from cardsmith.draft.lines import DraftLine, ListMark
from cardsmith.draft.sorting.cells import goes_on
from cardsmith.draft.sorting.facts import facts_of
from cardsmith.draft.sorting.pieces import part_and_list
from cardsmith.draft.sorting.readings import is_listed
from cardsmith.draft.sorting.words import deed_of, label_of, words_in
from cardsmith.language.figures.list_marks import sentence_starts
from cardsmith.measure.larder import Larder
from cardsmith.regex import regex

NARROW = 40  # characters of a row that a sentence may be cut behind
NARROWEST = 50  # characters of a row; a shorter one is not full in any mail or typescript
WIDEST = 110
SET_IN = 12  # columns before a row that is not of running text
SHORTEST = 20  # characters of a row of running text, however narrow its column
_SET = regex(r"\s{3,}|\.{4,}")  # columns side by side, an amount behind leaders
_STOPS = (".", "!", "?", ":")
_ENDS = (".", "!", "?", ":", "”", '"', ")")


def unwrapped(rows: Sequence[DraftLine], larder: Larder) -> list[tuple[DraftLine, ...]]:
    """The rows, those together that were one line before it was wrapped."""
    width = _width(rows)
    breaks_inside = any(_is_full(row, after, width) and _goes_on(row, after) for row, after in pairwise(rows))
    lined = _lined(rows, width)
    cased = _is_cased(rows)
    flowing = _flowing(rows) if cased else frozenset()
    groups: list[list[DraftLine]] = []
    for row in rows:
        full = bool(groups) and (row.number in flowing or _is_full(groups[-1][-1], row, width))
        full = full and row.number not in lined
        full = full or (cased and bool(groups) and _is_cut(groups[-1], row))
        if groups and _continues(groups[-1], row, larder, full=full, wrapped=breaks_inside):
            groups[-1].append(row)
        else:
            groups.append([row])
    return [tuple(group) for group in groups]


def _flowing(lines: Sequence[DraftLine]) -> frozenset[int]:
    """Rows that go on with the one before, however short: of sentences that begin and end within rows."""
    broken: set[int] = set()
    for run in _paragraphs(lines):
        is_told = any(len(sentence_starts(row.text)) > 1 for row in run) and run[-1].text.endswith(_ENDS)
        if is_told and run[0].text[:1].isupper():
            rows = ((row, after) for row, after in pairwise(run) if len(row.written) >= SHORTEST)
            broken |= {after.number for row, after in rows if _goes_on(row, after)}
    return frozenset(broken)


def _lined(rows: Sequence[DraftLine], width: int) -> frozenset[int]:
    """Rows behind the end of a sentence in paragraphs where a row ends with its sentence, though not full."""
    broken: set[int] = set()
    for run in _paragraphs(rows):
        if any(row.mark in (ListMark.BULLET, ListMark.NUMBER) for row in run):
            continue
        ended = [after for row, after in pairwise(run) if row.text.endswith(_ENDS)]
        if any(row.text.endswith(_ENDS) and not _is_full(row, after, width) for row, after in pairwise(run)):
            broken |= {after.number for after in ended if after.text[:1].isupper()}
    return frozenset(broken)


def _is_cased(rows: Sequence[DraftLine]) -> bool:
    """Whether its author begins sentences with a capital, so that a small letter goes on with one."""
    begins = [after.text[:1] for row, after in pairwise(rows) if after.gap or row.text.endswith(_STOPS)]
    return sum(map(str.isupper, begins)) > sum(map(str.islower, begins))


def _paragraphs(rows: Sequence[DraftLine]) -> Iterator[Sequence[DraftLine]]:
    """The rows between blank ones."""
    starts = [at for at, row in enumerate(rows) if row.gap or at == 0]
    for start, end in zip(starts, [*starts[1:], len(rows)], strict=True):
        yield rows[start:end]


def _width(rows: Sequence[DraftLine]) -> int:
    """How wide rows are before they are wrapped: as wide as the longest that could be one."""
    lengths = [_length(row) for row in rows if row.wrapped and not _SET.search(row.written)]
    return max((length for length in lengths if length <= WIDEST), default=0)


def _length(row: DraftLine) -> int:
    """How far a row reaches; 0 for one that is set in the middle or in a column."""
    return row.indent + len(row.written) if row.indent < SET_IN else 0


def _is_full(row: DraftLine, after: DraftLine, width: int) -> bool:
    """Whether the next row's first word had found no place in this one."""
    length = _length(row)
    first = after.text.split(maxsplit=1)[0] if after.text else ""
    return NARROWEST <= length <= WIDEST and length + 1 + len(first) > width - 2


def _is_cut(group: Sequence[DraftLine], row: DraftLine) -> bool:
    """Whether a sentence that tells a cook what to do goes on in the next row, the one before being long."""
    long = len(group[-1].written) >= NARROW
    goes_on = not row.gap and not group[-1].text.endswith(_STOPS) and row.text[:1].islower()
    return long and goes_on and bool(deed_of(group[0].text)) and not deed_of(row.text)


def _goes_on(row: DraftLine, after: DraftLine) -> bool:
    """Whether a sentence runs on from one row into the next."""
    return not (after.gap or row.text.endswith(_ENDS) or row.text.isupper()) and after.text[:1].islower()


def _continues(group: list[DraftLine], row: DraftLine, larder: Larder, *, full: bool, wrapped: bool) -> bool:
    """Whether a row belongs to the block that ends before it, whose last row is ``full`` or not."""
    first, last = group[0], group[-1]
    if first.mark is row.mark is ListMark.ROW and not row.gap:
        return goes_on(row.cells, last.cells)
    if last.mark is ListMark.NUMBER and not last.text and row.mark is ListMark.NONE:
        return True  # "Step 1" in a row of its own
    if row.gap or row.mark is not ListMark.NONE or row.quoted or last.quoted or not row.wrapped:
        return False
    if first.mark in (ListMark.HEADING, ListMark.ROW, ListMark.RULE):
        return False
    if any(_SET.search(line.text) for line in (last, row)):
        return False
    text = " ".join(line.text for line in group)
    if text.count("(") > text.count(")") and row.text.count(")") > row.text.count("("):
        return True
    if first.mark in (ListMark.BULLET, ListMark.NUMBER) and row.indent > first.indent:
        return True
    if label_of(row.text) or label_of(text) or not full or part_and_list(row.text, larder):
        return False
    if any(fact.lead for fact in (*facts_of(row.text), *facts_of(text))) and not row.text[:1].islower():
        return False
    if last.text.endswith((",", "-", " and", " or")) or (_goes_on(last, row) and len(words_in(text)) > 1):
        return not (is_listed(first.text, larder) and is_listed(row.text, larder))
    if is_listed(first.text, larder) or is_listed(row.text, larder):
        return not last.text.endswith(_ENDS) and not is_listed(row.text, larder) and row.text[:1].islower()
    return wrapped or not last.text.endswith(_ENDS)
