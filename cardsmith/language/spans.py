"""What a text says, piece by piece: the spans of a field, which joined are its text.

Each numeral of a text lies in exactly one span, which says what it measures. A number with a unit is
`Measured`; one without (a count, a step's number, a share) is `Told`; one that lacks its unit or its scale
is `Unread`, which a finding quotes. `Told` and `Unread` are words too: they print as they stand.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.measure.quantity import Quantity


@enum.unique
class Kind(enum.StrEnum):
    """What a numeral is."""

    AMOUNT = "amount"  # of food: a mass, a volume, a vague measure
    TEMPERATURE = "temperature"  # a point on a scale
    DIFFERENCE = "difference"  # of temperature
    DURATION = "duration"
    CLOCK = "clock"  # a time of day
    LENGTH = "length"
    VESSEL = "vessel"  # the size of a pan, a dish, a jar
    PRESSURE = "pressure"
    ALTITUDE = "altitude"
    POWER = "power"
    ENERGY = "energy"
    PERCENT = "percent"
    RATIO = "ratio"  # a share of a thing, or parts of two
    TIMES = "times"  # how often
    COUNT = "count"  # of things that can be counted
    REFERENCE = "reference"  # step 3, a No. 10 tip, a year
    NAME = "name"  # part of a name or a turn of phrase: 70 % chocolate, one more thing
    UNREAD = "unread"


@enum.unique
class Purpose(enum.StrEnum):
    """What a temperature is for; each has its own rule of rounding."""

    OVEN = "oven"
    FAT = "fat"
    SYRUP = "syrup"
    CORE = "core"  # the middle of the food, whatever it cooks in
    BATH = "bath"  # a water bath held at a temperature
    REFRIGERATOR = "refrigerator"
    FREEZER = "freezer"
    HOLDING = "holding"  # kept hot or cold for safety, whatever keeps it
    DOUGH = "dough"
    PROOF = "proof"  # where dough rises
    ROOM = "room"
    MILK = "milk"
    CUSTARD = "custard"
    CHOCOLATE = "chocolate"
    WATER = "water"
    SMOKER = "smoker"
    GRILL = "grill"
    PAN = "pan"
    OTHER = "other"


@enum.unique
class Share(enum.StrEnum):
    """Whether a size given beside a count is that of one or of all."""

    ALL = "all"
    EACH = "each"


COLD = frozenset({Purpose.REFRIGERATOR, Purpose.FREEZER})
KEEPING = COLD | {Purpose.HOLDING}


@frozen
class Words:
    """Plain text with its emphasis; a line break in the source is a space."""

    text: str
    emphasis: str = ""  # "", "em" or "strong"


@frozen
class Told(Words):
    """A number that is read and prints as it stands: a count, a reference, a share, how often."""

    kind: Kind
    low: Fraction
    high: Fraction
    noun: str = ""  # what is counted, as written: "wedges"


@frozen
class Unread(Words):
    """A number that lacks what it needs to mean one thing."""

    low: Fraction
    high: Fraction
    purpose: Purpose | None = None  # of a heat without its scale
    noun: str = ""  # the food or the thing beside it
    instead: str = ""  # what to write


@frozen
class Protected:
    """A code span: stays as it is, numbers and all."""

    text: str


@frozen
class Measured:
    """A measure in running text with everything that was given beside it ("160 °C (325 °F)").

    ``sides`` holds the quantities of a size with several edges (``9 by 13 inches``), else one.
    """

    where: Where
    text: str  # as written, all of it
    sides: tuple[Quantity, ...]
    stated: tuple[Quantity, ...] = ()  # the same again in other units or scales
    kind: Kind = Kind.AMOUNT
    purpose: Purpose | None = None  # for temperatures
    adjective: bool = False  # "a 9-inch pan", "2-cm dice"
    noun: str = ""  # what it measures, as written: "oil", "baking pan"
    says_bound: bool = False  # its bound stands inside it ("1 heaping cup"), not in the words around it
    behind: str = ""  # its words that print behind it: "1 packed cup", "1-inch-thick (2.5 cm)"

    @property
    def quantity(self) -> Quantity:
        """The first (mostly the only) side."""
        return self.sides[0]

    def said_again(self) -> Iterator[tuple[Quantity, ...]]:
        """What is stated beside it, with as many sides."""
        edges = len(self.sides)
        for at in range(0, len(self.stated) - edges + 1, edges):
            yield self.stated[at : at + edges]


@frozen
class Draw:
    """A link to an ingredient: an amount of it, the rest of it, or (neither) just its name."""

    where: Where
    text: str
    key: str
    amount: Quantity | None = None
    share: Fraction | None = None  # "half", "a third" of what is listed
    rest: bool = False
    alone: bool = False  # so much of a line that no draws divide: it needn't add up to anything


Span = Words | Protected | Measured | Draw
