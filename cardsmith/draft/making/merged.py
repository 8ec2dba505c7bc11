"""A drafted recipe put into a file that is there: what the file lacks comes in, what it says stays.

Where both say a thing otherwise, the file's stands, and the draft's stands above it as a comment, once.
"""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.tree import Mapping, Node, Scalar, Sequence
from cardsmith.recipe.schema.recipe import RECIPE

LEAD = "# draft: "  # before a line of the draft that the file says otherwise
_ORDER = [key.name for key in RECIPE.fields]


def merged(own: str, drafted: str, file: str) -> str:
    """The text of a file with the keys of a drafted one that it lacks, and its other lines as comments.

    Raises:
        CardsmithError: the file can't be read as keys.
    """
    mine, theirs = _keys(own, file), _keys(drafted, file)
    rows = own.rstrip("\n").split("\n")
    for key in sorted(theirs, key=_ORDER.index, reverse=True):
        block = theirs[key]
        if key not in mine:
            at = _place(key, mine, len(rows))
            rows[at:at] = block.rows
        elif told := [text for text in _texts(block.node) if text not in set(_texts(mine[key].node))]:
            at = mine[key].start
            known = {row.strip() for row in rows}
            rows[at:at] = [row for text in told if (row := f"{LEAD}{key}: {text}") not in known]
    comments = [row.strip() for row in drafted.split("\n") if row.lstrip().startswith("# line ")]
    known = {row.strip() for row in rows}
    return "\n".join((*rows, *(row for row in dict.fromkeys(comments) if row not in known))) + "\n"


@frozen(kw_only=False)
class _Block:
    """The rows of a key, what it holds, and the row it begins in."""

    rows: list[str]
    node: Node
    start: int


def _keys(text: str, file: str) -> dict[str, _Block]:
    """Each key of a file with its own rows, without the comments above the next."""
    root = read_source(text.encode(), file).root
    if not isinstance(root, Mapping):
        raise CardsmithError(
            f"{file} holds no keys to put a draft into; `cardsmith check` says what is wrong"
        )
    rows = text.rstrip("\n").split("\n")
    starts = [key.where.line - 1 for key, _ in root.entries]
    found: dict[str, _Block] = {}
    for (key, node), start, end in zip(root.entries, starts, [*starts[1:], len(rows)], strict=True):
        last = end
        while last > start + 1 and (not rows[last - 1].strip() or rows[last - 1].startswith("#")):
            last -= 1
        if key.text in _ORDER:
            found.setdefault(key.text, _Block(rows[start:last], node, start))
    return found


def _place(key: str, mine: dict[str, _Block], end: int) -> int:
    """The row before which a key belongs: above the first of the file's that follows it in the schema."""
    later = [mine[name].start for name in mine if _ORDER.index(name) > _ORDER.index(key)]
    return min(later, default=end)


def _texts(node: Node) -> Iterator[str]:
    """All texts under a key, blanks evened out."""
    match node:
        case Scalar(text=text):
            yield " ".join(text.split())
        case Sequence(items=items):
            for item in items:
                yield from _texts(item)
        case Mapping(entries=entries):
            for _, value in entries:
                yield from _texts(value)
