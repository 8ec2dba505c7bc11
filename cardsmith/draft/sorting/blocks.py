"""The blocks of a draft: lines as their authors meant them, those of several kinds taken apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from cardsmith.draft.lines import Draft, DraftLine, ListMark
from cardsmith.draft.sorting.cells import TableColumn, headed, in_one_line, joined
from cardsmith.draft.sorting.facts import dish_and_yield, facts_of
from cardsmith.draft.sorting.pieces import part_and_list
from cardsmith.draft.sorting.readings import is_listed, is_measured
from cardsmith.draft.sorting.words import label_of, tools, words_in
from cardsmith.draft.sorting.wrapping import unwrapped
from cardsmith.frozen import frozen
from cardsmith.language.figures.list_marks import numbered, numbered_within, sentence_starts
from cardsmith.measure.larder import Larder
from cardsmith.regex import regex

GAP = "   "  # between what stands side by side
_GAP = regex(r"\s{3,}(?=\S)")
_LISTS = ("ingredients", "steps")


@frozen
class Block:
    """One line as its author meant it: one row, or those it was wrapped into, or a part of one."""

    lines: tuple[DraftLine, ...]
    text: str
    mark: ListMark = ListMark.NONE
    dropped: str = ""  # the number before it, where it is one of several steps in a line

    @property
    def first(self) -> DraftLine:
        """The row it begins in."""
        return self.lines[0]

    @property
    def number(self) -> int:
        """The line of the draft it begins in."""
        return self.lines[0].number


def blocks_of(draft: Draft, larder: Larder) -> tuple[Block, ...]:
    """The blocks of a draft, in order."""
    groups = unwrapped(draft.lines, larder)
    blocks: list[Block] = []
    head: tuple[TableColumn, ...] = ()
    for group in groups:
        line = group[0]
        if not blocks and _is_title_row(line, larder):
            blocks += [Block(lines=group, text=cell) for cell in line.cells if cell]
            continue
        if line.mark is ListMark.ROW and not _side_by_side(line.cells, larder):
            if heads := headed(line.cells):
                head = heads
            cells = joined([line.cells for line in group])
            label = label_of(cells[0])
            labelled = ": ".join((cells[0].rstrip(": "), " ".join(cells[1:]))) if label else " ".join(cells)
            says_so = bool(facts_of(labelled)) or (label is not None and label.opens not in _LISTS)
            text = line.text if heads else labelled if says_so else in_one_line(cells, head, larder)
            blocks.append(Block(lines=group, text=text, mark=ListMark.ROW))
            continue
        text = GAP.join(line.cells) if line.cells else " ".join(line.text for line in group if line.text)
        head = () if line.gap or label_of(text) else head  # a subhead within a table ends no column
        for piece in _columns(text, larder):
            blocks += _apart(Block(lines=group, text=piece, mark=line.mark), larder)
    return tuple(blocks)


def _is_title_row(line: DraftLine, larder: Larder) -> bool:
    """Whether a row of cells is none of a table: a title, and at the other margin its version or its page."""
    if line.mark is not ListMark.ROW or line.written.startswith("|") or headed(line.cells):
        return False
    text = " ".join(line.cells)
    return "" in line.cells and not (facts_of(text) or is_listed(text, larder))


def _columns(text: str, larder: Larder) -> tuple[str, ...]:
    """What stands side by side in one row: foods with their amounts, or facts such as times."""
    pieces = tuple(_GAP.split(text))
    measured = len(pieces) > 1 and all(is_measured(piece, larder) for piece in pieces)
    apart = measured or (not facts_of(text) and any(map(_says_fact, pieces[1:])))
    return pieces if apart else (text,)


def _says_fact(piece: str) -> bool:
    label = label_of(piece)
    return any(fact.lead for fact in facts_of(piece)) or (label is not None and bool(label.rest))


def _side_by_side(pieces: Sequence[str], larder: Larder) -> bool:
    """Whether each piece of a row is a line of its own: a food with its amount, or a yield, a time."""
    foods = all(is_listed(piece, larder) for piece in pieces)
    return len(pieces) > 1 and (foods or all(map(_says_fact, pieces)))


def _apart(block: Block, larder: Larder) -> Iterator[Block]:
    """A label and what stands behind it, each for itself; steps that are numbered within one line."""
    label = label_of(block.text)
    rest = label.rest if label is not None and label.opens in _LISTS and label.colon else ""
    rest = "" if set(words_in(rest)) & tools(larder.tables) and not is_listed(rest, larder) else rest
    if label is not None and rest and block.mark is not ListMark.NUMBER:
        yield Block(lines=block.lines, text=label.label, mark=ListMark.NONE)
        yield from _apart(Block(lines=block.lines, text=rest), larder)
        return
    if label is None and (parted := part_and_list(block.text, larder)):
        yield Block(lines=block.lines, text=parted[0])
        yield Block(lines=block.lines, text=parted[1])
        return
    plain = block.mark in (ListMark.NONE, ListMark.HEADING) and not is_listed(block.text, larder)
    if plain and (titled := dish_and_yield(block.text)):
        yield from (replace(block, text=text) for text in titled)
        return
    starts = sentence_starts(block.text) if plain and not facts_of(block.text) else ()
    if len(starts) > 1 and any(fact.lead for fact in facts_of(block.text[: starts[1]].strip())):
        yield replace(block, text=block.text[: starts[1]].strip())  # "Cuts into 16. You need a 20 cm tin."
        yield from _apart(replace(block, text=block.text[starts[1] :]), larder)
        return
    written = block.text if block.mark is not ListMark.NUMBER else f"1. {block.text}"
    starts = numbered_within(written)
    if not starts:
        yield block
        return
    for start, end in zip(starts, (*starts[1:], len(written)), strict=True):
        piece = written[start:end].strip()
        number = numbered(piece)
        text = piece[number:].strip()
        yield Block(lines=block.lines, text=text, mark=ListMark.NUMBER, dropped=piece[:number])
