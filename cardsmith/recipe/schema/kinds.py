"""What a key of a house schema may hold, and what is to be said of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from cardsmith.frozen import frozen


class UnfitError(ValueError):
    """A kind can make nothing of a value; ``instead`` says what to write, where the key's example doesn't."""

    def __init__(self, what: str, instead: str = "") -> None:
        super().__init__(what)
        self.instead = instead


@frozen
class TextKind:
    """One text; with ``choices``, one of them."""

    choices: tuple[str, ...] = ()
    made: Callable[[str], Any] = str  # the value of a text; raises UnfitError


@frozen
class Lines:
    """A list of texts, or of keys where ``record`` allows; as ``block``, also one text cut into lines."""

    noun: str  # what one item is: line, step
    text: TextKind | None = TextKind()  # None where only keys will do
    record: Record | None = None
    block: bool = False
    made: Callable[[tuple[Any, ...]], Any] = tuple  # of the values of its items; raises UnfitError


@frozen
class Record:
    """Known keys, each with its field."""

    fields: tuple[Key, ...]
    short: str = ""  # the key a bare text is most likely meant for
    made: Callable[..., Any] = dict  # of the values of its keys, by their names; raises UnfitError

    def get(self, name: str) -> Key | None:
        """The field called ``name``."""
        return next((field for field in self.fields if field.name == name), None)


@frozen
class Answers:
    """Free keys, each with a text: a check's name and the reason it is accepted."""

    holds: str = "a check's name and a reason"
    empty: str = "accepted without a reason"
    instead: str = "say why; the proof prints it"


ValueKind = TextKind | Lines | Record | Answers


@frozen
class Key:
    """One key: what it holds, what it is for, and how it is written."""

    name: str
    kind: ValueKind
    help: str
    example: str  # as YAML, key and value
    required: bool = False
    other_words: tuple[str, ...] = ()  # what authors call it elsewhere


def entry(
    name: str, kind: ValueKind, about: str, example: str, *other_words: str, required: bool = False
) -> Key:
    """A field, its example written as YAML from the value alone."""
    return Key(
        name=name,
        kind=kind,
        help=about,
        example=f"{name}: {example}",
        required=required,
        other_words=other_words,
    )
