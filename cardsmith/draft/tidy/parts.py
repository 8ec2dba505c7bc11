"""A subhead among the lines of a list made a part: ``- For the glaze:`` and what follows it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardsmith.draft.sorting.words import label_of, named_part, words_in
from cardsmith.language.tokens import figures

LONGEST = 6  # words of a subhead
_LIST = "ingredients:"


def parted(rows: Sequence[str]) -> tuple[list[str], tuple[tuple[int, str, str], ...]]:
    """The rows of a file with parts for subheads in its list, and of each its line, words and part.

    A file that has parts already, or whose list is no list of lines with dashes, stays as it is.

    >>> rows = ["ingredients:", "  - 1 egg", "  - For the glaze:", "  - 5 g sugar  # fine"]
    >>> after, told = parted(rows)
    >>> after[2:6]
    ['parts:', '  - name: Glaze', '    ingredients:', '      - 5 g sugar  # fine']
    >>> told
    ((3, 'For the glaze:', 'Glaze'),)
    """
    plain = list(rows), ()
    if _LIST not in rows or any(row.startswith("parts:") for row in rows):
        return plain
    start = rows.index(_LIST)
    end = next((at for at in range(start + 1, len(rows)) if rows[at][:1].strip(" -#")), len(rows))
    while end > start + 1 and (not rows[end - 1].strip() or rows[end - 1].startswith("#")):
        end -= 1
    heads = [at for at in range(start + 1, end) if _subhead(rows[at])]
    if not heads:
        return plain
    subheads = tuple((at + 1, _subhead(rows[at]), named_part(_subhead(rows[at]))[0]) for at in heads)
    before = rows[start : heads[0]] if heads[0] > start + 1 else []
    return [*rows[:start], *before, "parts:", *_parts(rows, heads, end), *rows[end:]], subheads


def _parts(rows: Sequence[str], heads: Sequence[int], end: int) -> Iterator[str]:
    for at, after in zip(heads, [*heads[1:], end], strict=True):
        yield f"  - name: {named_part(_subhead(rows[at]))[0]}"
        yield "    ingredients:"
        lead = len(rows[at]) - len(rows[at].lstrip())
        yield from (f"      {row[lead:]}" if row.strip() else row for row in rows[at + 1 : after])


def _subhead(row: str) -> str:
    """The words of a row that heads those below it; empty where it is a line of the list."""
    text = row.strip().removeprefix("- ").strip("\"' ")
    if not row.lstrip().startswith("- ") or not text.endswith(":") or figures(text):
        return ""
    return text if 0 < len(words_in(text)) <= LONGEST and label_of(text) is None else ""
