"""Temperatures in the steps: a scale left out, a scale that cannot be meant, a pair that disagrees."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from cardsmith.check.facts import PRACTICE
from cardsmith.check.matching import is_of
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.finding import Severity
from cardsmith.language.spans import KEEPING, Measured, Purpose
from cardsmith.measure.larder import words
from cardsmith.measure.oven import dial, dials
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System, Unit, units
from cardsmith.recipe.model import Step
from cardsmith.reference import table

CELSIUS = units()["degree Celsius"]
FAHRENHEIT = units()["degree Fahrenheit"]
NIST = "NIST SP 811, B.8: °C = (°F − 32) / 1.8"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """Between what a temperature of one purpose can lie, and lies as a rule; in °C."""

    least: Fraction
    usual_least: Fraction
    usual_most: Fraction
    most: Fraction
    told: str


@cache
def bounds(purpose: Purpose) -> tuple[Bounds, ...]:
    """The bounds of a purpose; several where it has several ranges, none where anything is possible."""
    found = tuple(
        Bounds(
            least=Fraction(row["least_celsius"]),
            usual_least=Fraction(row["usual_least_celsius"]),
            usual_most=Fraction(row["usual_most_celsius"]),
            most=Fraction(row["most_celsius"]),
            told=row["told"],
        )
        for row in table("temperature_bounds")
        if row["purpose"] == purpose
    )
    for one in found:
        if not one.least <= one.usual_least < one.usual_most <= one.most:
            raise ValueError(f"temperature_bounds.csv: the figures for {purpose} are out of order")
    return found


def _temperatures(subject: Subject) -> Iterator[tuple[Step, Measured]]:
    for step, span in subject.measured:
        if span.quantity.dimension is Dimension.TEMPERATURE:
            yield step, span


def _figure(quantity: Quantity, unit: Unit) -> str:
    """The author's figures read in ``unit``: 350 °F, 350 to 375 °F."""
    low, high = (number(quantity.unit.from_base(end), 4) for end in (quantity.low, quantity.high))
    return f"{low} {unit.symbol}" if low == high else f"{low} to {high} {unit.symbol}"


def _ends(quantity: Quantity, unit: Unit) -> tuple[Fraction, ...]:
    """Both ends in °C, had the author's figures been written in ``unit``."""
    return tuple(unit.to_base(quantity.unit.from_base(end)) for end in (quantity.low, quantity.high))


def _possible(ends: tuple[Fraction, ...], purpose: Purpose) -> bool:
    ways = bounds(purpose)
    return not ways or any(all(way.least <= end <= way.most for end in ends) for way in ways)


def _usual(ends: tuple[Fraction, ...], purpose: Purpose) -> bool:
    ways = bounds(purpose)
    return not ways or any(all(way.usual_least <= end <= way.usual_most for end in ends) for way in ways)


def _purpose(span: Measured) -> Purpose:
    return span.purpose or Purpose.OTHER


@check(
    "scale-missing",
    Severity.ERROR,
    why="350 in one scale burns what 350 in the other bakes.",
    source=PRACTICE,
    remedy="write °C or °F",
    acceptable=False,
)
def scale_missing(subject: Subject) -> Iterator[Query]:
    """A temperature without its scale; the likely one is offered, never assumed."""
    for _, span in _temperatures(subject):
        if span.quantity.unit.system is not System.UNKNOWN:
            continue
        purpose = _purpose(span)
        likely = [
            unit
            for unit in (CELSIUS, FAHRENHEIT)
            if bounds(purpose) and _usual(_ends(span.quantity, unit), purpose)
        ]
        told = [_figure(span.quantity, unit) for unit in likely or (CELSIUS, FAHRENHEIT)]
        instead = (
            f"write “{told[0]}” if you mean it so" if len(told) == 1 else f"write “{told[0]}” or “{told[1]}”"
        )
        yield query(span, f"“{span.text}” has no scale", instead)


@check(
    "scale-implausible",
    Severity.ERROR,
    why="A figure in the wrong scale spoils the food, or leaves it unsafe.",
    source="temperature_bounds.csv, a source for each purpose",
    remedy="write the figure and scale that you measured",
)
def scale_implausible(subject: Subject) -> Iterator[Query]:
    """A temperature its purpose does not allow; a warning where only the other scale is usual."""
    for step, span in _temperatures(subject):
        unit = span.quantity.unit
        purpose = _meant(subject, step, span)
        if unit.system not in (System.METRIC, System.US) or not bounds(purpose) or _is_passing(step, span):
            continue
        other = FAHRENHEIT if unit.system is System.METRIC else CELSIUS
        here, there = _ends(span.quantity, unit), _ends(span.quantity, other)
        written, meant = _figure(span.quantity, unit), _figure(span.quantity, other)
        told = " or ".join(way.told for way in bounds(purpose))
        if not _possible(here, purpose):
            hint = f"did you mean “{meant}”?" if _possible(there, purpose) else ""
            yield query(span, f"{written} cannot be the temperature of {told}", hint)
        elif not _usual(here, purpose) and _usual(there, purpose) and not _is_slow(step, span):
            yield query(
                span, f"{written} is unusual for {told}", f"did you mean “{meant}”?", Severity.WARNING
            )


def _sentence(step: Step, span: Measured) -> tuple[str, str]:
    """The sentence before and after the temperature, in lower case."""
    before, after, seen = "", "", False
    for one in step.spans:
        if one is span:
            seen = True
        elif seen:
            after += one.text
        else:
            before += one.text
    return before.rpartition(". ")[2].lower(), after.partition(". ")[0].lower()


def _meant(subject: Subject, step: Step, span: Measured) -> Purpose:
    """The purpose of a temperature; what oil "reads" is the heat of the oil, and water on yeast is a dough's."""
    if _purpose(span) is Purpose.WATER and _meets_yeast(subject, step):
        return Purpose.DOUGH
    if _purpose(span) is Purpose.CORE and set(words(_sentence(step, span)[0])) & {"oil", "lard", "fry"}:
        return Purpose.FAT
    return _purpose(span)


def _meets_yeast(subject: Subject, step: Step) -> bool:
    """Whether yeast has gone in by a step that doesn't boil its water."""
    if set(words("".join(span.text for span in step.spans))) & {"boil", "boiling", "simmer", "poach"}:
        return False
    place = next(number for number, one in enumerate(subject.recipe.steps) if one is step)
    yeasts = (number for number, line in enumerate(subject.recipe.ingredients) if is_of(line.food, YEASTS))
    return any(used <= place for yeast in yeasts for used in subject.mentions.steps_of(yeast)[:1])


YEASTS = ("role:yeast-instant", "role:yeast-active-dry", "role:yeast-fresh")


def _is_passing(step: Step, span: Measured) -> bool:
    """Whether the figure is no limit: food on its way to being cold or hot, or left to stand somewhere."""
    before, _ = _sentence(step, span)
    if _purpose(span) in KEEPING:
        return any(word in before for word in ("cool", "chill", "until"))
    if _purpose(span) is Purpose.CORE:
        return any(
            word in before for word in ("leave", "stand", "rest ", "proof", "prove", "rise", "ferment")
        )
    return False


def _is_slow(step: Step, span: Measured) -> bool:
    """Whether the oven is meant to be barely warm."""
    slow = (
        "dry",
        "dried",
        "dehydrat",
        "warm",
        "proof",
        "prove",
        "rise",
        "smoke",
        "low oven",
        "lowest",
        "overnight",
    )
    return any(word in " ".join(_sentence(step, span)) for word in slow)


@check(
    "own-conversion-off",
    Severity.WARNING,
    why="Readers follow the figure they know; a pair that disagrees is two recipes.",
    source=NIST + "; for ovens the dial table",
    remedy="leave the second figure out: the card converts by itself",
)
def own_conversion_off(subject: Subject) -> Iterator[Query]:
    """°C and °F side by side that differ: by over a dial step in an oven, by over 3.5 °C elsewhere."""
    for _, span in _temperatures(subject):
        for stated in span.stated:
            if stated.unit is span.quantity.unit or System.UNKNOWN in (
                stated.unit.system,
                span.quantity.unit.system,
            ):
                continue
            oven = _purpose(span) is Purpose.OVEN or System.GAS in (
                stated.unit.system,
                span.quantity.unit.system,
            )
            pairs = ((span.quantity.low, stated.low), (span.quantity.high, stated.high))
            off = _off_dial if oven else _off_exactly
            if any(off(span.quantity, first, stated, second) for first, second in pairs):
                right = _converted(span.quantity, stated.unit, oven)
                yield query(
                    span,
                    f"{span.quantity.written} is {right}, not {stated.written}",
                    f"write “{span.quantity.written}” alone, or mend the one you did not measure",
                )


def _off_exactly(_first: Quantity, first: Fraction, _second: Quantity, second: Fraction) -> bool:
    return abs(first - second) > Fraction(7, 2)


def _off_dial(one: Quantity, first: Fraction, other: Quantity, second: Fraction) -> bool:
    """Whether the two are further apart than printed charts differ: 5 °C, 10 °F, half a gas mark."""
    mine, theirs = dial(one, first), dial(other, second)
    if mine is None or theirs is None:
        return True
    shown = other.unit.from_base(second)
    if other.unit.system is System.METRIC:
        return abs(shown - mine.celsius) > 5
    if other.unit.system is System.US:
        return abs(shown - mine.fahrenheit) > 10
    return abs(theirs.fahrenheit - mine.fahrenheit) > 15


def _converted(quantity: Quantity, unit: Unit, oven: bool) -> str:
    """What the second figure should be, for evidence."""
    told: list[str] = []
    for end in dict.fromkeys((quantity.low, quantity.high)):
        row = dial(quantity, end) if oven else None
        if row is None:
            told.append(number(round(unit.from_base(end))) if unit.system is not System.GAS else "no setting")
        elif unit.system is System.GAS:
            told.append(row.gas_mark or "between two marks")
        else:
            told.append(str(row.celsius if unit.system is System.METRIC else row.fahrenheit))
    figures = " to ".join(told)
    return f"gas mark {figures}" if unit.system is System.GAS else f"{figures} {unit.symbol}"


@check(
    "oven-off-dial",
    Severity.WARNING,
    why="A setting between the marks is one that nobody set; it is mostly a converted figure.",
    source="oven_dials.csv; ovens are marked in fives: " + PRACTICE,
    remedy="write the setting you turned the dial to",
)
def oven_off_dial(subject: Subject) -> Iterator[Query]:
    """An oven setting that no dial shows: 163 °C, 347 °F, gas mark 12."""
    for _, span in _temperatures(subject):
        if _purpose(span) is not Purpose.OVEN:
            continue
        for end in dict.fromkeys((span.quantity.low, span.quantity.high)):
            shown = span.quantity.unit.from_base(end)
            row = dial(span.quantity, end)
            if span.quantity.unit.system is System.GAS:
                if row is None:
                    marks = [one.gas_mark for one in dials() if one.gas_mark]
                    yield query(
                        span, f"no oven has “{span.text}”", f"gas marks run from {marks[0]} to {marks[-1]}"
                    )
            elif span.quantity.unit.system is not System.UNKNOWN and shown % 5 and row is not None:
                near = (
                    f"{row.celsius} °C"
                    if span.quantity.unit.system is System.METRIC
                    else f"{row.fahrenheit} °F"
                )
                yield query(span, f"“{span.text}” is on no oven's dial", f"did you set {near}?")
