"""Facts about one line that several checks ask for: its weight, its sizes, what it mainly does."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from cardsmith.measure.larder import Food
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, units
from cardsmith.measure.weighing import density, weight_of_one
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Mass:
    """What a line weighs, in grams; low and high cover the range written and the ways to fill a cup."""

    grams: Fraction
    low: Fraction
    high: Fraction
    basis: str  # "weighed", or the larder's row


def weigh(line: Ingredient, given: Quantity) -> Mass | None:
    """What ``given``, one of the sizes of ``line``, weighs; None where the larder cannot tell.

    A vague measure of volume (a pinch) counts at the size the trade gives it; a knob has none.
    """
    if given.dimension is Dimension.MASS:
        return Mass(grams=given.middle, low=given.low, high=given.high, basis="weighed")
    if line.food is None:
        return None
    if given.dimension is Dimension.VOLUME:
        one = density(line.food, line.form)
    elif given.dimension is Dimension.COUNT and not given.is_vague and line.container is None:
        one = weight_of_one(line.food, given.unit.name, line.size)
    else:
        return None
    if one is None:
        return None
    return Mass(
        grams=given.middle * one.grams, low=given.low * one.low, high=given.high * one.high, basis=one.basis
    )


def tolerance_class(food: Food) -> str:
    """The house's class of tolerance for a food, by what it mainly does."""
    for name, roles in CLASSES:
        if any(food.share(role) > Fraction(1, 2) for role in roles):
            return name
    return "other"


def sizes(line: Ingredient) -> tuple[Quantity, ...]:
    """Every size written for the line's amount."""
    return (line.amount, *line.stated) if line.amount is not None else line.stated


def only_volume(line: Ingredient) -> Quantity | None:
    """The volume of a line that has no weight and no count beside it."""
    if line.amount is None or line.amount.dimension is not Dimension.VOLUME or line.amount.is_vague:
        return None
    return None if any(one.dimension is not Dimension.VOLUME for one in line.stated) else line.amount
