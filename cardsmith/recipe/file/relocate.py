"""Places in a text of several lines: what was read as one line gets its true lines and columns back."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import TypeVar

from cardsmith.finding import Where
from cardsmith.measure.larder import Food
from cardsmith.measure.quantity import Quantity
from cardsmith.recipe.file.tree import Scalar

T = TypeVar("T")


def relocated(value: T, text: Scalar) -> T:
    """``value``, read from ``text`` as though it stood on one line, with every place in it set right."""
    return value if len(text.spots) < 2 else _moved(value, text)


def _moved(value: T, text: Scalar) -> T:
    if isinstance(value, Where):
        inside = value.line == text.where.line and value.column >= text.where.column
        return text.place(value.column - text.where.column) if inside else value  # type: ignore[return-value]
    if isinstance(value, tuple):
        return tuple(_moved(item, text) for item in value)  # type: ignore[return-value]
    if not is_dataclass(value) or isinstance(value, (Food, Quantity, type)):
        return value
    changes = {}
    for field in fields(value):
        before = getattr(value, field.name)
        if (after := _moved(before, text)) is not before:
            changes[field.name] = after
    return replace(value, **changes) if changes else value
