"""Numbers in a log or a remark that lack a unit: questioned, since the next trial rests on them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cardsmith.finding import Finding, Severity
from cardsmith.language.prose.fields import read_prose, unread_in
from cardsmith.language.quantities import read_clock
from cardsmith.language.spans import Measured
from cardsmith.measure.units import System
from cardsmith.recipe.model import Text
from cardsmith.reference import OURS, Tables


def unread_numbers(text: Text, tables: Tables = OURS) -> Iterator[Finding]:
    """A warning for each number without its unit, and for each temperature without its scale."""
    yield from unread_in(text.text, text.where, System.US, Severity.WARNING, tables)
    for span in read_prose(text.text, text.where, tables=tables):
        if isinstance(span, Measured) and span.quantity.unit.system is System.UNKNOWN:
            yield Finding(
                name="scale-missing",
                severity=Severity.WARNING,
                where=span.where,
                what=f"“{span.text}” has no scale",
                instead=f"write “{span.text} °C” or “{span.text} °F”",
                width=len(span.text),
            )


def behind_clock(entry: Text) -> Text:
    """An entry of the log without the time that begins it."""
    clock = read_clock(entry.text)
    if clock is None:
        return entry
    where = replace(entry.where, column=entry.where.column + len(entry.text) - len(clock[1]))
    return Text(text=clock[1], where=where)
