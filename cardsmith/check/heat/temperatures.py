"""Temperatures in the steps: a scale left out, a scale that cannot be meant, a pair that disagrees."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache, partial

from cardsmith.check.fields import REMARKS, Field
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.safety import keeping
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.facts.foods.roles import YEASTS
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.spans import KEEPING, Kind, Measured, Purpose
from cardsmith.last_result import remembered
from cardsmith.measure.larder import words
from cardsmith.measure.oven import dial, dials
from cardsmith.measure.patterns import is_of
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import System, Unit, units
from cardsmith.recipe.model import Text
from cardsmith.reference import Tables, table
from cardsmith.regex import regex

CELSIUS = units()["degree Celsius"]
FAHRENHEIT = units()["degree Fahrenheit"]
DIALLED = frozenset({Purpose.OVEN, Purpose.GRILL, Purpose.SMOKER})  # whose charts go by whole tens
NIST = "NIST SP 811, B.8: °C = (°F − 32) / 1.8"


@frozen
class TemperatureBounds:
    """The range in which a temperature of one purpose can lie, and usually lies; in °C."""

    least: Fraction
    usual_least: Fraction
    usual_most: Fraction
    most: Fraction
    told: str


@cache
def temperature_bounds(purpose: Purpose) -> tuple[TemperatureBounds, ...]:
    """The bounds of a purpose; several where it has several ranges, none where anything is possible."""
    rows = tuple(
        TemperatureBounds(
            least=Fraction(row["least_celsius"]),
            usual_least=Fraction(row["usual_least_celsius"]),
            usual_most=Fraction(row["usual_most_celsius"]),
            most=Fraction(row["most_celsius"]),
            told=row["told"],
        )
        for row in table("temperature_bounds")
        if row["purpose"] == purpose
    )
    for bounds in rows:
        if not bounds.least <= bounds.usual_least < bounds.usual_most <= bounds.most:
            raise ValueError(f"temperature_bounds.csv: the figures for {purpose} are out of order")
    return rows


@frozen
class WrittenTemperature:
    """A temperature that the author wrote, with or without its scale, and where."""

    text: Field
    at: int
    span: Measured

    @property
    def quantity(self) -> Quantity:
        """The first of its statements."""
        return self.span.quantity

    @property
    def purpose(self) -> Purpose:
        """What it is for."""
        return self.span.purpose or Purpose.OTHER

    @property
    def place(self) -> Text:
        """Where it stands in the author's file."""
        return self.text.spot(self.span.text, self.at)

    @property
    def remark(self) -> Severity | None:
        """A warning where nobody cooks by the text, else the check's own severity."""
        return Severity.WARNING if self.text.name in REMARKS else None


@remembered  # four checks ask
def _heats(subject: Subject) -> tuple[WrittenTemperature, ...]:
    """Every temperature of every field, and every change of one that lacks its scale."""
    return tuple(
        WrittenTemperature(text=text, at=at, span=span)
        for text in subject.fields
        for at, span in text.measures(Kind.TEMPERATURE, Kind.UNREAD, Kind.DIFFERENCE)
        if span.kind is not Kind.DIFFERENCE or span.quantity.unit.system is System.UNKNOWN
    )


def _figure(quantity: Quantity, unit: Unit) -> str:
    """The author's figures read in ``unit``: 350 °F, 350 to 375 °F."""
    low, high = (number(quantity.unit.from_base(end), 4) for end in (quantity.low, quantity.high))
    return f"{low} {unit.symbol}" if low == high else f"{low} to {high} {unit.symbol}"


def _ends(quantity: Quantity, unit: Unit) -> tuple[Fraction, ...]:
    """Both ends in °C, had the author's figures been written in ``unit``."""
    return tuple(unit.to_base(quantity.unit.from_base(end)) for end in (quantity.low, quantity.high))


def _possible(ends: tuple[Fraction, ...], purpose: Purpose) -> bool:
    ways = temperature_bounds(purpose)
    return not ways or any(all(way.least <= end <= way.most for end in ends) for way in ways)


def _usual(ends: tuple[Fraction, ...], purpose: Purpose) -> bool:
    ways = temperature_bounds(purpose)
    return not ways or any(all(way.usual_least <= end <= way.usual_most for end in ends) for way in ways)


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
    for temperature in _heats(subject):
        if temperature.quantity.unit.system is not System.UNKNOWN:
            continue
        change = temperature.span.kind is Kind.DIFFERENCE
        if (change and temperature.quantity.high <= A_HAIR) or _is_told_in_passing(temperature):
            continue
        likely = [
            unit
            for unit in (CELSIUS, FAHRENHEIT)
            if not change
            and temperature_bounds(temperature.purpose)
            and _usual(_ends(temperature.quantity, unit), temperature.purpose)
        ]
        figures = [_figure(temperature.quantity, unit) for unit in likely or (CELSIUS, FAHRENHEIT)]
        instead = (
            f"write “{figures[0]}” if you mean it so"
            if len(figures) == 1
            else f"write “{figures[0]}” or “{figures[1]}”"
        )
        yield query(temperature.place, f"“{temperature.span.text}” has no scale", instead, temperature.remark)


A_HAIR = 2  # degrees: as little as a thermometer errs, on whichever scale; common practice, no source


def _is_told_in_passing(temperature: WrittenTemperature) -> bool:
    """Whether nobody sets a dial by it: spelled out, where nobody cooks by the text."""
    return temperature.remark is not None and not any(map(str.isdigit, temperature.span.text))


@check(
    "scale-implausible",
    Severity.ERROR,
    why="A figure in the wrong scale spoils the food, or leaves it unsafe.",
    source="temperature_bounds.csv, a source for each purpose",
    remedy="write the figure and scale that you measured",
)
def scale_implausible(subject: Subject) -> Iterator[Query]:
    """A temperature its purpose does not allow; a warning where only the other scale is usual."""
    for temperature in _heats(subject):
        unit, purpose = temperature.quantity.unit, _meant(subject, temperature)
        if unit.system not in (System.METRIC, System.US) or not temperature_bounds(purpose):
            continue
        other = FAHRENHEIT if unit.system is System.METRIC else CELSIUS
        here, there = _ends(temperature.quantity, unit), _ends(temperature.quantity, other)
        slipped = purpose is Purpose.REFRIGERATOR and not _usual(here, purpose) and _usual(there, purpose)
        if _is_passing(temperature) and not slipped:  # "chill in the refrigerator to 40 °C" is 40 °F
            continue
        written, meant = _figure(temperature.quantity, unit), _figure(temperature.quantity, other)
        bounds = " or ".join(way.told for way in temperature_bounds(purpose))
        if not _possible(here, purpose):
            if _is_held(subject, temperature):
                continue
            hint = f"did you mean “{meant}”?" if _possible(there, purpose) else ""
            yield query(
                temperature.place,
                f"{written} cannot be the temperature of {bounds}",
                hint,
                temperature.remark,
            )
        elif (
            not _usual(here, purpose)
            and _usual(there, purpose)
            and not SLOW.search(temperature.text.sentence(temperature.at))
        ):
            hint = f"did you mean “{meant}”?"
            yield query(temperature.place, f"{written} is unusual for {bounds}", hint, Severity.WARNING)


def _is_held(subject: Subject, temperature: WrittenTemperature) -> bool:
    """Whether the check of what is held in the danger zone asks about a temperature already."""
    asked = keeping.held_in_danger.function(subject) if temperature.purpose in KEEPING else ()
    return any(other.where == temperature.place.where for other in asked)


def _meant(subject: Subject, temperature: WrittenTemperature) -> Purpose:
    """The purpose of a temperature; what oil "reads" is the oil's, and that of water on yeast a dough's."""
    if temperature.purpose is Purpose.WATER and _meets_yeast(subject, temperature.text):
        return Purpose.DOUGH
    if temperature.purpose is Purpose.PROOF and temperature.quantity.low >= RISEN:
        return Purpose.CORE
    clause = temperature.text.before(temperature.at).rpartition(",")[2]
    word_set = set(words(clause))
    of_oil = word_set & {"oil", "lard", "fry"} and not INSIDE.search(clause)
    if (temperature.purpose is Purpose.CORE and of_oil) or (
        temperature.purpose is Purpose.PAN and word_set & {"oil", "lard"}  # a pan is as hot as what it holds
    ):
        return Purpose.FAT
    if temperature.purpose in {Purpose.CORE, Purpose.OTHER} and FRYER.search(
        temperature.text.sentence(temperature.at)
    ):
        return Purpose.FAT
    if temperature.purpose is Purpose.OTHER and temperature.text.name == "steps":
        begins, _ = temperature.text.sentence_at(temperature.at)
        before = temperature.text.text[begins : temperature.at]
        if HEATS_OIL.search(before):
            return Purpose.FAT
        if READS_FOOD.search(before) and not _is_candy(subject):
            return Purpose.CORE
    hot = temperature.purpose in {Purpose.CORE, Purpose.OTHER} and temperature.quantity.low > BOILS
    return Purpose.SYRUP if hot and _is_candy(subject) else temperature.purpose


def _is_candy(subject: Subject) -> bool:
    """Whether sugar makes up a third of the list and no crumb holds it: so hot only syrup gets."""
    roles = subject.formula(subject.recipe.parts).roles
    return 3 * roles.get("sugar", 0) >= roles["total"] > 10 * roles.get("flour", 0)


BOILS = 101  # °C, in whatever holds more water than sugar


def _meets_yeast(subject: Subject, step: Field) -> bool:
    """Whether yeast has gone in by a step that doesn't boil its water."""
    if set(words(step.text)) & {"boil", "boiling", "simmer", "poach"}:
        return False
    yeasts = (place for place, line in enumerate(subject.recipe.ingredients) if is_of(line.food, YEASTS))
    return any(used < step.number for yeast in yeasts for used in subject.mentions.steps_of(yeast)[:1])


INSIDE = regex(r"\b(?:inside|internal|middle|cent(?:re|er)|thickest|bone|thigh|breast)\b", re.IGNORECASE)
HEATS_OIL = regex(r"\bheat (?:the |all the )?(?:\w+ )?(?:oil|fat|lard)\b[^.;]*,? to $", re.IGNORECASE)
READS_FOOD = regex(
    r"\b(?:thermometer (?:beside|by|near|in|into|next to)|no longer pink)\b[^.;]*$", re.IGNORECASE
)
FRYER = regex(r"\b(?:frying|deep[- ]fry(?:ing)?|fat|oil) thermometer\b", re.IGNORECASE)
RISEN = 55  # °C: no dough rises so warm, but meat that rests does; temperature_bounds.csv


def _is_passing(temperature: WrittenTemperature) -> bool:
    """Whether the figure is no limit: food on its way to being cold or hot, or left to stand somewhere."""
    if temperature.purpose is Purpose.CORE and FALLING.search(
        temperature.text.before(temperature.at).rpartition(",")[2]
    ):
        return True  # "passes from 135 °F to 70 °F within 2 hours"
    passing = (
        COOLING
        if temperature.purpose in KEEPING
        else STANDING
        if temperature.purpose is Purpose.CORE
        else None
    )
    return passing is not None and passing.search(temperature.text.before(temperature.at)) is not None


COOLING = regex(r"cool|chill|until", re.IGNORECASE)
FALLING = regex(r"\b(?:pass(?:es)?|falls?|drops?|cools?|chills?|from)\b", re.IGNORECASE)
STANDING = regex(r"leave|stand|rest |proof|prove|rise|ferment", re.IGNORECASE)
SLOW = regex(r"dry|dried|dehydrat|warm|proof|prove|rise|smoke|low oven|lowest|overnight", re.IGNORECASE)


@check(
    "own-conversion-off",
    Severity.WARNING,
    why="Readers follow the figure they know; a pair that disagrees is two recipes.",
    source=NIST + "; for ovens the dial table",
    remedy="leave the second figure out: the card converts by itself",
)
def own_conversion_off(subject: Subject) -> Iterator[Query]:
    """°C and °F side by side that differ: by over a dial step in an oven, by over 3.5 °C elsewhere."""
    for temperature in _heats(subject):
        for first, stated, right in _disagreeing(temperature, subject.recipe.tables):
            yield query(
                temperature.place,
                f"{first.written} is {right}, not {stated.written}",
                f"write “{first.written}” alone, or mend the one you did not measure",
                Severity.ERROR if abs(first.low - stated.low) > TWO_RECIPES else None,
            )


def _disagreeing(temperature: WrittenTemperature, tables: Tables) -> Iterator[tuple[Quantity, Quantity, str]]:
    """A temperature, what is stated beside it of the same air and is another, and what that should be."""
    quantities = (temperature.quantity, *temperature.span.stated)
    for stated in temperature.span.stated:
        first = next(other for other in quantities if other.fan is stated.fan)
        scales = (stated.unit.system, first.unit.system)
        if stated.unit is first.unit or System.UNKNOWN in scales or temperature.span.kind is Kind.DIFFERENCE:
            continue
        oven = temperature.purpose in DIALLED or System.GAS in scales
        off = partial(_off_dial, tables) if oven else _off_exactly
        if off(first, first.low, stated, stated.low) or off(first, first.high, stated, stated.high):
            yield first, stated, _converted(first, stated.unit, tables if oven else None)


TWO_RECIPES = Fraction(15)  # °C; so far apart, one of the two spoils the dish: common practice, no source


def _off_exactly(_first: Quantity, first: Fraction, _second: Quantity, second: Fraction) -> bool:
    return abs(first - second) > Fraction(7, 2)


def _off_dial(tables: Tables, quantity: Quantity, first: Fraction, other: Quantity, second: Fraction) -> bool:
    """Whether the two are further apart than printed charts differ: 5 °C, 10 °F, half a gas mark."""
    mine, theirs = dial(quantity, first, tables), dial(other, second, tables)
    if System.GAS not in (quantity.unit.system, other.unit.system) and not _off_exactly(
        quantity, first, other, second
    ):
        return False  # converted to the degree
    if mine is None or theirs is None:
        return True
    shown = other.unit.from_base(second)
    if other.unit.system is System.METRIC:
        return abs(shown - mine.celsius) > 5
    if other.unit.system is System.US:
        return abs(shown - mine.fahrenheit) > 10
    return abs(theirs.fahrenheit - mine.fahrenheit) > 15


def _converted(quantity: Quantity, unit: Unit, dial_of: Tables | None) -> str:
    """What the second figure should be, for evidence; by the dial of an oven, where it is one."""
    converted: list[str] = []
    for end in dict.fromkeys((quantity.low, quantity.high)):
        row = dial(quantity, end, dial_of) if dial_of else None
        if row is None:
            converted.append(
                number(round(unit.from_base(end))) if unit.system is not System.GAS else "no setting"
            )
        elif unit.system is System.GAS:
            converted.append(row.gas_mark or "between two marks")
        else:
            converted.append(str(row.celsius if unit.system is System.METRIC else row.fahrenheit))
    figures = " to ".join(converted)
    return f"gas mark {figures}" if unit.system is System.GAS else f"{figures} {unit.symbol}"


@check(
    "oven-off-dial",
    Severity.WARNING,
    why="Nobody sets a dial between its marks; such a figure is usually a conversion.",
    source="oven_dials.csv; ovens are marked in fives: " + PRACTICE,
    remedy="write the setting you turned the dial to",
)
def oven_off_dial(subject: Subject) -> Iterator[Query]:
    """An oven setting that no dial shows: 163 °C, 347 °F, gas mark 12."""
    tables = subject.recipe.tables
    for temperature in _heats(subject):
        if temperature.purpose is not Purpose.OVEN or next(_disagreeing(temperature, tables), None):
            continue
        unit = temperature.quantity.unit
        for end in dict.fromkeys((temperature.quantity.low, temperature.quantity.high)):
            row = dial(temperature.quantity, end, tables)
            if unit.system is System.GAS and row is None:
                marks = [oven_dial.gas_mark for oven_dial in dials(tables) if oven_dial.gas_mark]
                hint = f"gas marks run from {marks[0]} to {marks[-1]}"
                yield query(temperature.place, f"no oven has “{temperature.span.text}”", hint)
            elif unit.system in (System.METRIC, System.US) and unit.from_base(end) % 5 and row is not None:
                near = row.celsius if unit.system is System.METRIC else row.fahrenheit
                hint = f"did you set {near} {unit.symbol}?"
                yield query(temperature.place, f"“{temperature.span.text}” is on no oven's dial", hint)
