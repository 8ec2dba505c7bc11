"""The lines of a list in the order in which the steps use them, moved as whole rows with their comments."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardsmith.measure.larder import Larder
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.model import Part, Recipe


def orders(recipe: Recipe, larder: Larder) -> Iterator[tuple[Part, tuple[int, ...]]]:
    """The parts whose lists are out of order, and the places of their lines as they should stand.

    A line that no step names, or that is for a use of its own, stays behind the one above it.
    """
    mentions = read_mentions(recipe, larder)
    place = 0
    for part in recipe.parts:
        keys: list[tuple[int, int]] = []
        last = -1
        for number, line in enumerate(part.ingredients):
            steps = mentions.steps_of(place + number, by_name=True)
            last = steps[0] if steps and not line.for_use else last
            keys.append((last, number))
        place += len(part.ingredients)
        order = tuple(number for _, number in sorted(keys))
        if order != tuple(range(len(order))):
            yield part, order


def moved(rows: Sequence[str], starts: Sequence[int], order: Sequence[int], end: int) -> list[str]:
    """Rows with the items that begin at ``starts`` in another order; comments above an item go with it.

    >>> moved(["a:", "  # one", "  - x", "  - y", "b:"], [2, 3], [1, 0], 4)
    ['a:', '  - y', '  # one', '  - x', 'b:']
    """
    begins = [_with_comments(rows, start) for start in starts]
    ends = [*begins[1:], end]
    pieces = [rows[first:last] for first, last in zip(begins, ends, strict=True)]
    ordered = [row for number in order for row in pieces[number]]
    return [*rows[: begins[0]], *ordered, *rows[end:]]


def _with_comments(rows: Sequence[str], start: int) -> int:
    while start and rows[start - 1].lstrip().startswith("#") and rows[start - 1][:1].isspace():
        start -= 1
    return start
