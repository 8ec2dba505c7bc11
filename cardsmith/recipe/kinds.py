"""What a key of a house schema may hold, and what is to be said of it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One text; with ``choices``, one of them."""

    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """A list of texts, or of keys where ``record`` allows; as ``block``, also one text cut into lines."""

    noun: str  # what one item is: line, step
    text: Text | None = Text()  # None where only keys will do
    record: Record | None = None
    block: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """Known keys, each with its field."""

    fields: tuple[Field, ...]
    short: str = ""  # the key a bare text is most likely meant for

    def get(self, name: str) -> Field | None:
        """The field called ``name``."""
        return next((field for field in self.fields if field.name == name), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """Free keys, each with a text: a check's name and the reason it is accepted."""

    holds: str = "a check's name and a reason"
    empty: str = "accepted without a reason"
    instead: str = "say why; the proof prints it"


Kind = Text | Lines | Record | Answers


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One key: what it holds, what it is for, and how it is written."""

    name: str
    kind: Kind
    help: str
    example: str  # as YAML, key and value
    required: bool = False
    other_words: tuple[str, ...] = ()  # what authors call it elsewhere


def entry(
    name: str, kind: Kind, about: str, example: str, *other_words: str, required: bool = False
) -> Field:
    """A field, its example written as YAML from the value alone."""
    return Field(
        name=name,
        kind=kind,
        help=about,
        example=f"{name}: {example}",
        required=required,
        other_words=other_words,
    )
