"""What was done and found at the bench, as immutable values, without judgement."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import field
from fractions import Fraction

from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.measure.quantity import Quantity
from cardsmith.recipe.model import Ingredient, Part, Text

SAME_SETTING = Fraction(3)  # °C: the steps of an oven's dial in the two scales differ by as much


@enum.unique
class Verb(enum.StrEnum):
    """What a change does to the formula it starts from."""

    AMOUNT = "amount"
    ADD = "add"
    WITHOUT = "without"
    SWAP = "swap"  # one thing instead of another
    METHOD = "method"  # the formula stays; the method changes


@frozen
class TrialChange:
    """One thing that differs from the trial before. ``before`` and ``after`` are None where there is none."""

    where: Where
    text: str
    verb: Verb
    before: Ingredient | None = None
    after: Ingredient | None = None


@frozen
class Measurement:
    """One measured value: exact, in g, mm, °C, one, or a share of one for per cent."""

    where: Where
    text: str
    value: Fraction


@frozen
class Clocked:
    """One entry of the log; ``minute`` counts from the first midnight, None where no clock was read."""

    where: Where
    text: str  # without the clock time
    minute: int | None


@frozen
class Oven:
    """Which oven, and by how many °C it is hotter than its dial says: below nothing, cooler."""

    name: str = ""
    set: Quantity | None = None
    offset: Fraction | None = None
    fan: bool | None = None

    @property
    def dial(self) -> Fraction | None:
        """What was set, in °C."""
        return self.set.middle if self.set is not None else None

    def is_set_like(self, other: Oven) -> bool:
        """Whether two were set alike: by the dial, or to one true heat where their ovens differ.

        Nothing is held against what isn't recorded.
        """
        dials, heats = (self.dial, other.dial), (self.heat, other.heat)
        if dials[0] is None or dials[1] is None or abs(dials[0] - dials[1]) <= SAME_SETTING:
            return True
        return heats[0] is not None and heats[1] is not None and abs(heats[0] - heats[1]) <= SAME_SETTING

    @property
    def heat(self) -> Fraction | None:
        """How hot it truly was, in °C: dial and offset; None where either is unknown."""
        return self.dial + self.offset if self.dial is not None and self.offset is not None else None


@frozen
class Trial:
    """One dated bench test. ``parts`` is its whole formula, also where only changes were written."""

    where: Where
    number: int
    date: str  # year-month-day
    parts: tuple[Part, ...]
    cook: str = ""
    kitchen: str = ""
    expect: str = ""
    room_temperature: Quantity | None = None
    humidity: Fraction | None = None  # a share of one
    oven: Oven = Oven()
    parent: int | None = None
    changes: tuple[TrialChange, ...] = ()
    why: str = ""
    process: tuple[Clocked, ...] = ()
    measured: Mapping[str, Measurement] = field(default_factory=dict, hash=False)
    colour: str = ""
    texture: str = ""
    photos: tuple[Text, ...] = ()
    panel: tuple[tuple[str, str], ...] = ()  # who, and what was said
    call: str = ""  # drop, keep or settle; empty while open
    faults: tuple[Text, ...] = ()
    verdict: str = ""
    next: str = ""
    cooked_from: str = ""  # metric, us or empty
    card: str = ""  # the mark of the card it was cooked from
    unclear: tuple[Text, ...] = ()  # what the cook stumbled over

    @property
    def ingredients(self) -> tuple[Ingredient, ...]:
        """All lines of all parts."""
        return tuple(line for part in self.parts for line in part.ingredients)

    @property
    def is_repeat(self) -> bool:
        """Whether it makes another trial's formula again, unchanged."""
        return self.parent is not None and not self.changes

    def value(self, name: str) -> Fraction | None:
        """A measured value by its name in ``bench_measures.csv``."""
        reading = self.measured.get(name)
        return reading.value if reading else None


@enum.unique
class FactorKind(enum.StrEnum):
    """What a factor is an amount of."""

    FOOD = "food"
    HEAT = "heat"  # true heat: the dial with the oven's offset
    TIME = "time"  # in the heat


@frozen
class Factor:
    """What differs from trial to trial; with ``low`` and ``high``, how far the cook would change it."""

    name: str  # water; rye flour for all-purpose flour; true heat; bake time
    kind: FactorKind
    line: Ingredient | None = None  # of a food
    instead: Ingredient | None = None  # the food that makes room for it
    low: Fraction | None = None  # in g, °C, minutes
    high: Fraction | None = None

    @property
    def unit(self) -> str:
        """The unit it is told in."""
        return {FactorKind.FOOD: "g", FactorKind.HEAT: "°C", FactorKind.TIME: "min"}[self.kind]

    @property
    def is_allowed(self) -> bool:
        """Whether the cook says that she would change it."""
        return self.high is not None


@frozen
class Result:
    """What one taster said of one sample, or in one test."""

    where: Where
    taster: int
    code: str = ""
    picked: str = ""
    liking: int | None = None
    just_right: Mapping[str, int] = field(default_factory=dict, hash=False)
    words: str = ""


BOUGHT = 0  # among the trials of a tasting: the product that teardown.yaml takes apart


@frozen
class Tasting:
    """One session: which trials or the bought one, which test, how many tasters, and what came back."""

    where: Where
    name: str
    test: str
    trials: tuple[int, ...]
    tasters: int
    seed: str
    date: str = ""
    question: str = ""
    attributes: tuple[str, ...] = ()
    results: tuple[Result, ...] = ()


@frozen
class Trials:
    """One recipe's ``trials.yaml``."""

    where: Where
    name: str  # of the recipe
    trials: tuple[Trial, ...]
    tastings: tuple[Tasting, ...] = ()
    moisture_aim: Fraction | None = None  # a share of one
    plotted: str = ""  # a measure's name
    lever: str = ""  # an ingredient's name
    target: Fraction | None = None  # what the measure should be
    allowed: tuple[Factor, ...] = ()  # what the cook would change, and how far
    source: str = field(default="", repr=False, compare=False)

    def get(self, number: int) -> Trial | None:
        """The trial of a number."""
        return next((trial for trial in self.trials if trial.number == number), None)

    def makes(self, trial: Trial) -> tuple[Trial, ...]:
        """Every make of one formula: the trial that first had it, and its repeats; in the order made.

        What was baked at another setting is no repeat: nobody made the same thing again.
        """
        first = self._first(trial)
        return tuple(trial for trial in self.trials if self._first(trial) == first)

    def _first(self, trial: Trial) -> int:
        parent = self.get(trial.parent) if trial.is_repeat and trial.parent is not None else None
        same = parent is not None and trial.oven.is_set_like(parent.oven)
        return self._first(parent) if parent is not None and same else trial.number

    def tasting(self, name: str) -> Tasting | None:
        """The tasting of a name."""
        return next((tasting for tasting in self.tastings if tasting.name == name), None)
