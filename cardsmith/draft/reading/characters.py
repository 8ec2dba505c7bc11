"""Bytes to text: the encoding found, and characters that no editor shows taken out."""

from __future__ import annotations

from cardsmith.finding import CardsmithError
from cardsmith.regex import regex

_BYTE_ORDER = ((b"\xef\xbb\xbf", "utf-8"), (b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be"))
_OLD = ["cp1252", "mac_roman", "cp850"]  # of the West, before UTF-8
_NAMES = {"cp1252": "Windows-1252", "mac_roman": "Mac Roman", "cp850": "DOS code page 850"}
_USUAL = frozenset("½¼¾°º·•–—‘’“”…×£€ éèêàâçñïîôöüäßåøæÉ\N{NO-BREAK SPACE}")  # beyond ASCII, in recipes
# Soft hyphens, joiners without width, marks of direction and byte order: they print as nothing.
_NOTHING = regex("[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff\ufffe\uffff]")
# Thin blanks stay: ISO 80000-1 parts thousands with them, and 1 250 g with any other may be one of 250 g.
_BLANK = regex("[\u00a0\u1680\u2000-\u2008\u200a\u205f\u3000]")
_KEYCAP = regex("\N{VARIATION SELECTOR-16}?\N{COMBINING ENCLOSING KEYCAP} ?")  # a number in a box: a step's
_BREAK = regex("\r\n?|[\v\f\x1c-\x1e\x85\u2028\u2029]")
_CONTROL = regex("[\x00-\x08\x0e-\x1b\x1f\x7f-\x84\x86-\x9f\ud800-\udfff]")
LARGEST_TEXT = 400_000  # characters; a long recipe has 6,000


def decoded(data: bytes, name: str) -> tuple[str, str]:
    """The text of a file, and a remark where its encoding had to be guessed."""
    for mark, encoding in _BYTE_ORDER:
        if data.startswith(mark):
            return cleaned(data[len(mark) :].decode(encoding, errors="replace")), ""
    if wide := _without_mark(data):
        return cleaned(data.decode(wide, errors="replace")), ""
    try:
        return cleaned(data.decode("utf-8")), ""
    except UnicodeDecodeError:
        if b"\0" in data:
            raise CardsmithError(
                f"{name} is not text that can be read; save it as plain text, DOCX, ODT, RTF or HTML"
            ) from None
    encoding = _guessed(data)
    remark = f"read as {_NAMES[encoding]}: look at its fractions, degrees and accents"
    return cleaned(data.decode(encoding, errors="replace")), remark


def _without_mark(data: bytes) -> str:
    """UTF-16 without a mark of byte order: every other byte of plain English is nothing."""
    head = data[:400]
    even, odd = head[::2].count(0), head[1::2].count(0)
    if len(head) < 8 or even + odd < len(head) // 3:
        return ""
    return "utf-16-le" if odd > even else "utf-16-be"


def _guessed(data: bytes) -> str:
    """The encoding by which the fewest letters are strange to a recipe: a bullet in one is an ò in another.

    >>> _guessed("• 1½ cups".encode("cp1252")), _guessed("• ½ cup crème".encode("mac_roman", "ignore"))
    ('cp1252', 'mac_roman')
    """
    from charset_normalizer import from_bytes  # noqa: PLC0415 - most drafts are UTF-8

    encodings = [match.encoding for match in from_bytes(data, cp_isolation=_OLD, preemptive_behaviour=False)]
    return min(dict.fromkeys((*encodings, *_OLD)), key=lambda encoding: _strange(data, encoding))


def _strange(data: bytes, encoding: str) -> int:
    text = data.decode(encoding, errors="replace")
    return sum(not character.isascii() and character not in _USUAL for character in text)


def cleaned(text: str) -> str:
    """A text with plain blanks and line ends, and nothing in it that is not seen."""
    text = _KEYCAP.sub(". ", _BREAK.sub("\n", text))
    return _CONTROL.sub(" ", _BLANK.sub(" ", _NOTHING.sub("", text)))
