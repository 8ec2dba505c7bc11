"""Facts about one line that several checks ask for: its weight, its sizes, what it mainly does."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from cardsmith.language.sentences import readings
from cardsmith.language.spans import Kind
from cardsmith.measure.larder import Food
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, units
from cardsmith.recipe.model import Ingredient

PRACTICE = "common practice, no source"
CLASSES = (  # by the role a food mainly acts in; house.yaml has the limits
    ("cure", ("curing-salt",)),
    ("leavener", ("soda", "baking-powder", "leavener")),
    ("yeast", ("yeast-instant", "yeast-active-dry", "yeast-fresh")),
    ("setting", ("gelatine", "agar", "pectin")),
    ("seasoning", ("spice", "herb", "flavouring", "condiment")),
    ("salt", ("salt",)),
    (
        "governing",
        ("flour", "starch", "sugar", "butter", "oil", "egg", "egg-white", "egg-yolk", "milk", "cream"),
    ),
)
LARGE = units()["cup"].size / 4  # from here on a thing is measured by the cup


@lru_cache(maxsize=4096)
def tolerance_class(food: Food) -> str:
    """The house's class of tolerance for a food, by what it mainly does."""
    for name, roles in CLASSES:
        if any(food.share(role) > Fraction(1, 2) for role in roles):
            return name
    return "other"


def sizes(line: Ingredient) -> tuple[Quantity, ...]:
    """Every size written for the line's amount."""
    return (line.amount, *line.stated) if line.amount is not None else line.stated


def acidities(line: Ingredient) -> tuple[Fraction, ...]:
    """The strengths that a line of vinegar gives, in per cent."""
    sour = {"", "acidity", "acid", "vinegar"}
    return tuple(
        one.high
        for one in readings(line.text)
        if one.kind in (Kind.PERCENT, Kind.NAME) and sour & {one.noun, *one.noun.split()}
    )


def only_volume(line: Ingredient) -> Quantity | None:
    """The volume of a line that has no weight and no count beside it."""
    if line.amount is None or line.amount.dimension is not Dimension.VOLUME or line.amount.is_vague:
        return None
    return None if any(one.dimension is not Dimension.VOLUME for one in line.stated) else line.amount
