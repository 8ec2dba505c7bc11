"""A draft's bytes to its lines, by what kind of file they are; what none takes is refused with a reason."""

from __future__ import annotations

from dataclasses import replace

from cardsmith.draft.lines import Draft
from cardsmith.draft.reading.characters import LARGEST_TEXT, decoded
from cardsmith.draft.reading.plain import read_plain_text
from cardsmith.draft.reading.recognised import Format, format_of
from cardsmith.finding import CardsmithError

LARGEST = 20_000_000  # bytes; a Word file with photos has some
MOST_LINES = 5_000


def read_draft(data: bytes, name: str) -> Draft:
    """The lines of a draft; ``name`` is that of its file.

    Raises:
        CardsmithError: no text can be had of it.
    """
    if len(data) > LARGEST:
        size = f"{len(data) // 1_000_000:,} MB"
        raise CardsmithError(f"{name} has {size}, over {LARGEST // 1_000_000}; give it the text alone")
    draft = _by_format(data, name, format_of(data, name))
    if len(draft.lines) > MOST_LINES:
        lines = f"{len(draft.lines):,} lines, over {MOST_LINES:,}"
        raise CardsmithError(f"{name} has {lines}; cut it into files of some recipes each")
    return draft


def _by_format(data: bytes, name: str, kind: Format) -> Draft:
    """The reader of a format, loaded when it is asked for."""
    match kind:
        case Format.WORD:
            from cardsmith.draft.reading.word import read_word  # noqa: PLC0415

            return read_word(data, name)
        case Format.OPEN_DOCUMENT:
            from cardsmith.draft.reading.open_document import read_open_document  # noqa: PLC0415

            return read_open_document(data, name)
        case Format.RICH_TEXT:
            from cardsmith.draft.reading.rich_text import read_rich_text  # noqa: PLC0415

            return read_rich_text(data, name)
        case Format.MAIL:
            from cardsmith.draft.reading.mail import read_mail  # noqa: PLC0415

            return read_mail(data, name, _attached)
        case _:
            return _of_text(data, name, kind)


def _attached(data: bytes, name: str) -> Draft:
    """A draft that came with a mail; a mail within it is not opened."""
    kind = format_of(data, name)
    if kind is Format.MAIL:
        raise CardsmithError(f"{name} is a mail within a mail; save it by itself")
    return _by_format(data, name, kind)


def _of_text(data: bytes, name: str, kind: Format) -> Draft:
    text, remark = decoded(data, name)
    if len(text) > LARGEST_TEXT:
        size = f"{len(text):,} characters, over {LARGEST_TEXT:,}"
        raise CardsmithError(f"{name} has {size}; cut it into files of some recipes each")
    if kind is Format.PAGE:
        from cardsmith.draft.reading.page import read_page  # noqa: PLC0415

        draft = read_page(text, name)
    else:
        draft = read_plain_text(text, name)
    return replace(draft, remarks=(*((remark,) if remark else ()), *draft.remarks))
