"""A draft's bytes to its lines, by what kind of file they are; what none takes is refused with a reason."""

from __future__ import annotations

from cardsmith.draft.lines import Draft
from cardsmith.draft.reading.characters import LARGEST_TEXT, decoded
from cardsmith.draft.reading.plain import read_plain_text
from cardsmith.finding import CardsmithError

LARGEST = 20_000_000  # bytes; a Word file with photos has some


def read_draft(data: bytes, name: str) -> Draft:
    """The lines of a draft; ``name`` is that of its file.

    Raises:
        CardsmithError: no text can be had of it.
    """
    if len(data) > LARGEST:
        size = f"{len(data) // 1_000_000:,} MB"
        raise CardsmithError(
            f"{name} has {size}, over {LARGEST // 1_000_000}; give it the recipe's text alone"
        )
    text, remark = decoded(data, name)
    if len(text) > LARGEST_TEXT:
        raise CardsmithError(
            f"{name} has {len(text):,} characters, over {LARGEST_TEXT:,}; cut it into several files"
        )
    draft = read_plain_text(text, name)
    return Draft(name=name, lines=draft.lines, wrapped=draft.wrapped, remarks=(remark,) if remark else ())
