"""Every block of a draft sorted, with the reason and how sure it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain, groupby

from cardsmith.draft.lines import Draft, ListMark, Sort
from cardsmith.draft.sorting.blocks import Block, blocks_of
from cardsmith.draft.sorting.cells import headed
from cardsmith.draft.sorting.clues import SECTIONS, SLIGHT, STRONG, Clue, Surroundings, likeliest
from cardsmith.draft.sorting.course import likeliest_course
from cardsmith.draft.sorting.evidence import evidence
from cardsmith.draft.sorting.headings import LONGEST_TITLE
from cardsmith.draft.sorting.readings import is_listed
from cardsmith.draft.sorting.words import (
    deed_of,
    label_of,
    part_words,
    plain,
    says,
    without_brackets,
    words_in,
)
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Larder

SURE = 2.0  # by how much what a line is taken for must weigh more than the next
MANY = 3  # lines set alike that make it the style of a draft's titles
CAPITALS = "in capitals"
CENTRED = 12  # columns; few lists are set in so far
FEWEST = 2  # ingredients of a list
SIGNED = "--"  # above a signature (RFC 3676, 4.3)
LOW = 3  # level of headings that titles are not set in, below a line of text
AHEAD = 20  # blocks in which a list must follow a title


@frozen
class Sorted:
    """A block, what it is, why, and what else it may be."""

    block: Block
    sort: Sort
    reason: str
    opens: str = ""  # of a label: ingredients, steps …
    else_: Sort | None = None  # where it is not sure
    weight: float = 0.0  # of what speaks for it


def sort_lines(draft: Draft, larder: Larder) -> tuple[Sorted, ...]:
    """The blocks of a draft, in order, each with what it is; what came with a mail is sorted by itself."""
    parts = [
        _sorted_lines(replace(draft, lines=tuple(lines)), larder)
        for _, lines in groupby(draft.lines, lambda line: line.source)
    ]
    listed = any(map(_is_list, parts[1:]))
    if parts and listed and not _is_list(parts[0]):
        parts[0] = tuple(_kept(one, "a letter with what it sends") for one in parts[0])
    return tuple(chain.from_iterable(parts))


def _is_list(found: tuple[Sorted, ...]) -> bool:
    return sum(one.sort is Sort.INGREDIENT and one.weight >= STRONG for one in found) >= FEWEST


def is_recipe(found: tuple[Sorted, ...]) -> bool:
    """Whether lines say by themselves that they are a list or a method."""
    return _is_list(found) or sum(map(_is_cooked, found)) >= FEWEST


def _is_cooked(one: Sorted) -> bool:
    """Whether a line is a step by what it says, not only by where it stands."""
    return one.sort is Sort.STEP and (one.block.mark is ListMark.NUMBER or one.weight > STRONG - SLIGHT)


def _kept(one: Sorted, reason: str) -> Sorted:
    return replace(one, sort=Sort.KEPT, reason=reason, opens="", else_=None)


def _sorted_lines(draft: Draft, larder: Larder) -> tuple[Sorted, ...]:
    blocks = blocks_of(draft, larder)
    labels = [_opened(block) for block in blocks]
    found = [
        evidence(block, setting, larder)
        for block, setting in zip(blocks, _settings(blocks, labels, larder), strict=True)
    ]
    weights = [likeliest(one) for one in found]
    sorts = likeliest_course(weights, labels)
    told = (
        _sorted(block, sort, reasons, weight, label)
        for block, sort, reasons, weight, label in zip(blocks, sorts, found, weights, labels, strict=True)
    )
    return tuple(chain.from_iterable(map(_held, titled(tuple(told)))))


def titled(found: Sequence[Sorted]) -> Iterator[tuple[Sorted, ...]]:
    """The lines from each title up to the next; those before the first by themselves."""
    group: list[Sorted] = []
    for one in found:
        if one.sort is Sort.TITLE and group:
            yield tuple(group)
            group = []
        group.append(one)
    if group:
        yield tuple(group)


def _held(group: tuple[Sorted, ...]) -> tuple[Sorted, ...]:
    """The lines below a title; kept as comments where no recipe is among them."""
    told = any(one.sort is Sort.INGREDIENT for one in group) or any(map(_is_cooked, group))
    if group[0].sort is not Sort.TITLE or told:
        return group
    reason = f"no recipe stands under “{group[0].block.text}”"
    return tuple(_kept(one, reason) for one in group)


def _opened(block: Block) -> str:
    """What a block opens if it is a label."""
    if block.mark is ListMark.ROW and headed(block.first.cells):
        return "ingredients"
    label = label_of(block.text)
    return label.heads if label is not None and label.heads in SECTIONS else ""


def _settings(blocks: Sequence[Block], labels: Sequence[str], larder: Larder) -> list[Surroundings]:
    worded = [block for block in blocks if _is_told(block)]
    top = _top(worded)
    first = next((one.text for one in worded if not _is_letter(one.text)), "")
    set_as = [_set_as(block) for block in blocks]
    usual = {how for how, number in Counter(set_as).items() if how and number >= MANY}
    set_as = [how if how in usual else "" for how in set_as]
    heads = [
        bool(how) or (block.mark is ListMark.HEADING and block.first.level <= max(top, 1) and not label)
        for block, how, label in zip(blocks, set_as, labels, strict=True)
    ]
    listed = _in_lists(blocks, larder)
    times = Counter(plain(block.text) for block in blocks)
    found: list[Surroundings] = []
    under, closed, signed = "", False, False
    before: Block | None = None
    for at, (block, label) in enumerate(zip(blocks, labels, strict=True)):
        after = next((one for one in blocks[at + 1 :] if _is_told(one)), None)
        if block.mark is ListMark.HEADING and block.first.level <= max(top, 1):
            under = ""
        others = next((end for end in range(at + 1, len(blocks)) if heads[end]), len(blocks))
        found.append(
            Surroundings(
                under="" if label else under,
                before=before,
                after=after,
                top=top,
                capitals=first.isupper() or CAPITALS in usual,
                set_as=set_as[at],
                closed=closed,
                signed=signed,
                listed=block.number in listed,
                repeated=times[plain(block.text)] > 1,
                list_follows=_list_follows(blocks[at + 1 : others], labels[at + 1 : others], larder),
            )
        )
        under = label or (
            "" if under in ("headnote", "equipment") and block.first.gap and not _is_item(block) else under
        )
        before = block if _is_told(block) or block.mark is ListMark.RULE else before
        signed = block.first.written == SIGNED or (signed and not block.first.gap)
        closing = bool(says(block.text, "closing"))
        closed = closing or (closed and not block.first.gap) or (closed and len(block.text.split()) <= 3)
    return found


def _is_letter(text: str) -> bool:
    """Whether a line is of the letter above a recipe: it greets, speaks to the editor, is a sentence."""
    return bool(says(text, "greeting") or says(text, "desk")) or text.endswith((".", "!", "?", ":", ","))


def _top(blocks: Sequence[Block]) -> int:
    """The level of the headings that may be titles; 0 where the title is set as none, and its parts are."""
    for at, block in enumerate(blocks):
        if block.mark is ListMark.HEADING:
            named = set(words_in(block.text)) & part_words() or label_of(block.text)
            if at == 0 or (not named and block.first.level < LOW):
                return block.first.level
    return 0


def _in_lists(blocks: Sequence[Block], larder: Larder) -> frozenset[int]:
    """The lines of paragraphs of which most lines begin with an amount of a food."""
    found: set[int] = set()
    starts = [at for at, block in enumerate(blocks) if block.first.gap or at == 0]
    for start, end in zip(starts, (*starts[1:], len(blocks)), strict=True):
        run = blocks[start:end]
        if len(run) > FEWEST and 2 * sum(is_listed(one.text, larder) for one in run) > len(run):
            found |= {block.number for block in run}
    return frozenset(found)


def _set_as(block: Block) -> str:
    """How a short line that stands by itself is set, where titles may be set so."""
    if not _is_told(block) or not block.first.gap or len(block.text.split()) > LONGEST_TITLE:
        return ""
    if without_brackets(block.text).isupper():
        return CAPITALS if label_of(block.text) is None else ""
    return "set in the middle" if block.first.indent >= CENTRED else ""


def _is_told(block: Block) -> bool:
    """Whether a block is of the text itself: no rule, no comment beside it, no heading of a mail."""
    return block.mark is not ListMark.RULE and block.first.said is not Sort.KEPT


def _is_item(block: Block) -> bool:
    return block.mark is not ListMark.NONE


def _list_follows(blocks: Sequence[Block], labels: Sequence[str], larder: Larder) -> bool:
    """Whether a list of ingredients, or its label, comes before any step."""
    for block, label in zip(blocks[:AHEAD], labels, strict=False):
        if label in ("ingredients", "steps"):
            return True
        if is_listed(block.text, larder) and not deed_of(block.text):
            return True
        if block.mark is ListMark.NUMBER:
            return False
    return False


def _sorted(
    block: Block, sort: Sort, reasons: tuple[Clue, ...], weights: dict[Sort, float], opens: str
) -> Sorted:
    mine = sorted(
        (one for one in reasons if one.sort is sort and one.weight > 0), key=lambda one: -one.weight
    )
    reason = "; ".join(one.reason for one in mine[:2]) or "nothing says what it is" * (sort is Sort.KEPT)
    others = sorted(
        ((weight, other) for other, weight in weights.items() if other is not sort), key=lambda one: -one[0]
    )
    own = weights.get(sort, 0.0)
    else_ = others[0][1] if others and others[0][0] > own - SURE and others[0][0] > 0 else None
    return Sorted(
        block=block,
        sort=sort,
        reason=reason or "it stands among others of its sort",
        opens=opens if sort is Sort.LABEL else "",
        else_=else_,
        weight=own,
    )
