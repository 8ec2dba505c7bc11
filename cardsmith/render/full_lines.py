"""WeasyPrint made to fill a line whose text fits but for the space at its end.

Where a text ends on a space and goes on in another element (a measure), and all of it fits on a line but for
that space, WeasyPrint 70.0 takes it for one that can't be broken: it ends the line after the first word, or
within the first that is long enough for a hyphen.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from cardsmith.render.typeset import NO_BREAK

_NARROW = 0.3  # em: no line of text has letters so narrow, so that a longer text needs no second look


@cache
def fill_lines() -> None:
    """Replace WeasyPrint's search for the end of a line, once a process."""
    from weasyprint.layout import inline  # noqa: PLC0415 - 0.4 s that only PDF needs

    split = inline.split_first_line

    def filled(text: str, style: Any, context: Any, room: float | None, *given: Any, **named: Any) -> Any:
        found = split(text, style, context, room, *given, **named)
        seen = text.rstrip(f" {NO_BREAK}")
        if found[2] is None or text == seen or len(seen) * _NARROW * style["font_size"] > room:
            return found
        if split(seen, style, context, room, *given, **named)[2] is not None:
            return found
        if text.endswith(" "):  # it hangs over the edge, where the caller looks for it and drops it
            return split(text, style, context, None, *given, **named)
        head, space, _ = text.rpartition(" ")
        layout, length, _, *sizes = split(head.rstrip(" "), style, context, None, *given, **named)
        return (layout, length, len((head + space).encode()), *sizes) if head.strip() else found

    inline.split_first_line = filled
