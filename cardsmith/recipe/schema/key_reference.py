"""Every key of a file of the house, from its schema: what it holds, what it is for, an example."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from cardsmith.recipe.schema.kinds import Answers, Key, Lines, Record, TextKind, ValueKind

WIDTH = 100
_STEP = "  "  # for each key that a key stands under


def key_reference(record: Record) -> str:
    """The keys in the order of their schema, those under a key indented below it.

    Keys that stand under two of them are printed once.
    """
    return "\n".join(_told(record, "", set()))


def _told(record: Record, indent: str, before: set[int]) -> Iterator[str]:
    for field in record.fields:
        required = ", required" if field.required else ""
        yield f"{indent}{field.name} ({_holds(field.kind)}{required})"
        yield from textwrap.wrap(
            field.help, WIDTH, initial_indent=f"{indent}    ", subsequent_indent=f"{indent}    "
        )
        yield f"{indent}    {_example(field)}"
        inner = field.kind.record if isinstance(field.kind, Lines) else field.kind
        if not isinstance(inner, Record):
            continue
        if id(inner) in before:
            yield f"{indent}{_STEP}with the same keys as above"
            continue
        before.add(id(inner))
        yield from _told(inner, indent + _STEP, before)


def _holds(kind: ValueKind) -> str:
    """What a key holds, in words."""
    match kind:
        case TextKind(choices=choices):
            return f"one of {', '.join(choices)}" if choices else "text"
        case Record():
            return "keys"
        case Answers():
            return kind.holds
        case Lines(text=None):
            return "a list, each with keys"
        case Lines(text=TextKind(choices=choices)) if choices:
            return f"a list of {', '.join(choices)}"
        case Lines(record=record, block=block):
            items = "texts" if record is None else "texts or keys"
            return f"a list of {items}{', or one text with a line each' if block else ''}"


def _example(field: Key) -> str:
    return f"example: {field.example}"
