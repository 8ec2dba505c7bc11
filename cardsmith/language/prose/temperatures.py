"""A temperature of a sentence: with its purpose, and what is said again beside it on other scales.

    temperature = heat { again }
    again       = "(" heat { ("/" | "," | ";" | "or") heat } ")" | ("/" | "|" | "=") heat
                | number "fan" | "fan" number                 on the scale before it
                | ["," | ";" | "or" | dash] heat on another scale

A heat is one of figures/heat.py; beside a setting of air at rest stands that of moving air, in either order.

>>> def scales(text):
...     found = temperature_in(text)
...     return [f"{one.unit.from_base(one.low)}{' fan' * one.fan}" for one in (*found.sides, *found.stated)]
>>> scales("180°C/160°C fan/gas 4"), scales("200C/180 fan"), scales("gas mark 4 (180°C)")
(['180', '160 fan', '4'], ['200', '180 fan'], ['4', '180'])
>>> scales("180 °C, 350 °F"), scales("24 °C; 75 °F"), scales("220 °C, 180 °C")
(['180', '350'], ['24', '75'], ['220'])

Two that stand apart for one heat are `said_apart`: "96 °C for 5 minutes, or about 205 °F".
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from cardsmith.language.figures.bounds import bound_behind
from cardsmith.language.figures.heat import FAN, Temperature, fan_after, heat_at
from cardsmith.language.figures.numbers import number_at
from cardsmith.language.figures.unit_words import scale_at
from cardsmith.language.prose.purposes import purpose_of
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.spans import Kind, Purpose
from cardsmith.language.tokens import DASHES, SLASHES, Tokens
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System, Unit, units

_BARS = SLASHES | {"|", "="}
_WITH_A_FAN = (
    ("if", "it", "has", "a", "fan"), ("if", "yours", "has", "a", "fan"), ("in", "a", "fan", "oven"),
    ("for", "a", "fan", "oven"), ("with", "the", "fan"), ("with", "a", "fan"),
)  # fmt: skip
_FARTHEST = 30  # tokens; so that time grows with the length of a text
_SAYING = frozenset({"or", "about", "that", "which", "is"})  # before what is said again
_A_DEGREE = 1  # °C
_COOLEST = 30  # °C; no maker of ovens asks for more off in moving air (common practice, no source)


def temperature_of(tokens: Tokens, heat: Temperature) -> TokenReading:
    """``heat`` with its purpose and all that says it again."""
    quantity = heat.quantity
    stated, end = _again(tokens, quantity, heat.end)
    change = quantity.dimension is Dimension.TEMPERATURE_CHANGE
    if change and quantity.unit.system is System.UNKNOWN and (scale := _scale_near(tokens, heat)):
        low, high = (scale.to_base(quantity.unit.from_base(end)) for end in (quantity.low, quantity.high))
        quantity = replace(quantity, low=low, high=high, unit=scale)
    stated = tuple(map(_as_change, stated)) if change else stated
    has_degrees = quantity.unit.system not in {System.UNKNOWN, System.GAS} and not change
    gas = quantity.unit.system is System.GAS
    purpose = (
        Purpose.OVEN
        if gas
        else purpose_of(tokens, heat.first, end, quantity.low if has_degrees else None, change=change)
    )
    unknown = quantity.unit.system is System.UNKNOWN and not change
    kind = Kind.DIFFERENCE if change else Kind.UNREAD if unknown else Kind.TEMPERATURE
    return TokenReading(
        heat.first,
        end,
        kind,
        sides=(quantity,),
        stated=stated,
        purpose=purpose,
        adjective=heat.joined,
        faults=heat.faults,
    )


def _scale_near(tokens: Tokens, heat: Temperature) -> Unit | None:
    """The unit of a change of the nearest heat before it, else of the one behind in its sentence.

    "52 °C, as it climbs another 4 degrees", "within 5 degrees of 145 °F", "to 170 °F. It rises 5 degrees."
    """
    behind = range(heat.first - 1, max(0, heat.first - _FARTHEST), -1)
    for places, most in ((behind, 1), (range(heat.end + 1, min(len(tokens), heat.end + _FARTHEST)), 0)):
        stops = 0
        for place in places:
            stops += tokens.is_stop(place) and tokens[place].text != ";"
            if stops > most:
                break
            unit_found = scale_at(tokens, place) if tokens[place - 1].is_number else None
            if unit_found is not None and unit_found.unit.system in {System.METRIC, System.US}:
                return units()[f"{unit_found.unit.name} (difference)"]
    return None


def _is_change_of(quantity: Quantity, first: Quantity) -> bool:
    """Whether a number of degrees stands beside a point on a scale, which it can't say again."""
    return (first.dimension, quantity.dimension) == (Dimension.TEMPERATURE, Dimension.TEMPERATURE_CHANGE)


def _again(tokens: Tokens, first: Quantity, end: int) -> tuple[tuple[Quantity, ...], int]:
    """What is said again from token ``end`` on, and where it ends."""
    quantities: list[Quantity] = []
    paired = first.written.lower().startswith("between")
    while True:
        place = end
        opened = tokens[place].text in {"(", "["}
        barred = tokens[place].text in _BARS
        joined = tokens[place].text in DASHES | {",", ";"} or tokens[place].low == "or"
        place += opened or barred or joined
        while (joined or opened) and tokens[place].low in _SAYING:
            place += 1
        inside, place = _series(tokens, place, first, opened=opened, paired=paired)
        closed = not opened or tokens[place].text in {")", "]"}
        marked = opened or barred
        if any(_is_change_of(quantity, first) for quantity in inside):
            return tuple(quantities), end  # "220 °F, or 8 °F above the boiling point"
        if (
            not inside
            or not closed
            or not (marked or _is_other(inside[0], (first, *quantities), joined=joined))
        ):
            return tuple(quantities), end
        quantities += inside
        end = place + opened
        if opened and (fan := fan_after(tokens, end)):
            end = fan


def _series(
    tokens: Tokens, at: int, first: Quantity, *, opened: bool, paired: bool
) -> tuple[list[Quantity], int]:
    """Heats one behind another, as brackets hold them; outside brackets one alone."""
    quantities: list[Quantity] = []
    place = at
    while other := heat_at(tokens, place, paired=paired) or _of_moving_air(tokens, place, first):
        quantities.append(other.quantity)
        place = other.end
        more = tokens[place].text in _BARS | {",", ";"} or tokens[place].low in {"or", "and"}
        if not opened or not more:
            break
        place += 1
    return quantities, place


def _of_moving_air(tokens: Tokens, at: int, first: Quantity) -> Temperature | None:
    """A setting of moving air that leaves its scale to the one before it: "200C/180 fan"."""
    leads = tokens[at].low in FAN
    number = number_at(tokens, at + leads)
    if number is None or number.value is None or first.unit.system not in {System.METRIC, System.US}:
        return None
    end = number.end if leads else fan_after(tokens, number.end) or _with_a_fan(tokens, number.end)
    low = first.unit.to_base(number.value)
    if end is None or first.fan or not 0 < first.low - low <= _COOLEST:
        return None
    return Temperature(replace(first, low=low, high=low, written=tokens.between(at, end), fan=True), at, end)


def _with_a_fan(tokens: Tokens, at: int) -> int | None:
    """Where "if it has a fan" ends, if it begins at token ``at``."""
    phrases = (words for words in _WITH_A_FAN if tokens.words(at, *words))
    return next((at + len(words) for words in phrases), None)


def _is_other(quantity: Quantity, said: tuple[Quantity, ...], *, joined: bool) -> bool:
    """Whether a heat without a bracket or a slash before it says the same again: on a scale not yet used.

    Moving air is a scale of its own there; where not even a comma stands between, only a gas mark is.
    """
    if quantity.unit.system is System.UNKNOWN:
        return False
    fresh = all((quantity.unit, quantity.fan) != (other.unit, other.fan) for other in said)
    return fresh and (joined or quantity.unit.system is System.GAS or said[-1].unit.system is System.GAS)


def said_apart(tokens: Tokens, parts: list[TokenReading]) -> list[TokenReading]:
    """``parts`` with one heat where two stand apart for it: "96 °C for 5 minutes, or about 205 °F".

    In brackets too: "205 °F inside (96 °C)", "160 °C (that is 320 °F)".
    """
    heats = [place for place, part in enumerate(parts) if part.kind is Kind.TEMPERATURE]
    for earlier, other in pairwise(heats):
        first, again = parts[earlier], parts[other]
        before = bound_behind(tokens, again.first, limit=True)[1] - 1
        while tokens[before].low in _SAYING - {"or"}:
            before -= 1
        joined = tokens[before - (tokens[before].low in {"at", "to"})].low in {"or", "("}
        if not joined or any(tokens.is_stop(place) for place in range(first.end, again.first)):
            continue
        if first.stated or again.stated or not _is_same(first.sides[0], again.sides[0]):
            continue
        parts[earlier] = replace(first, stated=again.sides)
        parts[other] = replace(again, sides=first.sides, stated=again.sides, purpose=first.purpose)
    return parts


def _is_same(quantity: Quantity, other: Quantity) -> bool:
    """Whether two heats on two scales are one, as near as whole degrees can say it."""
    apart = max(abs(quantity.low - other.low), abs(quantity.high - other.high))
    return quantity.unit is not other.unit and apart <= _A_DEGREE


def _as_change(point: Quantity) -> Quantity:
    """A number of degrees as a difference, where it says one again."""
    if point.dimension is not Dimension.TEMPERATURE or point.unit.system is System.GAS:
        return point
    unit = units()[f"{point.unit.name} (difference)"]
    low, high = (unit.to_base(point.unit.from_base(end)) for end in (point.low, point.high))
    return replace(point, low=low, high=high, unit=unit)


def said_again(tokens: Tokens, end: int, quantity: Quantity) -> tuple[tuple[Quantity, ...], int]:
    """A second number behind a slash, of a setting that names no scale: "180/160 fan"."""
    other = number_at(tokens, end + 1) if tokens[end].text in SLASHES else None
    if other is None or other.value is None:
        return (), end
    fan = fan_after(tokens, other.end)
    return (replace(quantity, low=other.value, high=other.value, fan=fan is not None),), fan or other.end
