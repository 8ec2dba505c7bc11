"""The cover note of a hand-over: what is in the folder, what each file is for, how to know it came whole."""

from __future__ import annotations

import hashlib
import textwrap
from collections.abc import Iterator, Mapping, Sequence

from cardsmith.bench.wording import several
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.render.handover.copy import CHARACTERS, PARAGRAPHS
from cardsmith.render.look import Look

NOTE, SUMS = "cover-note.txt", "SHA256SUMS"
_WIDE = 96  # letters of a line of the note


@frozen
class HandedFile:
    """One file of the folder, and what it is for."""

    name: str
    about: str
    data: bytes


@frozen
class HandedCard:
    """What the note says of one card."""

    name: str
    title: str
    version: str  # a line that names it: version, proof, date
    pages: int
    queries: Mapping[str, int]  # how many are open, by error, query, note
    pictures: tuple[str, ...]  # a line each
    files: tuple[HandedFile, ...]


def sums(files: Sequence[HandedFile]) -> bytes:
    """SHA-256 of every file (FIPS 180-4), a line each, as ``sha256sum --check`` reads them."""
    return "".join(f"{_sum(file)}  {file.name}\n" for file in files).encode()


def cover_note(cards: Sequence[HandedCard], house: House, look: Look) -> bytes:
    """The note as plain text; same cards, same bytes."""
    return ("\n".join(_lines(cards, house, look)) + "\n").encode()


def _lines(cards: Sequence[HandedCard], house: House, look: Look) -> Iterator[str]:
    yield f"{house.name}: {several(len(cards), 'card')} for layout"
    yield ""
    yield from _wrapped(
        f"Cards of {house.card.size.shown}, cut size. Type: {_faces(look)}, embedded in every PDF. "
        "The text files hold every word of the card, and nothing but the card; running heads and the ruler "
        "at the foot are the card's alone. Nothing here needs the program that made it."
    )
    for card in cards:
        yield ""
        yield f"{card.title} ({card.version})"
        yield from _wrapped(f"{several(card.pages, 'page')}. Open: {_open(card.queries)}.", "  ")
        for line in card.pictures:
            yield from _wrapped(line, "  ")
        for file in card.files:
            yield from _wrapped(f"{file.name}: {file.about}", "  ")
    yield ""
    yield "Styles of the DOCX files, to map to your own"
    yield from _wrapped(f"of paragraphs: {', '.join(PARAGRAPHS)}", "  ")
    yield from _wrapped(f"of characters: {', '.join(CHARACTERS)}", "  ")
    yield ""
    yield f"SHA-256 of each file, as in {SUMS} (sha256sum --check {SUMS})"
    yield from (f"  {_sum(file)}  {file.name}" for card in cards for file in card.files)


def _faces(look: Look) -> str:
    return " and ".join(dict.fromkeys((look.display, look.text)))


def _open(queries: Mapping[str, int]) -> str:
    plural = {"query": "queries"}
    counts = [
        f"{count} {word if count == 1 else plural.get(word, f'{word}s')}"
        for word, count in queries.items()
        if count
    ]
    return ", ".join(counts) or "no query"


def _sum(file: HandedFile) -> str:
    return hashlib.sha256(file.data).hexdigest()


def _wrapped(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(
        text,
        _WIDE,
        initial_indent=indent,
        subsequent_indent=f"{indent}  " if indent else "",
        break_long_words=False,
        break_on_hyphens=False,
    )
