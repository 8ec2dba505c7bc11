"""Every block of a draft sorted, with the reason and how sure it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain, groupby

from cardsmith.draft.lines import Draft, ListMark, Sort
from cardsmith.draft.sorting.blocks import Block, blocks_of
from cardsmith.draft.sorting.clues import FAIR, FEWEST, SLIGHT, STRONG, Clue, likeliest
from cardsmith.draft.sorting.course import likeliest_course
from cardsmith.draft.sorting.evidence import evidence
from cardsmith.draft.sorting.surroundings import opened, settings
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Larder

SURE = 2.0  # by how much what a line is taken for must weigh more than the next


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
        parts[0] = tuple(_kept(block, "a letter with what it sends") for block in parts[0])
    return tuple(chain.from_iterable(parts))


def _is_list(sorted_blocks: tuple[Sorted, ...]) -> bool:
    return sum(block.sort is Sort.INGREDIENT and block.weight >= STRONG for block in sorted_blocks) >= FEWEST


def is_recipe(sorted_blocks: tuple[Sorted, ...]) -> bool:
    """Whether lines say by themselves that they are a list or a method."""
    return _is_list(sorted_blocks) or sum(map(_is_cooked, sorted_blocks)) >= FEWEST


def is_of_recipe(block: Sorted) -> bool:
    """Whether a line says by itself that it is an ingredient or a step."""
    return (block.sort is Sort.INGREDIENT and block.weight >= FAIR) or _is_cooked(block)


def _is_cooked(block: Sorted) -> bool:
    """Whether a line is a step by what it says, not only by where it stands."""
    return block.sort is Sort.STEP and (block.block.mark is ListMark.NUMBER or block.weight > STRONG - SLIGHT)


def _kept(block: Sorted, reason: str) -> Sorted:
    return replace(block, sort=Sort.KEPT, reason=reason, opens="", else_=None)


def _sorted_lines(draft: Draft, larder: Larder) -> tuple[Sorted, ...]:
    blocks = blocks_of(draft, larder)
    labels = [opened(block) for block in blocks]
    clues = [
        evidence(block, setting, larder)
        for block, setting in zip(blocks, settings(blocks, labels, larder), strict=True)
    ]
    weights = [likeliest(of_block) for of_block in clues]
    sorts = likeliest_course(weights, labels)
    sorted_blocks = (
        _sorted(block, sort, reasons, weight, label)
        for block, sort, reasons, weight, label in zip(blocks, sorts, clues, weights, labels, strict=True)
    )
    return tuple(chain.from_iterable(map(_held, titled(tuple(sorted_blocks)))))


def titled(sorted_blocks: Sequence[Sorted]) -> Iterator[tuple[Sorted, ...]]:
    """The lines from each title up to the next; those before the first by themselves."""
    group: list[Sorted] = []
    for block in sorted_blocks:
        if block.sort is Sort.TITLE and group:
            yield tuple(group)
            group = []
        group.append(block)
    if group:
        yield tuple(group)


def _held(group: tuple[Sorted, ...]) -> tuple[Sorted, ...]:
    """The lines below a title; kept as comments where no recipe is among them."""
    is_recipe_too = any(block.sort is Sort.INGREDIENT for block in group) or any(map(_is_cooked, group))
    if group[0].sort is not Sort.TITLE or is_recipe_too:
        return group
    reason = f"no recipe stands under “{group[0].block.text}”"
    return tuple(_kept(block, reason) for block in group)


def _sorted(
    block: Block, sort: Sort, reasons: tuple[Clue, ...], weights: dict[Sort, float], opens: str
) -> Sorted:
    mine = sorted(
        (clue for clue in reasons if clue.sort is sort and clue.weight > 0), key=lambda clue: -clue.weight
    )
    reason = "; ".join(clue.reason for clue in mine[:2]) or "nothing says what it is" * (sort is Sort.KEPT)
    others = sorted(
        ((weight, other) for other, weight in weights.items() if other is not sort), key=lambda pair: -pair[0]
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
