"""The course of a recipe: which sorts of lines may follow which, and the likeliest one through a draft.

    course = [letter] { [yield] title head (list method | alone) tail }
    head   = headnote | yield | time | equipment | credit
    list   = label | part | ingredient
    method = label | part | step
    alone  = label | part | step, of a recipe that has no list, or has it behind
    tail   = storage | note | yield

A table of costs stands for this grammar, since drafts keep to it loosely; the course with the least cost,
against what speaks for each line, is found for the whole draft at once (Viterbi's algorithm): a line of which
little is known is what its neighbours make of it. Equal sums are settled by order: a draft gives one result.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator, Mapping, Sequence

from cardsmith.draft.lines import Sort
from cardsmith.frozen import frozen


class Phase(enum.IntEnum):
    """How far a recipe has come."""

    BEFORE = 0
    HEAD = 1
    LIST = 2
    METHOD = 3
    TAIL = 4
    ALONE = 5


NEVER = -50.0
UNSAID = 0.4  # what "nobody knows" weighs: a line for which nothing speaks is kept as a comment
UNLIKE = -2.0  # of an ingredient for which nothing speaks
# By sort: from a phase, to a phase, what the move costs. What is not here never happens.
_MOVES: Mapping[Sort, tuple[tuple[Phase, Phase, float], ...]] = {
    Sort.TITLE: (
        (Phase.BEFORE, Phase.HEAD, 0),
        (Phase.HEAD, Phase.HEAD, -4),
        (Phase.LIST, Phase.HEAD, -9),
        (Phase.METHOD, Phase.HEAD, -4),
        (Phase.TAIL, Phase.HEAD, -3),
        (Phase.ALONE, Phase.HEAD, -4),
    ),
    Sort.HEADNOTE: ((Phase.BEFORE, Phase.HEAD, -2), (Phase.HEAD, Phase.HEAD, 0)),
    Sort.YIELD: (
        (Phase.BEFORE, Phase.BEFORE, -1),
        (Phase.BEFORE, Phase.HEAD, -1),
        *((phase, phase, 0.0) for phase in Phase if phase is not Phase.BEFORE),
    ),
    Sort.EQUIPMENT: (
        (Phase.BEFORE, Phase.HEAD, -2),
        (Phase.HEAD, Phase.HEAD, 0),
        (Phase.LIST, Phase.LIST, -1),
        (Phase.METHOD, Phase.METHOD, -1),
        (Phase.TAIL, Phase.TAIL, -1),
        (Phase.ALONE, Phase.ALONE, -1),
    ),
    Sort.PART: (
        (Phase.BEFORE, Phase.LIST, -3),
        (Phase.HEAD, Phase.LIST, 0),
        (Phase.LIST, Phase.LIST, 0),
        (Phase.METHOD, Phase.METHOD, 0),
        (Phase.METHOD, Phase.LIST, -0.5),
        (Phase.TAIL, Phase.LIST, -1),
        (Phase.ALONE, Phase.ALONE, 0),
        (Phase.ALONE, Phase.LIST, -8),
    ),
    Sort.INGREDIENT: (
        (Phase.BEFORE, Phase.LIST, -1),
        (Phase.HEAD, Phase.LIST, 0),
        (Phase.LIST, Phase.LIST, 1),
        (Phase.METHOD, Phase.LIST, -5),
        (Phase.TAIL, Phase.LIST, -5),
        (Phase.ALONE, Phase.LIST, -8),
    ),
    Sort.STEP: (
        (Phase.BEFORE, Phase.ALONE, -5),
        (Phase.HEAD, Phase.ALONE, -1),
        (Phase.ALONE, Phase.ALONE, 1),
        (Phase.LIST, Phase.METHOD, 0),
        (Phase.METHOD, Phase.METHOD, 1),
        (Phase.TAIL, Phase.METHOD, -2),
    ),
    Sort.STORAGE: (
        (Phase.HEAD, Phase.HEAD, -3),
        (Phase.LIST, Phase.TAIL, -1),
        (Phase.METHOD, Phase.TAIL, 0),
        (Phase.ALONE, Phase.TAIL, 0),
        (Phase.TAIL, Phase.TAIL, 0),
    ),
    Sort.NOTE: (
        (Phase.HEAD, Phase.HEAD, -2),
        (Phase.LIST, Phase.LIST, -3),
        (Phase.LIST, Phase.TAIL, -1.5),
        (Phase.METHOD, Phase.TAIL, -0.5),
        (Phase.ALONE, Phase.TAIL, -0.5),
        (Phase.TAIL, Phase.TAIL, 0.5),
    ),
    Sort.KEPT: tuple((phase, phase, 0.0) for phase in Phase),
}
_UNTOLD = {Sort.KEPT: UNSAID, Sort.INGREDIENT: UNLIKE, Sort.STEP: 0.0}  # all others need a clue
_LIKE = {Sort.TIME: Sort.YIELD, Sort.CREDIT: Sort.YIELD, Sort.LABELLED: Sort.YIELD}
_OPENED = {  # by what a label opens, the phase that follows it
    "ingredients": Phase.LIST,
    "steps": Phase.METHOD,
    "storage": Phase.TAIL,
    "notes": Phase.TAIL,
}


@frozen
class _Way:
    """The best course up to a block that ends in a phase."""

    worth: float
    sorts: tuple[Sort, ...]


def likeliest_course(weights: Sequence[Mapping[Sort, float]], opened: Sequence[str]) -> tuple[Sort, ...]:
    """The sort of each block; ``opened`` tells what a block opens where it is a label."""
    ways: dict[Phase, _Way] = {Phase.BEFORE: _Way(worth=0.0, sorts=())}
    for own, opens in zip(weights, opened, strict=True):
        further: dict[Phase, _Way] = {}
        for sort in Sort:
            for before, after, cost in _moves(sort, opens):
                way = ways.get(before)
                if way is None:
                    continue
                worth = way.worth + cost + own.get(sort, _UNTOLD.get(sort, NEVER))
                if after not in further or worth > further[after].worth:
                    further[after] = _Way(worth=worth, sorts=(*way.sorts, sort))
        ways = further
    return max(ways.values(), key=lambda way: way.worth).sorts


def _moves(sort: Sort, opens: str) -> Iterator[tuple[Phase, Phase, float]]:
    if sort is not Sort.LABEL:
        yield from _MOVES[_LIKE.get(sort, sort)]
        return
    for phase in Phase:
        after = _OPENED.get(opens, max(phase, Phase.HEAD))
        if after is Phase.METHOD and phase in (Phase.BEFORE, Phase.HEAD, Phase.ALONE):
            after = Phase.ALONE
        back = phase is Phase.ALONE and after is Phase.LIST
        yield phase, after, -3.0 if back else -0.5 if phase is Phase.BEFORE else 0.0
