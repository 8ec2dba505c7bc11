"""WeasyPrint made to fill a line whose text fits but for the space at its end.

Where a text ends on a space and goes on in another element (a measure), and all of it fits on a line but for
that space, WeasyPrint 70.0 takes it for one that can't be broken and ends the line after its first word.
"""

from __future__ import annotations

from functools import cache
from typing import Any


@cache
def fill_lines() -> None:
    """Replace WeasyPrint's search for the end of a line, once a process."""
    from weasyprint.layout import inline  # noqa: PLC0415 - 0.4 s that only PDF needs

    split = inline.split_first_line

    def filled(text: str, style: Any, context: Any, room: float | None, *given: Any, **named: Any) -> Any:
        found = split(text, style, context, room, *given, **named)
        _, length, rest, *_ = found
        if rest is None or not text.endswith(" ") or b" " in text.encode()[:length]:
            return found  # a line of one word is what is wrong
        fits = split(text.rstrip(" "), style, context, room, *given, **named)[2] is None
        # The space hangs over the edge, where the caller looks for it and drops it.
        return split(text, style, context, None, *given, **named) if fits else found

    inline.split_first_line = filled
