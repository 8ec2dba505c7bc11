"""What comes out and how long it takes: ``makes: about 24 (3-inch) biscuits``, ``total: 1 h 40 min``."""

from __future__ import annotations

import re
from fractions import Fraction

from cardsmith.finding import Finding, Severity
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.amounts import amount_at, read_quantity
from cardsmith.recipe.model import Text, Time, Yield
from cardsmith.recipe.tree import Mapping, Scalar

_OF = re.compile(r"\s*(?:people|persons|portions|servings|guests)?\s*", re.IGNORECASE)


def text_of(node: Mapping, key: str) -> Text | None:
    """The text of a key, with its place."""
    value = node.get(key)
    return Text(text=value.text.strip(), where=value.where) if isinstance(value, Scalar) else None


def read_yield(node: Mapping, measures: System) -> tuple[Yield, tuple[Finding, ...]]:
    """The yield; a number that can't be read is a finding."""
    makes, serves, piece = (text_of(node, key) for key in ("makes", "serves", "piece"))
    findings: list[Finding] = []
    count = high = low = most = None
    item = ""
    if makes is not None:
        count, high, item = _makes(makes.text, measures)
        if count is None and not item:
            findings.append(_unread(makes, "makes", "60 crackers"))
    if serves is not None:
        low, most = _serves(serves.text, measures)
        if low is None:
            findings.append(_unread(serves, "serves", "4 to 6"))
    size, found = _quantity(
        piece, measures, (Dimension.MASS, Dimension.VOLUME, Dimension.LENGTH), "a weight: 6 g"
    )
    return Yield(
        where=node.where,
        makes=makes,
        makes_count=count,
        makes_high=high,
        makes_item=item,
        serves=serves,
        serves_low=low,
        serves_high=most,
        piece=size,
    ), (*findings, *found)


def read_time(node: Mapping, measures: System) -> tuple[Time, tuple[Finding, ...]]:
    """Active and total time."""
    active, found = _quantity(text_of(node, "active"), measures, (Dimension.DURATION,), "a time: 35 min")
    total, more = _quantity(text_of(node, "total"), measures, (Dimension.DURATION,), "a time: 1 h 40 min")
    return Time(where=node.where, active=active, total=total), (*found, *more)


def _makes(text: str, measures: System) -> tuple[Fraction | None, Fraction | None, str]:
    """Count, its upper end and the noun; a mass or a volume ("840 ml") is a noun without a count."""
    found = amount_at(text, 0, measures)
    if found is None or found.quantity is None:
        return None, None, ""
    quantity = found.quantity
    if quantity.dimension is not Dimension.COUNT:
        return None, None, text
    item = text[found.unit_start if found.unit_written else found.end :].strip()
    return quantity.low, quantity.high if quantity.is_range else None, item


def _serves(text: str, measures: System) -> tuple[Fraction | None, Fraction | None]:
    found = amount_at(text, 0, measures)
    if found is None or found.quantity is None or found.quantity.dimension is not Dimension.COUNT:
        return None, None
    if not _OF.fullmatch(text, found.unit_start if found.unit_written else found.end):
        return None, None
    return found.quantity.low, found.quantity.high


def _quantity(
    text: Text | None, measures: System, allowed: tuple[Dimension, ...], instead: str
) -> tuple[Quantity | None, tuple[Finding, ...]]:
    if text is None:
        return None, ()
    quantity, found = read_quantity(text.text, text.where, measures)
    if quantity is not None and quantity.dimension not in allowed:
        what = f"“{text.text}” has no unit that fits here"
        wrong = Finding(
            name="unit-unfit",
            severity=Severity.ERROR,
            where=text.where,
            what=what,
            instead=instead,
            width=len(text.text),
        )
        return None, (*found, wrong)
    return quantity, found


def _unread(text: Text, key: str, example: str) -> Finding:
    return Finding(
        name="unreadable-amount",
        severity=Severity.ERROR,
        where=text.where,
        what=f"“{text.text}” begins with no number",
        instead=f"write a number first: {key}: {example}",
        width=max(1, len(text.text)),
    )
