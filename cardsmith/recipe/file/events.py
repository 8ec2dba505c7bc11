"""YAML's events: by the scanner in C where the text is plain, by the one in Python for everything else.

The one in C takes a tenth of the time. The two differ in rare text, and the faults of a file are told by the
one in Python: so it reads again whatever the other refuses, and whatever holds a mark on which they differ.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from cardsmith.regex import regex

if TYPE_CHECKING:
    from ruamel.yaml.events import Event

# Tabs, other line ends, a byte order mark; directives, documents; anchors, aliases, tags, explicit keys;
# a comment glued to the mark of a block.
_DIFFERENT = regex(
    "[\t\r\x85\u2028\u2029\ufeff]|^(?:%|---|\\.\\.\\.)|(?:^|[-:,?[{]) *[&*!?]|[|>][-+0-9]*#", re.MULTILINE
)
MOST_DEPTH = 20  # in C too, brackets within brackets take time that grows with their square
_DEEPER = {"SequenceStartEvent": 1, "MappingStartEvent": 1, "SequenceEndEvent": -1, "MappingEndEvent": -1}


def events(text: str) -> Iterator[Event]:
    """The events of a text, with their places.

    Raises:
        YAMLError: where it is no YAML, as the events are taken.
    """
    from ruamel.yaml import YAML  # noqa: PLC0415 - commands that read no recipe start without it

    quick = quick_events(text)
    return YAML(typ="safe", pure=True).parse(text) if quick is None else iter(quick)


def quick_events(text: str) -> list[Event] | None:
    """All events of a text that both scanners read alike; None for another, or without the one in C."""
    from ruamel.yaml.error import YAMLError  # noqa: PLC0415 - as above
    from ruamel.yaml.main import CParser  # type: ignore[attr-defined]  # noqa: PLC0415

    if CParser is None or _DIFFERENT.search(text):
        return None
    parser: Any = CParser(text)
    parsed: list[Event] = []
    depth = 0
    try:
        while parser.check_event():
            parsed.append(parser.get_event())
            depth += _DEEPER.get(type(parsed[-1]).__name__, 0)
            if depth > MOST_DEPTH:
                return None
    except (YAMLError, ValueError, OverflowError):
        return None
    starts_a_mapping = [type(event).__name__ for event in parsed[2:3]] == ["MappingStartEvent"]
    return parsed if starts_a_mapping and not any(map(_is_empty, parsed)) else None


def _is_empty(event: Event) -> bool:
    """Whether an event is a value left out: the two place it differently."""
    return type(event).__name__ == "ScalarEvent" and not event.value and not event.style  # type: ignore[attr-defined]
