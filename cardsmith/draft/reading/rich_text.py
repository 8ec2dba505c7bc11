"""RTF: its text, rows of tables with bars between the cells."""

from __future__ import annotations

from dataclasses import replace

from cardsmith.draft.lines import Draft
from cardsmith.draft.reading.characters import cleaned
from cardsmith.draft.reading.plain import read_plain_text
from cardsmith.finding import CardsmithError


def read_rich_text(data: bytes, name: str) -> Draft:
    """The lines of a file in Rich Text Format.

    Raises:
        CardsmithError: it can't be read.
    """
    from striprtf.striprtf import rtf_to_text  # noqa: PLC0415 - most drafts are text

    try:
        text = str(rtf_to_text(data.decode("cp1252", errors="replace"), errors="replace"))  # type: ignore[no-untyped-call]
    except (ValueError, LookupError, IndexError, KeyError) as fault:
        raise CardsmithError(
            f"{name} can't be read as RTF ({fault}); save it as DOCX, or paste its text"
        ) from fault
    rows = [_row(row) for row in cleaned(text).split("\n")]
    draft = read_plain_text("\n".join(rows), name)
    return replace(draft, lines=tuple(replace(line, wrapped=False) for line in draft.lines))


def _row(row: str) -> str:
    """A row of a table as one between bars."""
    return f"|{row.strip().strip('|')}|" if row.count("|") > 1 and row.rstrip().endswith("|") else row
