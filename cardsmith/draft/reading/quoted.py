"""Mail that is handed on: what it quotes read again, as if it were the mail itself."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

from cardsmith.draft.lines import Draft
from cardsmith.draft.reading.plain import read_plain_text


def unquoted(draft: Draft) -> Draft:
    """A draft whose longest quotation is quoted no longer, its lines with the marks of a list that they have.

    >>> from cardsmith.draft.reading.plain import read_plain_text
    >>> draft = unquoted(read_plain_text("See:\\n> - 2 eggs", ""))
    >>> [(line.number, line.text, str(line.mark)) for line in draft.lines]
    [(1, 'See:', ''), (2, '2 eggs', 'bullet')]
    """
    runs = [list(run) for quoted, run in groupby(draft.lines, lambda line: line.quoted) if quoted]
    longest = max(runs, key=len, default=[])
    rows = "\n".join(("\n" * line.gap) + line.text for line in longest)
    inner = {
        outer.number: replace(line, number=outer.number, gap=outer.gap, source=outer.source)
        for outer, line in zip(longest, read_plain_text(rows, "").lines, strict=True)
    }
    return replace(draft, lines=tuple(inner.get(line.number, line) for line in draft.lines))
