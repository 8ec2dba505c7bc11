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
_LISTS = ("ingredients", "steps", "parts")
_ORDER = [key.name for key in RECIPE.fields]


def merged(own: str, drafted: str, file: str) -> str:
    """The text of a file with the keys of a drafted one that it lacks, and its other lines as comments.

    Raises:
        CardsmithError: the file can't be read as keys.
    """
    mine, theirs = _keys(own, file), _keys(drafted, file)
    break_ = "\r\n" if "\r\n" in own else "\n"
    rows = own.replace("\r\n", "\n").rstrip("\n").split("\n")
    known = {row.strip() for row in rows}
    come: dict[int, list[str]] = {}  # by the row before which they do
    for key in sorted(theirs, key=_ORDER.index):
        block = theirs[key]
        if beside := _beside(key, mine):
            said = {text for name in beside for text in _texts(mine[name].node)}
            lines = (f"{LEAD}{key}: {text}" for text in _texts(block.node) if text not in said)
            come.setdefault(mine[beside[0]].start, []).extend(row for row in lines if row not in known)
        else:
            come.setdefault(_place(key, mine, rows), []).extend(block.rows)
    for at in sorted(come, reverse=True):
        rows[at:at] = come[at]
    comments = [row.strip() for row in drafted.split("\n") if row.lstrip().startswith("# line ")]
    return break_.join((*rows, *(row for row in dict.fromkeys(comments) if row not in known), ""))


def _beside(key: str, mine: dict[str, _KeyRows]) -> tuple[str, ...]:
    """The keys of a file that say what a key of a draft says: lists may stand in parts in one of them."""
    lists = tuple(name for name in mine if name in _LISTS)
    parted = key in _LISTS and ("parts" in lists or (key == "parts" and bool(lists)))
    return lists if parted else (key,) * (key in mine)


@frozen(kw_only=False)
class _KeyRows:
    """The rows of a key, what it holds, and the row it begins in."""

    rows: list[str]
    node: Node
    start: int


def _keys(text: str, file: str) -> dict[str, _KeyRows]:
    """Each key of a file with its own rows, without the comments above the next."""
    root = read_source(text.encode(), file).root
    if not isinstance(root, Mapping):
        raise CardsmithError(
            f"{file} holds no keys to put a draft into; `cardsmith check` says what is wrong"
        )
    rows = text.replace("\r\n", "\n").rstrip("\n").split("\n")
    starts = [key.where.line - 1 for key, _ in root.entries]
    blocks: dict[str, _KeyRows] = {}
    for (key, node), start, end in zip(root.entries, starts, [*starts[1:], len(rows)], strict=True):
        last = end
        while last > start + 1 and (not rows[last - 1].strip() or rows[last - 1].startswith("#")):
            last -= 1
        if key.text in _ORDER:
            blocks.setdefault(key.text, _KeyRows(rows[start:last], node, start))
    return blocks


def _place(key: str, mine: dict[str, _KeyRows], rows: list[str]) -> int:
    """The row before which a key belongs: the file's first that follows it, with its comments."""
    later = [mine[name].start for name in mine if _ORDER.index(name) > _ORDER.index(key)]
    at = min(later, default=len(rows))
    while later and at and rows[at - 1].startswith("#") and at - 1 > _head(rows):
        at -= 1
    return at


def _head(rows: list[str]) -> int:
    """The last row of the comment that a file begins with; -1 for none."""
    return next((at for at, row in enumerate(rows) if not row.startswith("#")), len(rows)) - 1


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
