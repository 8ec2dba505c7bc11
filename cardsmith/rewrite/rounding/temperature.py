"""Temperatures in both scales, each purpose by its own rule. No safety limit is rounded towards danger.

The author's own scale keeps the author's figure. In the other:

- oven: the row of the dial table that the author meant; off the dial the nearest 5 degrees, below it 1
- frying, sugar, dough, room and other instrument readings: to 1 °C and 1 °F
- the middle of food, baths and hot holding: upwards; cold holding: downwards; published pairs as printed
- differences ("25 °F lower"): as differences, an oven's to 5 degrees
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from cardsmith.edition.markets import markets
from cardsmith.language.spans import COLD, KEEPING, Purpose
from cardsmith.measure.oven import Dial, dial, dials
from cardsmith.measure.published_heats import published
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import COLUMNS, Dimension, System, Unit, units
from cardsmith.reference import OURS, Tables
from cardsmith.rewrite.printed import Printed, Term, single
from cardsmith.words import Said

HOT = Fraction(45)  # °C; holding above this keeps food hot, below it keeps food cold
SMALLEST_DIAL_CHANGE = 5  # degrees, in either scale
STEPS = (Fraction(SMALLEST_DIAL_CHANGE), Fraction(1), Fraction(1, 10))  # of a difference
CHANGE_APART = Fraction(1, 5)  # of a difference; 15 °F is 10 °C on a dial (common practice, no source)
SCALES = {"us": "degree Fahrenheit", "metric": "degree Celsius"}
MINIMA = frozenset({Purpose.CORE, Purpose.BATH})
# What a purpose's other scale was rounded to, for readers and editors.
RULES = (
    {Purpose.OVEN: Said("the nearest setting of an oven’s dial")}
    | dict.fromkeys(MINIMA | KEEPING, Said("rounded so that it is never less safe"))
    | dict.fromkeys((Purpose.FAT, Purpose.SYRUP, Purpose.DOUGH), Said("to one degree"))
)


def nearest(value: Fraction) -> int:
    """The nearest whole number, halves away from zero as a cook rounds."""
    return math.floor(value + Fraction(1, 2)) if value >= 0 else -math.floor(-value + Fraction(1, 2))


def _rounding(purpose: Purpose | None, celsius: Fraction) -> Callable[[Fraction], int]:
    """Which way a limit may move: a cooking minimum up, a keeping maximum down, a reading to the nearest."""
    if purpose in MINIMA or (purpose is Purpose.HOLDING and celsius > HOT):
        return math.ceil
    return math.floor if purpose is Purpose.HOLDING or purpose in COLD else nearest


def in_scale(
    temperature: Quantity,
    end: Fraction,
    purpose: Purpose | None,
    system: str,
    tables: Tables = OURS,
    edition: str = "",
) -> Fraction:
    """One end of ``temperature`` in degrees to print in ``system`` (us, metric).

    Of a range the end that is no limit goes to the nearest: held at 185 to 200 °F is 85 to 93 °C.
    """
    if temperature.unit.system is COLUMNS[system]:
        return temperature.unit.from_base(end)
    exact = _scale(system).from_base(end)
    if temperature.unit.system is System.GAS or (purpose is Purpose.OVEN and not temperature.fan):
        row = setting(temperature, end, tables)
        if row is not None:
            return Fraction(row.fahrenheit if system == "us" else row.celsius)
    if purpose is Purpose.OVEN:
        step = SMALLEST_DIAL_CHANGE if end >= dials(tables)[0].celsius else 1
        return Fraction(nearest(exact / step) * step)
    rounding = _rounding(purpose, end)
    limits = published(edition).get(temperature.unit.system, {})
    written = temperature.unit.from_base(end)
    if rounding is not nearest and written in limits:
        return limits[written]
    free = temperature.low if rounding is math.floor else temperature.high
    return Fraction((nearest if temperature.is_range and end == free else rounding)(exact))


def is_said_again(own: Quantity, first: Quantity) -> bool:
    """Whether a heat is ``first`` on its own scale, to the nearest degree: 160 °F is 71 °C."""
    ends = ((own.low, first.low), (own.high, first.high))
    return all(own.unit.from_base(value) == nearest(own.unit.from_base(end)) for value, end in ends)


def is_of_edition(limit: Quantity, edition: str) -> bool:
    """Whether an edition has a figure of its own for a limit of safety: 165 °F is 75 °C in Britain."""
    written, system = limit.unit.from_base(limit.low), limit.unit.system
    own, usual = (published(key).get(system, {}).get(written) for key in (edition, ""))
    return own != usual


def setting(temperature: Quantity, end: Fraction, tables: Tables = OURS) -> Dial | None:
    """The row of the dial that one end stands on, or was converted from to the degree (163 °C is 325 °F)."""
    row = dial(temperature, end, tables)
    if row is None or temperature.unit.system is System.GAS:
        return row
    shown = nearest(temperature.unit.from_base(end))
    fahrenheit = _scale("us")
    if temperature.unit.system is System.US:
        marked = (row.fahrenheit, nearest(fahrenheit.from_base(Fraction(row.celsius))))
    else:
        marked = (row.celsius, nearest(fahrenheit.to_base(Fraction(row.fahrenheit))))
    return row if shown in marked else None


def _scale(system: str) -> Unit:
    return units()[SCALES[system]]


def point(
    temperature: Quantity,
    purpose: Purpose | None,
    system: str,
    extras: frozenset[str] = frozenset(),
    tables: Tables = OURS,
    edition: str = "",
) -> Printed:
    """A temperature in ``system``; ends that would meet print to a degree, or to a tenth of one.

    ``extras`` asks for an oven's other settings (fan, gas) beside its Celsius, as far as the dial has them.
    """
    scale = _scale(system)
    ends = (temperature.low, temperature.high)
    low, high = (in_scale(temperature, end, purpose, system, tables, edition) for end in ends)
    for parts in (1, 10):
        if temperature.is_range and low >= high:
            rounding = _rounding(purpose, temperature.low)
            low, high = (Fraction(rounding(scale.from_base(end) * parts), parts) for end in ends)
    printed = Printed(
        low=(Term(number=low, unit=scale),),
        high=(Term(number=high, unit=scale),),
        bound=temperature.bound,
        fan=temperature.fan,
        fan_word=_fan_word(edition),
    )
    asked = system == "metric" and purpose is Purpose.OVEN and not (temperature.is_range or temperature.fan)
    return replace(printed, settings=_settings(temperature, extras, tables, edition)) if asked else printed


def _fan_word(edition: str) -> str:
    return markets()[edition].fan if edition else "fan"


def _settings(
    temperature: Quantity, extras: frozenset[str], tables: Tables, edition: str
) -> tuple[Printed, ...]:
    """``fan 160 °C, gas 4``."""
    row = setting(temperature, temperature.low, tables)
    settings: list[Printed] = []
    if row and row.fan_celsius and "fan" in extras:
        fan = single(Term(number=Fraction(row.fan_celsius), unit=_scale("metric")))
        settings.append(replace(fan, fan=True, fan_word=_fan_word(edition)))
    if row and row.gas_mark and "gas" in extras:
        settings.append(single(Term(number=Fraction(row.gas_mark), unit=units()["gas mark"])))
    return tuple(settings)


def _stepped(ends: list[Fraction], purpose: Purpose | None) -> list[Fraction]:
    """The ends of a difference in the coarsest steps that keep each near, and the two apart."""
    for step in STEPS if purpose is Purpose.OVEN else STEPS[1:]:
        stepped = [nearest(end / step) * step for end in ends]
        near = all(abs(value - end) <= end * CHANGE_APART for value, end in zip(stepped, ends, strict=True))
        if near and (stepped[0] < stepped[1] or ends[0] == ends[1]):
            return stepped
    return stepped


def change(difference: Quantity, purpose: Purpose | None, system: str) -> Printed:
    """A difference of temperature: 25 °F is 14 °C, on an oven's dial 15 °C."""
    if difference.dimension is not Dimension.TEMPERATURE_CHANGE:
        raise ValueError(f"{difference.written!r} is not a difference of temperature")
    scale = units()[f"{SCALES[system]} (difference)"]
    own = difference.unit.system is COLUMNS[system]
    exact = [end / scale.size for end in (difference.low, difference.high)]
    low, high = exact if own else _stepped(exact, purpose)
    return Printed(
        low=(Term(number=low, unit=scale),), high=(Term(number=high, unit=scale),), bound=difference.bound
    )
