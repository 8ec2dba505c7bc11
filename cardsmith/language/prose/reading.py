"""A reading of a sentence: by its tokens while it is read, and by its characters once it is."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.faults import Fault
from cardsmith.language.noun_phrases import noun_at
from cardsmith.language.spans import Kind, Purpose
from cardsmith.language.tokens import Tokens
from cardsmith.measure.quantity import Bound, Quantity


@frozen
class Reading:
    """One numeral or measure of a text, from character ``start`` up to ``end``."""

    start: int
    end: int
    text: str
    kind: Kind
    sides: tuple[Quantity, ...] = ()
    stated: tuple[Quantity, ...] = ()
    low: Fraction = Fraction(0)  # of a number without a unit
    high: Fraction = Fraction(0)
    bound: Bound = Bound.EXACTLY
    purpose: Purpose | None = None
    adjective: bool = False
    noun: str = ""
    says_bound: bool = False
    behind: str = ""
    instead: str = ""
    faults: tuple[Fault, ...] = ()


@frozen(kw_only=False)
class TokenReading:
    """A reading that stands in the tokens from ``first`` up to ``end``."""

    first: int
    end: int
    kind: Kind
    sides: tuple[Quantity, ...] = ()
    stated: tuple[Quantity, ...] = ()
    low: Fraction = Fraction(0)
    high: Fraction = Fraction(0)
    purpose: Purpose | None = None
    adjective: bool = False
    noun: str = ""
    says_bound: bool = False
    behind: str = ""
    instead: str = ""
    faults: tuple[Fault, ...] = ()


def unread(
    tokens: Tokens, first: int, end: int, low: Fraction, high: Fraction | None = None, instead: str = ""
) -> TokenReading:
    """A number whose meaning is unknown, and the fault that says what to write."""
    written, noun = tokens.between(first, end), noun_at(tokens, end)
    wanted = (
        instead or f"the number with its unit, such as “{written} g”, “{written} minutes” or “{written} °C”"
    )
    fault = Fault(
        name="number-unread",
        severity=Severity.ERROR,
        start=tokens[first].start,
        end=tokens[end - 1].end,
        what=f"“{written}” measures nothing that can be told" + (f": “{written} {noun}”" if noun else ""),
        instead=wanted,
    )
    return TokenReading(
        first,
        end,
        Kind.UNREAD,
        low=low,
        high=low if high is None else high,
        noun=noun,
        instead=wanted,
        faults=(fault,),
    )
