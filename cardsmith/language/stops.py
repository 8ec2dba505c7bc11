"""Where the sentences of running text end: one answer for what is done, what is asked, what an index quotes.

`Tokens.is_stop` says it of a token while numbers are read, and takes a point before a small letter for that
of an abbreviation. Here texts in small letters are read too, so that only known abbreviations are none.

>>> text = "Add 2 tsp (approx. 10 g) salt; “stir well.” Serve at 2.5 bar."
>>> [text[start:end] for start, end in stops(text)]
[';', '.”', '.']
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from cardsmith.language.tokens import ABBREVIATIONS
from cardsmith.regex import regex

_STOP = regex(r"(?:[!?]|\.(?!\s\((?![A-Z])))(?:[”’\"')\]]*)(?=\s|$)|;")
_ABBREVIATED = regex(rf"\b(?:{'|'.join(sorted(ABBREVIATIONS))})\.$", re.IGNORECASE)
_SPECIES = regex(r"(?<![\d°] )(?<![\d°])\b[A-Z]\. [a-z]")  # E. coli; not "to 350 F. bake"


def stops(text: str, is_inside: Callable[[int], bool] | None = None) -> Iterator[tuple[int, int]]:
    """Where each stop stands, and where the quotes and brackets that it closes end.

    A semicolon is one. None is a point behind an abbreviation, before a measure in brackets (2 lb. (900 g)),
    in the name of a species, or at a place inside a numeral.
    """
    begins = 0
    for stop in _STOP.finditer(text):
        at = stop.start()
        inside = is_inside is not None and is_inside(at)
        if not (inside or _SPECIES.match(text, at - 1) or _ABBREVIATED.search(text, begins, at + 1)):
            yield stop.span()
            begins = stop.end()


def sentences(text: str, *, whole: bool = False) -> Iterator[str]:
    """Each sentence with its stop; ``whole`` leaves together what a semicolon parts.

    >>> list(sentences("Add approx. 10 g; stir. Serve"))
    ['Add approx. 10 g;', ' stir.', ' Serve']
    >>> list(sentences("Add approx. 10 g; stir. Serve", whole=True))
    ['Add approx. 10 g; stir.', ' Serve']
    """
    begins = 0
    for stop, end in stops(text):
        if not (whole and text[stop] == ";"):
            yield text[begins:end]
            begins = end
    if begins < len(text):
        yield text[begins:]
