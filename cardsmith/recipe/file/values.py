"""The values of a tree that fits its schema: what each kind makes of what the author wrote."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from cardsmith.finding import Finding, Severity
from cardsmith.recipe.file.tree import Mapping, Node, Scalar, Sequence
from cardsmith.recipe.schema.kinds import Key, Lines, Record, TextKind, UnfitError, ValueKind


def values(root: Mapping, schema: Record) -> tuple[Any | None, tuple[Finding, ...]]:
    """What ``schema`` makes of a tree that `shaped` let pass, and every value that won't do.

    None where a value won't do, or a required key was left out, which `shaped` tells of.
    """
    making = _Making()
    whole = Key(name="", kind=schema, help="", example=schema.fields[0].example)
    return making.value(root, schema, whole), tuple(making.findings)


class _Making:
    """The walk; a class only to gather its findings."""

    def __init__(self) -> None:
        self.findings: list[Finding] = []

    def value(self, node: Node, kind: ValueKind, field: Key) -> Any | None:
        """The value of a node; None where there is none."""
        match kind, node:
            case TextKind(), Scalar():
                return self.made(node, field, lambda: kind.made(node.text.strip()))
            case Lines(), Sequence():
                items = [self.value(item, _of_item(kind, item), field) for item in node.items]
                return None if None in items else self.made(node, field, lambda: kind.made(tuple(items)))
            case Record(), Mapping():
                return self.record(node, kind, field)
        raise TypeError(f"{field.name}: {type(node).__name__} does not fit {type(kind).__name__}")

    def record(self, node: Mapping, kind: Record, field: Key) -> Any | None:
        """What the values of known keys make together; None where one is missing or won't do."""
        parts = {}
        for key, value in node.entries:
            if known := kind.get(key.text):
                parts[key.text] = self.value(value, known.kind, known)
        lacking = any(other.required and other.name not in parts for other in kind.fields)
        if lacking or any(part is None for part in parts.values()):
            return None
        return self.made(node, field, lambda: kind.made(**parts))

    def made(self, node: Node, field: Key, make: Callable[[], Any]) -> Any | None:
        """What is made; None, with a finding, where it won't do."""
        try:
            return make()
        except UnfitError as fault:
            width = len(node.text.split("\n")[0]) if isinstance(node, Scalar) else 1
            self.findings.append(
                Finding(
                    name="unfit-value",
                    severity=Severity.ERROR,
                    where=node.where,
                    what=f"{field.name}: {fault}",
                    instead=f"write {fault.instead or field.example}",
                    width=max(1, width),
                )
            )
            return None


def _of_item(kind: Lines, node: Node) -> ValueKind:
    item = kind.record if isinstance(node, Mapping) else kind.text
    if item is None:
        raise TypeError(f"a {kind.noun} of this form fits no schema")
    return item
