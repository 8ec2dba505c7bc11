"""Unit words and exact unit sizes, from ``reference/units.csv``, the one table of them.

A size is what pint works out from the unit's definition, to the last digit (``tests/measure/test_units.py``),
kept so that no command waits for it to load. It converts what only a works asks for (``pint_units.py``).
"""

from __future__ import annotations

import enum
from fractions import Fraction
from functools import cache

from cardsmith.frozen import frozen
from cardsmith.reference import table


@enum.unique
class Dimension(enum.StrEnum):
    """What a unit measures; the base unit of each is in brackets."""

    MASS = "mass"  # gram
    VOLUME = "volume"  # millilitre
    COUNT = "count"  # one
    LENGTH = "length"  # millimetre
    DURATION = "duration"  # second
    TEMPERATURE = "temperature"  # degree Celsius, a point on the scale
    TEMPERATURE_CHANGE = "temperature change"  # degree Celsius, a difference
    PRESSURE = "pressure"  # kilopascal, above that of the air around
    POWER = "power"  # watt
    ENERGY = "energy"  # kilojoule
    RATIO = "ratio"  # one; a percent is a hundredth


WEIGHED = frozenset({Dimension.MASS, Dimension.VOLUME})  # what a scale or a cup measures of a food
# The base unit of each dimension, in which an exact value is shown.
BASES = {
    Dimension.MASS: "g",
    Dimension.VOLUME: "ml",
    Dimension.COUNT: "",
    Dimension.LENGTH: "mm",
    Dimension.DURATION: "s",
    Dimension.TEMPERATURE: "°C",
    Dimension.TEMPERATURE_CHANGE: "°C",
    Dimension.PRESSURE: "kPa",
    Dimension.POWER: "W",
    Dimension.ENERGY: "kJ",
    Dimension.RATIO: "",
}


@enum.unique
class System(enum.StrEnum):
    """Where a unit belongs. ``ANY`` fits both columns; the last three need a question or a look-up."""

    US = "us"
    METRIC = "metric"
    IMPERIAL = "imperial"
    AUSTRALIAN = "australian"
    ANY = "any"
    CONTAINER = "container"  # a can, a packet: needs the size of one
    VAGUE = "vague"  # a pinch, a knob: no agreed size
    GAS = "gas"  # gas mark: a row of the oven table
    UNKNOWN = "unknown"  # a temperature without its scale


# The two columns of a card: whose units stand in each, and what it is called.
COLUMNS = {"us": System.US, "metric": System.METRIC}
COLUMN_NAMES = {"us": "US", "metric": "metric"}


FAHRENHEIT = "degree Fahrenheit"
SIZED = "sized piece"  # known by its length, from which no weight follows
BELOW, NONE = Fraction(-160, 9), Fraction(0)


@frozen
class Unit:
    """One unit; ``size`` is exact, in base units of its dimension."""

    name: str
    plural: str
    symbol: str
    dimension: Dimension
    system: System
    size: Fraction
    source: str

    @property
    def offset(self) -> Fraction:
        """What a temperature point adds after scaling, in °C: 0 °F is -160/9 °C (NIST SP 811, B.8)."""
        return BELOW if self.name == FAHRENHEIT else NONE

    def to_base(self, value: Fraction) -> Fraction:
        """``value`` of this unit in base units, exactly."""
        return value * self.size + BELOW if self.name == FAHRENHEIT else value * self.size

    def from_base(self, value: Fraction) -> Fraction:
        """A value in base units as so many of this unit, exactly."""
        return (value - BELOW) / self.size if self.name == FAHRENHEIT else value / self.size

    def __hash__(self) -> int:
        """By the name alone, so that what is worked out for a unit is quickly found again."""
        return hash(self.name)


@frozen
class UnitWord:
    """A spelling and what it means; a ``doubtful`` one (t) is read, and asked about."""

    word: str
    unit: Unit
    doubtful: bool


@cache
def units() -> dict[str, Unit]:
    """Every unit by its name."""
    by_name: dict[str, Unit] = {}
    for row in table("units"):
        if row["name"] in by_name:
            raise ValueError(f"units.csv names {row['name']!r} twice")
        if not row["source"]:
            raise ValueError(f"units.csv gives no source for {row['name']!r}")
        by_name[row["name"]] = Unit(
            name=row["name"],
            plural=row["plural"],
            symbol=row["symbol"],
            dimension=Dimension(row["dimension"]),
            system=System(row["system"]),
            size=Fraction(row["size"]),
            source=row["source"],
        )
    # A difference of temperature has its degree's size and no offset ("25 °F lower").
    for name in ("degree Celsius", "degree Fahrenheit", "degree"):
        point = by_name[name]
        by_name[f"{name} (difference)"] = Unit(
            name=f"{name} (difference)",
            plural=point.plural,
            symbol=point.symbol,
            dimension=Dimension.TEMPERATURE_CHANGE,
            system=point.system,
            size=point.size,
            source=point.source,
        )
    return by_name


@cache
def unit_words(measures: System = System.US) -> dict[str, UnitWord]:
    """Every spelling of a unit of amount, by the measuring set in use: what a bare cup or pint means.

    ``measures`` is US, IMPERIAL or AUSTRALIAN; its own units take over every spelling of the US ones, so
    that ``tbl`` is never another spoon than ``tbsp``. Temperatures have `temperature_words`, since ``C``
    is a cup in a list and a scale in a step.
    """
    by_name: dict[str, UnitWord] = {}
    own = {
        row["words"].split("|")[0]: units()[row["name"]]
        for row in table("units")
        if row["system"] == measures
    }
    for row in table("units"):
        unit = units()[row["name"]]
        if unit.dimension is Dimension.TEMPERATURE:
            continue
        if unit.system is System.US:
            unit = own.get(row["words"].split("|")[0], unit)
        for column, doubtful in (("words", False), ("doubtful_words", True)):
            for word in filter(None, row[column].split("|")):
                if word not in by_name or unit.system is measures:
                    by_name[word] = UnitWord(word=word, unit=unit, doubtful=doubtful)
    return by_name


@cache
def spoken(unit: Unit) -> Unit:
    """The unit by whose words another market's cup or spoon goes: a metric cup is said as a cup is."""
    if unit.system not in (System.IMPERIAL, System.AUSTRALIAN):
        return unit
    row = next(unit_row for unit_row in table("units") if unit_row["name"] == unit.name)
    return units().get(row["words"].split("|")[0], unit)


@cache
def temperature_words() -> dict[str, UnitWord]:
    """Every spelling of a temperature scale; ``degree`` stands for a scale that was left out."""
    return {
        word: UnitWord(word=word, unit=units()[row["name"]], doubtful=False)
        for row in table("units")
        if row["dimension"] == Dimension.TEMPERATURE
        for word in row["words"].split("|")
    }
