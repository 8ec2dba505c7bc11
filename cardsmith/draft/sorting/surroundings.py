"""What is known of each block of a draft from those around it, before any is sorted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import dropwhile, pairwise

from cardsmith.draft.lines import LOW, ListMark, Sort
from cardsmith.draft.sorting.blocks import Block
from cardsmith.draft.sorting.cells import headed
from cardsmith.draft.sorting.clues import FEWEST, SECTIONS, Surroundings
from cardsmith.draft.sorting.facts import facts_of
from cardsmith.draft.sorting.headings import LONGEST_TITLE
from cardsmith.draft.sorting.readings import is_listed, is_measured
from cardsmith.draft.sorting.words import (
    addresses,
    deed_of,
    is_capitalised,
    is_name,
    label_of,
    part_words,
    plain,
    says,
    to_desk,
    without_brackets,
    words_in,
)
from cardsmith.measure.larder import Larder

MANY = 3  # lines set alike that make it the style of a draft's titles
CAPITALS = "in capitals"
CENTRED = 12  # columns; few lists are set in so far
SIGNED = "--"  # above a signature (RFC 3676, 4.3)
LISTS = ("ingredients", "steps")
FAR = 8  # lines that may stand between a title and the label of its list
AHEAD = 20  # blocks in which a list must follow a title
PLAIN = (False, False, False, "")  # how a line is set that no mark sets apart
_ENDS = (".", "!", "?", ":", ",", ";", " -", " –")


def opened(block: Block) -> str:
    """What a block opens if it is a label."""
    if block.mark is ListMark.ROW and headed(block.first.cells):
        return "ingredients"
    label = label_of(block.text)
    return label.heads if label is not None and label.heads in SECTIONS else ""


def settings(blocks: Sequence[Block], labels: Sequence[str], larder: Larder) -> list[Surroundings]:
    """What is known of each block; ``labels`` tells what each opens."""
    worded = [block for block in blocks if _is_told(block)]
    top = _top(list(dropwhile(lambda block: _speaks(block.text), worded)))
    first = next((block.text for block in worded if not _is_letter(block.text)), "")
    set_as = [_set_as(block) for block in blocks]
    usual = {how for how, number in Counter(set_as).items() if how and number >= MANY}
    set_as = [how if how in usual else "" for how in set_as]
    heads = [
        bool(how) or (block.mark is ListMark.HEADING and block.first.level <= max(top, 1) and not label)
        for block, how, label in zip(blocks, set_as, labels, strict=True)
    ]
    listed = _in_lists(blocks, larder)
    begins = frozenset((*_beginnings(blocks, labels, larder), *_set_as_first(blocks, labels, larder)))
    times = Counter(plain(block.text) for block in blocks)
    surroundings: list[Surroundings] = []
    under, closed, signed = "", False, False
    before: Block | None = None
    for at, (block, label) in enumerate(zip(blocks, labels, strict=True)):
        below = (other for other in blocks[at + 1 :] if other.first is not block.first and _is_told(other))
        after = next(below, None)
        if at in begins or (block.mark is ListMark.HEADING and block.first.level <= max(top, 1)):
            under = ""
        others = next((end for end in range(at + 1, len(blocks)) if heads[end]), len(blocks))
        surroundings.append(
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
                above_amounts=_is_above_amounts(block, after, larder),
                begins=at in begins,
                repeated=times[plain(block.text)] > 1,
                list_follows=_list_follows(blocks[at + 1 : others], labels[at + 1 : others], larder),
            )
        )
        under = label or (
            "" if under in ("headnote", "equipment") and block.first.gap and not _is_item(block) else under
        )
        letter = before is None and _speaks(block.text)
        is_told = (_is_told(block) and not letter) or block.mark is ListMark.RULE
        before = block if is_told else before
        signed = block.first.written == SIGNED or (signed and not block.first.gap)
        closing = bool(says(block.text, "closing"))
        closed = closing or (closed and not block.first.gap) or (closed and len(block.text.split()) <= 3)
    return surroundings


def _beginnings(blocks: Sequence[Block], labels: Sequence[str], larder: Larder) -> Iterator[int]:
    """The places of short lines that begin a recipe: a list is not far below, and no step between.

    Where the list has no label, a yield or a sentence stands between: else it may be that of a component.
    """
    for end in range(1, len(blocks)):
        labelled = labels[end] in LISTS
        if not labelled and (_is_item(blocks[end - 1]) or not is_listed(blocks[end].text, larder)):
            continue
        in_telling = labelled
        for at in range(end - 1, max(-1, end - FAR), -1):
            block = blocks[at]
            if (
                labels[at]
                or block.number == blocks[at - 1].number
                or _is_item(block)
                or deed_of(block.text)
                or is_listed(block.text, larder)
            ):
                break
            named = bool(set(words_in(block.text)) & part_words()) and end - at == 1
            if _may_begin(block) and in_telling and not named:
                yield at
                break
            in_telling = in_telling or bool(facts_of(block.text)) or block.text.endswith(".")


def _set_as_first(blocks: Sequence[Block], labels: Sequence[str], larder: Larder) -> Iterator[int]:
    """The places of short lines set as the draft's first one is, with what stands above a list below them."""
    places = [at for at, block in enumerate(blocks) if _is_told(block)]
    title = next((_manner(blocks[at]) for at in places if _may_be_named(blocks[at].text)), PLAIN)
    for at, after in pairwise(places):
        block, below = blocks[at], blocks[after]
        alike = (
            (block.first.gap or not block.first.wrapped)  # paragraphs of a Word file have no blank rows
            and title != PLAIN
            and _manner(block) == title
            and _is_short(block.text)
        )
        if not alike or labels[at] or _is_item(below) or is_listed(below.text, larder) or deed_of(below.text):
            continue
        end = at + 1 + AHEAD
        if _list_follows(blocks[at + 1 : end], labels[at + 1 : end], larder):
            yield at


def _may_be_named(text: str) -> bool:
    """Whether a line is none of a letter, or has capitals as a title has."""
    return not _is_letter(text) or (is_capitalised(text) and not _speaks(text))


def _speaks(text: str) -> bool:
    """Whether a line speaks to whom the letter is for."""
    return bool(addresses(text) or to_desk(text))


def _manner(block: Block) -> tuple[bool, bool, bool, str]:
    """How a line is set: with a number, with a label, in capitals, before which mark."""
    text, label = block.text, label_of(block.text)
    ends = text[-1:] if text.endswith((":", ".", "”", '"')) else ""
    return block.mark is ListMark.NUMBER, label is not None and label.opens == "title", text.isupper(), ends


def _is_above_amounts(block: Block, after: Block | None, larder: Larder) -> bool:
    """Whether a line opens a paragraph whose next line begins with an amount."""
    return block.first.gap and after is not None and not after.first.gap and is_measured(after.text, larder)


def _may_begin(block: Block) -> bool:
    """Whether a line may be a title: short, without a stop, and it tells no fact."""
    short = _is_short(block.text) and not block.text.endswith(_ENDS)
    other = (
        addresses(block.text)
        or to_desk(block.text)
        or facts_of(block.text)
        or label_of(block.text)
        or is_name(block.text, apart=False)
    )
    return short and _is_told(block) and not other and ": " not in block.text


def _is_short(text: str) -> bool:
    return len(text.split()) <= LONGEST_TITLE


def _is_letter(text: str) -> bool:
    """Whether a line is of the letter above a recipe: it greets, speaks to the editor, is a sentence."""
    return bool(addresses(text) or says(text, "desk")) or text.endswith((".", "!", "?", ":", ","))


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
    places: set[int] = set()
    starts = [at for at, block in enumerate(blocks) if block.first.gap or at == 0]
    for start, end in zip(starts, (*starts[1:], len(blocks)), strict=True):
        run = blocks[start:end]
        if len(run) > FEWEST and 2 * sum(is_listed(block.text, larder) for block in run) > len(run):
            places |= {block.number for block in run}
    return frozenset(places)


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
    return block.mark in (ListMark.BULLET, ListMark.NUMBER, ListMark.ROW)


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
