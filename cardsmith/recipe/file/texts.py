"""The texts that stand under a key of a file, each with its place."""

from __future__ import annotations

from cardsmith.recipe.file.tree import Mapping, Scalar, Sequence
from cardsmith.recipe.model import Text


def text_of(node: Mapping, key: str) -> Text | None:
    """The text of a key, with its place."""
    value = node.get(key)
    return Text(text=value.text.strip(), where=value.where) if isinstance(value, Scalar) else None


def word_of(node: Mapping, key: str) -> str:
    """The text of a key with its lines run together; empty where there is none."""
    text = text_of(node, key)
    return " ".join(text.text.split()) if text else ""


def texts_of(node: Mapping, key: str) -> tuple[Text, ...]:
    """The texts of a list, each with its lines run together."""
    value = node.get(key)
    items = value.items if isinstance(value, Sequence) else ()
    return tuple(
        Text(text=" ".join(item.text.split()), where=item.where) for item in items if isinstance(item, Scalar)
    )
