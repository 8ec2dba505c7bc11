"""Which way a length is measured, by the word behind it: "2 cm thick", "a 5-cm-deep tin".

    extent = length ["-"] ("thick" | "deep" | …)

>>> extent_behind("slices 2 cm thick", 11), extent_behind("a 2-inch-deep pan", 8)
(<Extent.THICK: 'thick'>, <Extent.DEEP: 'deep'>)
>>> extent_behind("10 cm long", 5) is None
True
"""

from __future__ import annotations

import enum
from bisect import bisect_left

from cardsmith.language.tokens import DASHES, tokenize


@enum.unique
class Extent(enum.StrEnum):
    """From where to where."""

    THICK = "thick"  # through a piece of food
    DEEP = "deep"  # from the rim of a vessel to its floor


_SAID = {"thick": Extent.THICK, "thickness": Extent.THICK} | dict.fromkeys(
    ("deep", "depth", "high", "tall"), Extent.DEEP
)


def extent_behind(text: str, end: int, said: str = "") -> Extent | None:
    """Which way the length goes that ends at character ``end`` of ``text``; None where nothing says.

    ``said`` is the word that the measure itself holds: "1-inch-thick (2.5 cm)".
    """
    if said in _SAID:
        return _SAID[said]
    tokens = tokenize(text)
    at = bisect_left(tokens.all, end, key=lambda token: token.start)
    return _SAID.get(tokens[at + (tokens[at].text in DASHES)].low)
