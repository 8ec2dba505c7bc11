"""A printed text read again: numeral by numeral, in order, what its author's says in both systems."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from cardsmith.finding import Finding, Where
from cardsmith.house.style import House
from cardsmith.language.prose.sentences import Reading, readings
from cardsmith.language.spans import KEEPING, Kind, Measured, Protected, Purpose, Span, Told, Unread, Words
from cardsmith.measure.oven import dial, dials
from cardsmith.measure.published_heats import published
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import COLUMN_NAMES, COLUMNS, Dimension, System
from cardsmith.readback.findings import otherwise
from cardsmith.readback.lines import own_systems, spoons
from cardsmith.reference import Tables
from cardsmith.rewrite.card.model import Rewritten
from cardsmith.rewrite.rounding.printable import spoon_spread
from cardsmith.rewrite.rounding.temperature import HOT, MINIMA, is_said_again

PLACEHOLDER = Words(text="\ufffc")  # stands in a text for what is read by itself, or not at all
NO_SYSTEM = frozenset({System.ANY, System.CONTAINER, System.VAGUE, System.UNKNOWN})
ROUGH = Fraction(1, 10)
SPREAD = {
    Kind.LENGTH: Fraction(1, 10),
    Kind.VESSEL: Fraction(1, 8),
    Kind.PRESSURE: Fraction(1, 20),
    Kind.ALTITUDE: Fraction(1, 10),
}  # common practice, no source; what a market sells a pan by stands up to an eighth off
DEGREES = {
    Purpose.OVEN: Fraction(9),
    Purpose.SMOKER: Fraction(5),
    Purpose.GRILL: Fraction(5),
}  # °C, a dial's step
THIN = Fraction(5)  # mm; below it no ruler has the inches, and the millimetres stand in both
ONE_DEGREE = Fraction(1)  # °C, of any other heat


def text_differs(printed: str, written: Sequence[Span], where: Where, house: House) -> Iterator[Finding]:
    """A finding for each numeral of ``printed`` that is not its author's, within the house's tolerance.

    A measure stands there in each of the card's columns.
    """
    wanted = [span for span in written if isinstance(span, Measured | Told | Unread)]
    if not wanted and printed == "".join(span.text for span in written):
        return  # its author's own words, in which no number was read
    got = readings(printed, spoons(house.order[0], house.household), house.reference)
    if len(got) != len(wanted):
        names = " · ".join(reading.text for reading in got), " · ".join(reading.text for reading in wanted)
        yield otherwise(where, names[1], names[0], "it reads as other numbers")
        return
    for reading, span in zip(got, wanted, strict=True):
        why = _differs(reading, span, house)
        if why:
            yield otherwise(getattr(span, "where", where), span.text, reading.text, why)


def columns_differ(spans: Iterable[Span | Rewritten], household: str = "") -> Iterator[Finding]:
    """A finding for each measure whose columns hold another system's units; what is alike in both is left."""
    for span in spans:
        if not isinstance(span, Rewritten) or span.said("us") == span.said("metric"):
            continue
        for system in COLUMNS:
            systems = _systems(*span.amount.of(system).quantities())
            foreign = systems - NO_SYSTEM - {System.GAS} - own_systems(system, household)
            if foreign:
                why = f"that is not a {COLUMN_NAMES[system]} measure"
                yield otherwise(span.where, span.author, span.said(system), why, system)


def visible(spans: Iterable[Span | Rewritten]) -> str:
    """A text as it is printed, but for code."""
    return "".join((PLACEHOLDER if isinstance(span, Protected) else span).text for span in spans)


def _differs(reading: Reading, span: Measured | Told | Unread, house: House) -> str:
    """Why a printed numeral is not the author's; empty where it is."""
    if isinstance(span, Told | Unread):
        same = not reading.sides and (reading.low, reading.high) == (span.low, span.high)
        return "" if same else "it counts something else"
    if not reading.sides:
        return "" if span.quantity.is_vague else "its unit is lost"
    every = (*reading.sides, *reading.stated)
    systems = {quantity.unit.system for quantity in every}
    if in_both(span.quantity) and not all(
        systems & own_systems(system, house.household) for system in house.order
    ):
        return "one system is missing"
    again = () if span.kind in {Kind.TEMPERATURE, Kind.DIFFERENCE} else span.said_again()
    ways = (span.sides, *again)
    for number, quantity in enumerate(every):
        edge = number % len(span.sides)
        written = [way[edge] for way in ways if way[edge].dimension is quantity.dimension]
        if not written:
            return f"“{quantity.written}” measures something else"
        if not any(_near(quantity, given, span, house) for given in written):
            return f"“{quantity.written}” is not “{written[0].written}”"
    if reading.bound is not span.quantity.bound:
        return f"it says “{reading.bound}” where “{span.quantity.bound}” was written"
    return ""


def in_both(quantity: Quantity) -> bool:
    """Whether a measure stands in both systems: a time, a power, a count and a vague measure do not."""
    if quantity.dimension is Dimension.LENGTH and quantity.low < THIN:
        return False
    known = quantity.unit.system not in NO_SYSTEM
    return known and quantity.dimension not in {Dimension.DURATION, Dimension.POWER, Dimension.ENERGY}


def _near(printed: Quantity, written: Quantity, span: Measured, house: House) -> bool:
    spread, tables = house.tolerances["other"], house.reference
    if span.kind is Kind.TEMPERATURE and (
        System.GAS in _systems(printed, written) or printed.fan != written.fan
    ):
        pairs = zip(_by_dial(printed, tables), _by_dial(written, tables), strict=True)
        return all(
            got is not None and wanted is not None and abs(got - wanted) <= DEGREES[Purpose.OVEN]
            for got, wanted in pairs
        )
    ends = ((printed.low, written.low), (printed.high, written.high))
    if span.kind is Kind.TEMPERATURE and _is_published(printed, written, house):
        return True
    if span.kind is Kind.TEMPERATURE and _is_own(printed, written, span):
        return True
    if span.kind in {Kind.TEMPERATURE, Kind.DIFFERENCE}:
        step = DEGREES.get(span.purpose, ONE_DEGREE) if span.purpose else ONE_DEGREE
        near = all(abs(got - wanted) <= step for got, wanted in ends)
        return near and (span.kind is Kind.DIFFERENCE or _is_safe(printed, written, span.purpose, house))
    if span.kind is Kind.DURATION:
        return all(got == wanted for got, wanted in ends)
    if span.kind is Kind.AMOUNT and printed.dimension is Dimension.VOLUME:
        spread = spoon_spread(printed.high, spread)
    spread = SPREAD.get(span.kind, spread)
    return all(abs(got - wanted) <= spread * abs(wanted) for got, wanted in ends)


def _is_own(printed: Quantity, written: Quantity, span: Measured) -> bool:
    """Whether a heat stands as its author said it on that scale, to the nearest degree."""
    own = (
        (quantity.low, quantity.high, quantity.unit)
        for quantity in span.stated
        if is_said_again(quantity, written)
    )
    return (printed.low, printed.high, printed.unit) in own


def _is_published(printed: Quantity, written: Quantity, house: House) -> bool:
    """Whether a limit of safety stands as it is published on the other scale."""
    pairs = published(house.edition).get(written.unit.system, {})
    ends = ((printed.low, written.low), (printed.high, written.high))
    return all(
        pairs.get(written.unit.from_base(wanted)) == printed.unit.from_base(got) for got, wanted in ends
    )


def _is_safe(printed: Quantity, written: Quantity, purpose: Purpose | None, house: House) -> bool:
    """Whether a limit of safety has moved, if at all, to the safe side, or is a published pair.

    The limit of a range is its lower end for what heats, its upper one for what keeps cold.
    """
    pairs = published(house.edition).get(written.unit.system, {})
    least = purpose in MINIMA or (purpose is Purpose.HOLDING and written.low > HOT)
    got, wanted = (printed.low, written.low) if least else (printed.high, written.high)
    if pairs.get(written.unit.from_base(wanted)) == printed.unit.from_base(got):
        return True
    return got >= wanted if least else purpose not in KEEPING or got <= wanted


def _systems(*quantities: Quantity) -> set[System]:
    return {quantity.unit.system for quantity in quantities}


def _by_dial(heat: Quantity, tables: Tables) -> tuple[Fraction | None, ...]:
    """Both ends in °C of an oven without a fan, by the oven's table; None for a gas mark no oven has."""
    return tuple(_still(heat, end, tables) for end in (heat.low, heat.high))


def _still(heat: Quantity, end: Fraction, tables: Tables) -> Fraction | None:
    if heat.unit.system is System.GAS:
        row = dial(heat, end, tables)
        return Fraction(row.celsius) if row else None
    if not heat.fan:
        return end
    by_fan = ((row.fan_celsius, row.celsius) for row in dials(tables) if row.fan_celsius)
    fan, still = min(by_fan, key=lambda row: abs(row[0] - end))
    return end + still - fan
