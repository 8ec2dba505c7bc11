"""How much one recipe may hold: far more than a cook could use, and little enough to be judged in seconds.

Work on a recipe grows faster than its length, so a file beyond these bounds is told so and read no further.
"""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.finding import Finding, Severity
from cardsmith.language.tokens import figures, numerals
from cardsmith.recipe.file.tree import Mapping, Node, Scalar, Sequence

# Common practice, no source: the longest recipes have some 40 lines, 30 steps and 10,000 characters.
MOST = {"ingredients": 100, "steps": 80}
MOST_CHARACTERS = 20_000
MOST_NUMBERS = 600  # the longest recipes have some 150


def beyond_bounds(root: Mapping) -> tuple[Finding, ...]:
    """What a recipe has too much of; empty for every recipe that could be cooked."""
    return tuple(_beyond(root))


def _beyond(root: Mapping) -> Iterator[Finding]:
    parts = root.get("parts")
    holders = [root, *(parts.items if isinstance(parts, Sequence) else ())]
    for name, most in MOST.items():
        lists = [holder.get(name) for holder in holders if isinstance(holder, Mapping)]
        count = sum(len(sequence.items) for sequence in lists if isinstance(sequence, Sequence))
        if count > most:
            yield _too_much(root, f"the recipe has {count} {name}", f"at most {most}: make it two recipes")
    texts = tuple(_texts(root))
    length = sum(map(len, texts))
    if length > MOST_CHARACTERS:
        what = f"the recipe's texts have {length:,} characters"
        yield _too_much(root, what, f"at most {MOST_CHARACTERS:,}: make it two recipes")
        return
    if sum(map(figures, texts)) <= MOST_NUMBERS:  # each number has one at least
        return
    numbers = sum(len(numerals(text)) for text in texts)
    if numbers > MOST_NUMBERS:
        what = f"the recipe's texts have {numbers:,} numbers"
        yield _too_much(root, what, f"at most {MOST_NUMBERS}: make it two recipes")


def _texts(node: Node) -> Iterator[str]:
    """All texts; the shape bounds how deep they lie."""
    match node:
        case Scalar(text=text):
            yield text
        case Sequence(items=items):
            for item in items:
                yield from _texts(item)
        case Mapping(entries=entries):
            for _, value in entries:
                yield from _texts(value)


def _too_much(root: Mapping, what: str, instead: str) -> Finding:
    return Finding(name="too-many", severity=Severity.ERROR, where=root.where, what=what, instead=instead)
