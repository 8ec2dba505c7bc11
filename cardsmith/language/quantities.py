"""All of a text as one amount: ``6 g``, ``1 h 40 min``, ``350 °F``."""

from __future__ import annotations

from cardsmith.finding import Finding, Severity, Where
from cardsmith.language.amounts import amount_at
from cardsmith.language.clock import moment_at
from cardsmith.language.faults import Fault
from cardsmith.language.heat import heat_at
from cardsmith.language.tokens import tokenize
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import System


def read_quantity(
    text: str, where: Where, measures: System = System.US
) -> tuple[Quantity | None, tuple[Finding, ...]]:
    """All of ``text`` as one amount, or findings that say why not."""
    tokens = tokenize(text)
    moment = moment_at(tokens, 0)
    if moment is not None and moment.quantity is not None and moment.end == len(tokens):
        return moment.quantity, ()
    found = amount_at(tokens, 0, measures)
    if found is None or (found.quantity is not None and found.end < len(tokens)):
        return None, (_unreadable(text).finding(where.at(len(text) - len(text.lstrip()))),)
    return found.quantity, tuple(fault.finding(where) for fault in found.faults)


def figures(written: str) -> str:
    """The number that begins an amount, without its unit, as written; empty where it can't be read.

    >>> figures("2¼ tbsp"), figures("2 to 3 lb"), figures("a knob")
    ('2¼', '2 to 3', 'a')
    """
    tokens = tokenize(written)
    found = amount_at(tokens, 0)
    return tokens.between(found.first, found.unit_first) if found and found.quantity is not None else ""


def read_temperature(text: str) -> Quantity | None:
    """All of ``text`` as a temperature or a difference of two; None where it is neither."""
    tokens = tokenize(text)
    found = heat_at(tokens, 0)
    return found.quantity if found is not None and found.end == len(tokens) else None


def _unreadable(text: str) -> Fault:
    written = text.strip()
    return Fault(
        name="unreadable-amount",
        severity=Severity.ERROR,
        start=0,
        end=len(written),
        what=f"“{written}” can't be read as an amount",
        instead="an amount such as 1 1/2 cups or 200 g",
    )
