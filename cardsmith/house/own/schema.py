"""The schema that a style's fields make; the name of a row may be one of the house's own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, Field, fields, replace
from functools import partial
from typing import Any, get_type_hints

from cardsmith.frozen import frozen
from cardsmith.house.own.tables import NO_TABLES, OwnTables
from cardsmith.recipe.schema.kinds import Key as Entry
from cardsmith.recipe.schema.kinds import Lines, Record, TextKind, entry


@frozen
class RowKind(TextKind):
    """The name of a row, of our table or of the house's own."""

    table: str
    of: Callable[..., Any]  # what a name and the own rows make

    def among(self, own: OwnTables) -> RowKind:
        """The same with the choices there are; a row that may be wrong is not used."""
        names = tuple(row.name for row in own.joined(self.table))
        return replace(self, choices=names, made=str if own.faults else partial(self.of, own=own))


def record_of(style: type, own: OwnTables = NO_TABLES) -> Record:
    """The keys that a style is read from; those whose fields have a default may be left empty."""
    hints = get_type_hints(style, include_extras=True)
    keys = (field for field in fields(style) if hasattr(hints[field.name], "__metadata__"))
    return Record(fields=tuple(_entry(hints[field.name], field, own) for field in keys), made=style)


def _entry(hint: Any, field: Field[Any], own: OwnTables) -> Entry:
    *given, about, example = hint.__metadata__
    kind = given[0] if given else record_of(hint.__origin__, own)
    if isinstance(kind, RowKind):
        kind = kind.among(own)
    elif isinstance(kind, Lines) and isinstance(kind.text, RowKind):
        kind = replace(kind, text=kind.text.among(own))
    return entry(field.name, kind, about, example, required=field.default is MISSING)
