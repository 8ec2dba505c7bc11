"""What a drawn ingredient line says: its statements, its food, and whether an editor must ask."""

from dataclasses import dataclass
from fractions import Fraction

MASS = ("gram", "kilogram", "ounce", "pound")
VOLUME = (
    "millilitre", "centilitre", "decilitre", "litre", "teaspoon", "tablespoon",
    "cup", "fluid ounce", "pint", "quart", "gill",
)  # fmt: skip
LENGTH = ("inch", "centimetre")
CONTAINERS = (
    "can",
    "tin",
    "jar",
    "package",
    "packet",
    "pack",
    "block",
    "sachet",
    "envelope",
    "carton",
    "bag",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """One amount of a line; `unit` is the full English singular, `whole` for a count of the food itself.

    A sum is two or more statements with the role `main`; a term taken away has negative ends. A line without
    an amount has one statement of the kind `none` with both ends 0; a figure that measures nothing is a
    statement of the kind `none` with that figure.
    """

    kind: str
    low: Fraction
    high: Fraction
    unit: str
    high_unit: str = ""
    of: str = "all"
    bound: str = "exactly"
    role: str = "main"


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A line in words together with the meaning it was drawn from; `kind` names the construction."""

    text: str
    kind: str
    statements: tuple[Statement, ...]
    food: str
    asked: bool = False


def kind_of(unit: str) -> str:
    """Return the kind of a full unit name; a piece word or `whole` is a count, no unit is `none`."""
    for kind, units in (("mass", MASS), ("volume", VOLUME), ("length", LENGTH), ("container", CONTAINERS)):
        if unit in units:
            return kind
    return "count" if unit else "none"


def say(
    low: Fraction | int,
    unit: str,
    *,
    high: Fraction | int | None = None,
    high_unit: str = "",
    of: str = "all",
    bound: str = "exactly",
    role: str = "main",
) -> Statement:
    """Return the statement of `low` to `high` units; without `high`, both ends are `low`."""
    return Statement(
        kind=kind_of(unit),
        low=Fraction(low),
        high=Fraction(low if high is None else high),
        unit=unit,
        high_unit=high_unit,
        of=of,
        bound=bound,
        role=role,
    )


NOTHING = say(0, "")
