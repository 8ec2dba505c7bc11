"""What kind of file a draft is, by its first bytes rather than its name, and what no recipe is read from."""

from __future__ import annotations

import enum
import io
import zipfile
from email import message_from_bytes
from pathlib import PurePath

from cardsmith.finding import CardsmithError


@enum.unique
class Format(enum.StrEnum):
    """A kind of file that a reader takes."""

    TEXT = "text"  # Markdown too
    WORD = "docx"
    OPEN_DOCUMENT = "odt"
    RICH_TEXT = "rtf"
    MAIL = "mail"
    PAGE = "html"


_PICTURES = (b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"II*\0", b"MM\0*", b"BM6", b"\0\0\1\0")
_COMPOUND = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"  # of Word and Excel before 2007, and of what a password hides
_HIDDEN = "EncryptedPackage".encode("utf-16-le")
_SHEETS = frozenset({".csv", ".tsv", ".xls", ".xlsx", ".xlsm", ".ods", ".numbers"})
_PAGES = frozenset({".html", ".htm", ".xhtml"})
_OPEN_TEXT = "application/vnd.oasis.opendocument.text"
_AS_TEXT = "copy the recipe into a text file, a mail or a Word file"
_HEADINGS = ("from", "to", "subject", "date")


def format_of(data: bytes, name: str) -> Format:
    """The format of a draft's bytes.

    Raises:
        CardsmithError: it is none that holds a recipe's text; the message says what to do.
    """
    ending = PurePath(name).suffix.lower()
    if not data.strip(b"\0 \t\r\n"):
        raise CardsmithError(f"{name} is empty")
    if (
        data.startswith(_PICTURES)
        or data[8:12] == b"WEBP"
        or data[4:12] in (b"ftypheic", b"ftypheix", b"ftypmif1")
    ):
        raise CardsmithError(
            f"{name} is a picture, and no letters are read from one; type or dictate the recipe"
        )
    if data.lstrip()[:5] == b"%PDF-":
        raise CardsmithError(f"{name} is a PDF, whose lines have no order to rely on; {_AS_TEXT}")
    if data.startswith(_COMPOUND):
        raise CardsmithError(_compound(data, name, ending))
    if data.startswith(b"PK"):
        return _packed(data, name)
    if ending in _SHEETS:
        raise CardsmithError(
            f"{name} is a spreadsheet; {_AS_TEXT}: a table of amount, food and note is read there"
        )
    if ending in (".yaml", ".yml"):
        raise CardsmithError(f"{name} is YAML already; put it into recipes/NAME/recipe.yaml")
    if data.lstrip()[:5] == b"{\\rtf":
        return Format.RICH_TEXT
    head = data[:2000].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if ending in _PAGES or head.startswith((b"<!doctype html", b"<html", b"<?xml")):
        return Format.PAGE
    return Format.MAIL if ending == ".eml" or _is_mail(data) else Format.TEXT


def _compound(data: bytes, name: str, ending: str) -> str:
    """Why a file of the old kind is not read."""
    if _HIDDEN in data:
        return f"{name} is protected by a password; save it without one"
    if ending in _SHEETS:
        return f"{name} is a spreadsheet; {_AS_TEXT}"
    if ending == ".msg":
        return f"{name} is a mail of one mail program's own kind; save it as .eml, or paste its text"
    return f"{name} is of a Word before 2007; save it as DOCX"


def _packed(data: bytes, name: str) -> Format:
    """The format of a document that is a zip archive."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = set(archive.namelist())
            known = "mimetype" in parts and archive.getinfo("mimetype").file_size < 100
            mimetype = archive.read("mimetype").decode("ascii", errors="replace").strip() if known else ""
    except (zipfile.BadZipFile, OSError, RuntimeError, ValueError, NotImplementedError, EOFError) as fault:
        raise CardsmithError(f"{name} is damaged ({fault}); save it anew, or paste its text") from fault
    if "word/document.xml" in parts:
        return Format.WORD
    if mimetype.startswith(_OPEN_TEXT):
        return Format.OPEN_DOCUMENT
    if any(part.startswith("xl/") for part in parts) or "spreadsheet" in mimetype:
        raise CardsmithError(
            f"{name} is a spreadsheet; {_AS_TEXT}: a table of amount, food and note is read there"
        )
    if any(part.startswith("ppt/") for part in parts) or "presentation" in mimetype:
        raise CardsmithError(f"{name} is a set of slides; {_AS_TEXT}")
    raise CardsmithError(f"{name} is an archive; unpack it, and give what is in it")


def _is_mail(data: bytes) -> bool:
    """Whether a text begins as mail does: with the lines of a heading that a mail program writes."""
    head = data[:20_000]
    if not head[:1].isalpha() or b"\n" not in head:
        return False
    message = message_from_bytes(head)
    known = [key for key in message if key.lower() in _HEADINGS]
    return "MIME-Version" in message and len(known) >= 2
