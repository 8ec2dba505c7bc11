"""The house schema as JSON Schema, for editors that complete and check as one types."""

from __future__ import annotations

from typing import Any

from cardsmith.recipe.schema.kinds import Answers, Key, Lines, Record, TextKind, ValueKind
from cardsmith.recipe.schema.recipe import RECIPE

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def json_schema() -> dict[str, Any]:
    """The schema for editors, as JSON Schema draft 2020-12. A key left empty (null) is not written yet."""
    written = {
        "anyOf": [
            {"type": "array", "minItems": 1},
            {"type": "string", "pattern": r"\S"},
            {"type": ["number", "boolean"]},
        ]
    }
    with_steps = {"properties": {"steps": written}, "required": ["steps"]}
    return {
        "$schema": DIALECT,
        "title": "A recipe in the house schema",
        **_of(RECIPE),
        "if": {"properties": {"parts": {"type": "array", "contains": with_steps}}, "required": ["parts"]},
        "then": {"properties": {"steps": {"not": written}}},
    }


def _of(kind: ValueKind, *, needed: bool = False) -> dict[str, Any]:
    """One kind of value; a text that is ``needed`` must not be blank."""
    match kind:
        case TextKind(choices=choices) if choices:
            return {"enum": list(choices)}
        case TextKind():  # an unquoted number is as good as text
            words = {"type": ["string", "number", "boolean"]}
            return words | {"pattern": r"\S"} if needed else words
        case Answers():
            return {"type": "object", "additionalProperties": _of(TextKind(), needed=True)}
        case Lines(text=text, record=record, block=block):
            items = [_of(item_kind, needed=True) for item_kind in (text, record) if item_kind is not None]
            listed = {"type": "array", "items": items[0] if len(items) == 1 else {"anyOf": items}}
            return {"anyOf": [_of(TextKind()), listed]} if block else listed
        case Record(fields=fields):
            return {
                "type": "object",
                "properties": {field.name: _property(field) for field in fields},
                "required": [field.name for field in fields if field.required],
                "additionalProperties": False,
            }


def _property(field: Key) -> dict[str, Any]:
    about = {"description": field.help, "examples": [field.example]}
    if field.required:
        return about | _of(field.kind, needed=True)
    return about | {"anyOf": [_of(field.kind), {"type": "null"}]}
