"""Clues: that a line is of one sort, how strongly and why; and what is known of it from those around it.

Weights are common practice, no source: they were set on drafts of our own, of which tests/draft has many.
About 6 settles a line by itself, 3 does with its neighbours' help, 1 breaks a tie.
"""

from __future__ import annotations

from cardsmith.draft.lines import Sort
from cardsmith.draft.sorting.blocks import Block
from cardsmith.frozen import frozen

SETTLED, STRONG, FAIR, SLIGHT = 8.0, 6.0, 3.0, 1.0
FEWEST = 2  # ingredients of a list
SECTIONS = {  # what a label opens, and the lines that stand under it
    "ingredients": Sort.INGREDIENT,
    "steps": Sort.STEP,
    "equipment": Sort.EQUIPMENT,
    "storage": Sort.STORAGE,
    "notes": Sort.NOTE,
    "headnote": Sort.HEADNOTE,
}


@frozen(kw_only=False)
class Clue:
    """That a line is of one sort: how strongly, and why."""

    sort: Sort
    weight: float
    reason: str


@frozen
class Surroundings:
    """What is known of a block from those around it, before any is sorted."""

    under: str = ""  # the label it stands under, as draft_labels.csv has it
    before: Block | None = None
    after: Block | None = None  # the next with words
    top: int = 0  # the level of the draft's first heading
    capitals: bool = False  # whether its titles are in capitals
    set_as: str = ""  # how it is set, where titles are set so: in capitals, in the middle of the line
    closed: bool = False  # whether a letter's closing stands right above
    listed: bool = False  # whether most lines of its paragraph are amounts of foods
    above_amounts: bool = False  # whether it opens a paragraph of lines that begin with amounts
    begins: bool = False  # whether it stands short above the label of a list, and what belongs there
    repeated: bool = False  # whether another line says the same
    signed: bool = False  # whether the mark of a signature does
    list_follows: bool = False  # whether ingredients come before any step


def likeliest(clues: tuple[Clue, ...]) -> dict[Sort, float]:
    """The weights added up by sort."""
    total: dict[Sort, float] = {}
    for clue in clues:
        total[clue.sort] = total.get(clue.sort, 0.0) + clue.weight
    return total
