"""How much one recipe may hold: far more than a cook could use, and little enough to be judged in seconds.

Work on a recipe grows faster than its length, so a file beyond these bounds is told so and read no further.
"""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.finding import Finding, Severity
from cardsmith.recipe.tree import Mapping, Node, Scalar, Sequence

# Common practice, no source: the longest recipes have some 40 lines, 30 steps and 10,000 characters.
MOST = {"ingredients": 100, "steps": 80}
MOST_CHARACTERS = 40_000


def beyond_bounds(root: Mapping) -> tuple[Finding, ...]:
    """What a recipe has too much of; empty for every recipe that could be cooked."""
    return tuple(_beyond(root))


def _beyond(root: Mapping) -> Iterator[Finding]:
    parts = root.get("parts")
    holders = [root, *(parts.items if isinstance(parts, Sequence) else ())]
    for name, most in MOST.items():
        lists = [one.get(name) for one in holders if isinstance(one, Mapping)]
        count = sum(len(one.items) for one in lists if isinstance(one, Sequence))
        if count > most:
            yield _too_much(root, f"the recipe has {count} {name}", f"at most {most}: make it two recipes")
    length = _length(root)
    if length > MOST_CHARACTERS:
        what = f"the recipe's texts have {length:,} characters"
        yield _too_much(root, what, f"at most {MOST_CHARACTERS:,}: make it two recipes")


def _length(node: Node) -> int:
    """Characters of all texts; the shape bounds how deep they lie."""
    match node:
        case Scalar(text=text):
            return len(text)
        case Sequence(items=items):
            return sum(map(_length, items))
        case Mapping(entries=entries):
            return sum(_length(value) for _, value in entries)


def _too_much(root: Mapping, what: str, instead: str) -> Finding:
    return Finding(name="too-many", severity=Severity.ERROR, where=root.where, what=what, instead=instead)
