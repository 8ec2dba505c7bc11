"""Marks of a list that only the lines beside tell: "1 - Heat", "2 - Fold"; "1.1 500 g leeks"; "-2 eggs"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from cardsmith.draft.lines import Draft, DraftLine, ListMark
from cardsmith.draft.sorting.readings import is_unit
from cardsmith.draft.sorting.words import deed_of
from cardsmith.frozen import frozen
from cardsmith.language.figures.list_marks import CountedLine, counted_line
from cardsmith.regex import regex

FEWEST_WORDS = 4  # of a sentence; "1 Onion." is none
_DASHED = regex(r"[-‐‑‒–—−*](?=[^\W_])")


@frozen(kw_only=False)
class _Counted:
    """A line that a number begins, and its place."""

    at: int
    by: CountedLine


def as_numbered(draft: Draft) -> Draft:
    """A draft whose lines that count up from 1 in one manner are those of a numbered list."""
    lines = [*_unglued(draft.lines)]
    counted = [numbered for at, line in enumerate(lines) for numbered in _counted(at, line)]
    after = list(lines)
    for run in _runs(counted):
        if len(run) > 1 and all(map(_tells, run)):
            for numbered in run:
                after[numbered.at] = replace(after[numbered.at], text=numbered.by.rest, mark=ListMark.NUMBER)
    return replace(draft, lines=tuple(after))


def _unglued(lines: Sequence[DraftLine]) -> Iterator[DraftLine]:
    """The lines, those below or above another that a dash begins too, "-2 eggs", as lines of a list."""
    dashed = [line.mark is ListMark.NONE and bool(_DASHED.match(line.text)) for line in lines]
    for at, line in enumerate(lines):
        beside = dashed[max(0, at - 1) : at + 2]
        if dashed[at] and sum(beside) > 1 and not line.quoted:
            yield replace(line, text=line.text[1:], mark=ListMark.BULLET)
        else:
            yield line


def _counted(at: int, line: DraftLine) -> Iterator[_Counted]:
    plain = line.mark is ListMark.NONE and not line.quoted and line.said is None
    if plain and (counted := counted_line(line.text)):
        yield _Counted(at, counted)


def _runs(counted: Sequence[_Counted]) -> Iterator[list[_Counted]]:
    """Those of one manner from each 1 on as far as they count up."""
    for manner in dict.fromkeys(numbered.by.manner for numbered in counted):
        run: list[_Counted] = []
        for numbered in (numbered for numbered in counted if numbered.by.manner == manner):
            if numbered.by.number != len(run) + 1:
                yield run
                run = []
            if numbered.by.number == len(run) + 1:
                run.append(numbered)
        yield run


def _tells(line: _Counted) -> bool:
    """Whether a number can't be an amount: marks set it off from words; bare, a step or an amount follows."""
    (lead, behind), rest = line.by.manner, line.by.rest
    if lead.endswith("."):
        return not is_unit(rest.split()[0])
    if not lead and not behind:
        sentence = rest.endswith(".") and len(rest.split()) >= FEWEST_WORDS
        return rest[0].isupper() and (sentence or bool(deed_of(rest)))
    return not rest[0].isnumeric() or behind in ("]", ")") or lead == "#"
