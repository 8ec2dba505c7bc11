"""Mail: its text, what it quotes, and the documents that come with it (RFC 5322, RFC 2045, RFC 3676)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from email import message_from_bytes, policy
from email.message import EmailMessage

from cardsmith.draft.lines import Draft, DraftLine, Sort
from cardsmith.draft.reading.characters import cleaned
from cardsmith.draft.reading.gathering import Gathering
from cardsmith.draft.reading.page import read_page
from cardsmith.draft.reading.plain import read_plain_text
from cardsmith.finding import CardsmithError

_SHOWN = ("Subject", "From", "Date")
MOST_ATTACHED = 20


def read_mail(data: bytes, name: str, read: Callable[[bytes, str], Draft]) -> Draft:
    """The lines of a mail, its heading, and the drafts attached, which ``read`` takes."""
    message = message_from_bytes(data, policy=policy.default)
    assert isinstance(message, EmailMessage)
    gathering = Gathering()
    remarks: list[str] = []
    for key in _SHOWN:
        if value := message.get(key):
            gathering.add(f"{key}: {' '.join(str(value).split())}", said=Sort.KEPT)
    gathering.blank()
    gathering.take(_body(message, name))
    for part in list(message.iter_attachments())[:MOST_ATTACHED]:
        label = part.get_filename() or part.get_content_type()
        payload = part.get_payload(decode=True)
        try:
            attached = read(payload if isinstance(payload, bytes) else b"", label)
        except CardsmithError as fault:
            remarks.append(f"attached, not read: {fault}")
            continue
        gathering.take(tuple(replace(line, source=label) for line in attached.lines))
        remarks += [f"with it came {label}", *attached.remarks]
    return Draft(name=name, lines=tuple(gathering.lines), remarks=tuple(remarks))


def _body(message: EmailMessage, name: str) -> tuple[DraftLine, ...]:
    body = message.get_body(preferencelist=("plain", "html"))
    if body is None:
        return ()
    try:
        text = cleaned(str(body.get_content()))
    except (LookupError, KeyError):  # an encoding that nobody knows
        payload = body.get_payload(decode=True)
        text = cleaned(payload.decode("cp1252", errors="replace") if isinstance(payload, bytes) else "")
    if body.get_content_subtype() == "html":
        return read_page(text, name).lines
    if body.get_param("format") == "flowed":
        text = _flowed(text)
    return read_plain_text(text, name).lines


def _flowed(text: str) -> str:
    """Rows that end in a blank joined to the next (RFC 3676), but for the mark of a signature."""
    rows: list[str] = []
    open_ = False
    for row in text.split("\n"):
        if open_ and not row.startswith(">"):
            rows[-1] += row
        else:
            rows.append(row)
        open_ = row.endswith(" ") and row != "-- "
    return "\n".join(rows)
