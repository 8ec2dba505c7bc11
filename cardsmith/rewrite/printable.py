"""The ways one amount of one food may be printed in each system, each with its error and cost."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from cardsmith.house import House
from cardsmith.measure.larder import Food
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System, Unit
from cardsmith.measure.weighing import Weighing, density, weight_of_one
from cardsmith.recipe.model import Container, Ingredient
from cardsmith.recipe.weighed import is_ready, measured_form
from cardsmith.rewrite.card import Printed
from cardsmith.rewrite.ladder import (
    Candidate,
    butter_volumes,
    fine_volumes,
    metric,
    metric_number,
    near,
    us_volumes,
    us_weights,
)

# What the whole tolerance used up costs, in scoops. A scale reads any number as easily as a round one,
# so in metric the nearest number wins unless a ratio needs another.
US_ERROR_COST = Fraction(3, 2)
METRIC_ERROR_COST = Fraction(4)
CUP, KITCHEN_CUP = Fraction("236.5882365"), Fraction(240)  # NIST Metric Cooking prints a cup as 240 ml
# The first class one of whose roles a food mostly acts in; what has none is "other".
CLASSES = (
    ("cure", ("curing-salt",)),
    ("salt", ("salt",)),
    ("leavener", ("soda", "baking-powder", "leavener")),
    ("yeast", ("yeast-instant", "yeast-active-dry", "yeast-fresh")),
    ("setting", ("gelatine", "agar", "pectin")),
    ("seasoning", ("spice", "herb", "flavouring")),
    (
        "other",
        (
            "vegetable",
            "fruit",
            "meat",
            "poultry",
            "fish",
            "shellfish",
            "allium",
            "nut",
            "cheese",
            "condiment",
        ),
    ),
    (
        "governing",
        ("flour", "starch", "sugar", "fat", "butter", "oil", "milk", "cream", "buttermilk", "liquid"),
    ),
    ("governing", ("egg", "egg-white", "egg-yolk", "water", "cocoa", "chocolate", "levain")),
    ("acid", ("acid",)),
)
EXACTING = frozenset({"cure", "salt", "leavener", "yeast", "setting", "acid"})
MAIN_SHARE = Fraction(1, 2)
# What scales show: a jeweller's below 5 g, a kitchen scale above (grams).
SCALE = ((Fraction(5), Fraction(1, 10)), (Fraction(10), Fraction(1, 2)), (Fraction(1000), Fraction(1)))
KITCHEN_SCALE = Fraction(5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One amount to print: exact, in base units of its dimension, and of what.

    ``ready`` says that a count is of what is eaten (2 peeled oranges); else it is of what is bought.
    ``count`` and ``container`` are the author's where pieces or cans were written beside the weight;
    ``stated`` holds the volume written beside a weight, which the US column prefers.
    """

    exact: Fraction
    dimension: Dimension
    unit: Unit  # the author's
    food: Food | None
    form: str = ""
    size: str = ""
    ready: bool = False
    count: Quantity | None = None
    container: Container | None = None
    stated: Quantity | None = None

    def times(self, factor: Fraction) -> Subject:
        """The amount scaled, exactly. A can is not cut in two: its weight takes over."""
        return replace(
            self,
            exact=self.exact * factor,
            count=self.count.times(factor) if self.count else None,
            container=None,
            stated=self.stated.times(factor) if self.stated else None,
        )

    @property
    def density(self) -> Weighing | None:
        """Grams per millilitre, where the larder knows it."""
        return density(self.food, self.form) if self.food else None

    @property
    def one(self) -> Weighing | None:
        """Grams of one, where the larder knows it."""
        return weight_of_one(self.food, self.unit.name, self.size) if self.food else None

    @property
    def grams_of_one(self) -> Fraction | None:
        """What one weighs as the line counts it: bought, with peel and core, or ready to eat."""
        one = self.one
        return (one.grams if self.ready else one.bought) if one else None

    @property
    def role_class(self) -> str:
        """The class of tolerance: governing, leavener, salt, seasoning …"""
        return role_class(self.food)

    @property
    def in_us_units(self) -> bool:
        """Whether the author measured in ounces, cups or spoons."""
        return self.unit.system is System.US


@dataclass(frozen=True, slots=True, kw_only=True)
class Printable:
    """One way to print a subject; ``value`` is in the subject's own base units."""

    printed: Printed
    value: Fraction
    error: Fraction
    cost: Fraction


@lru_cache(maxsize=4096)
def role_class(food: Food | None) -> str:
    """Which tolerance of the house a food falls under."""
    if food is None:
        return "other"
    for name, roles in CLASSES:
        if any(food.share(role) >= MAIN_SHARE for role in roles):
            return name
    return "other"


def subject_of(amount: Quantity, line: Ingredient) -> Subject:
    """What there is to print for ``amount`` of the ingredient on ``line``."""
    whole = amount == line.amount
    beside = line.stated if whole else ()
    return Subject(
        exact=amount.low,
        dimension=amount.dimension,
        unit=amount.unit,
        food=line.food,
        form=measured_form(line),
        size=line.size_sold,
        ready=is_ready(line),
        count=next((one for one in beside if one.dimension is Dimension.COUNT and not one.is_range), None),
        container=line.container if whole and line.container and line.container.each else None,
        stated=next((one for one in beside if one.dimension is Dimension.VOLUME and not one.is_range), None),
    )


def us_printables(subject: Subject, house: House, spread: Fraction) -> tuple[Printable, ...]:
    """Every US expression within ``spread`` of the subject; none where no measure comes near enough."""
    sold = subject.food.us_print if subject.food else ""
    if subject.dimension is Dimension.VOLUME:
        return _us_volumes(subject, house, spread, Fraction(1))
    per_ml = subject.density.grams if subject.density else None
    by_weight = per_ml is None or sold == "weight" or subject.in_us_units
    if subject.stated and per_ml and subject.stated.unit.system is System.US:
        by_weight = False
    if by_weight or per_ml is None:
        weights = near(us_weights(house.ladders), subject.exact, spread)
        return tuple(_weight(subject, one, spread) for one in weights)
    return _us_volumes(subject, house, spread, per_ml)


def _us_volumes(subject: Subject, house: House, spread: Fraction, per_ml: Fraction) -> tuple[Printable, ...]:
    stated = subject.stated.low if subject.stated else None
    ladder = us_volumes(house.ladders)
    if subject.food is not None and subject.food.share("butter") >= MAIN_SHARE:
        ladder = butter_volumes(house.ladders)
    elif subject.role_class in EXACTING:
        ladder = fine_volumes(house.ladders)
    own = subject.exact if subject.in_us_units and subject.dimension is Dimension.VOLUME else None
    found = near(ladder, subject.exact / per_ml, spread)
    return tuple(
        _printable(
            subject,
            one,
            Dimension.VOLUME,
            per_ml,
            US_ERROR_COST / spread,
            preferred=one.value in (stated, own),
        )
        for one in found
    )


def _weight(subject: Subject, one: Candidate, spread: Fraction) -> Printable:
    own = subject.in_us_units and one.value == subject.exact
    return _printable(subject, one, Dimension.MASS, Fraction(1), US_ERROR_COST / spread, preferred=own)


def metric_printables(subject: Subject, house: House, spread: Fraction) -> tuple[Printable, ...]:
    """Metric numbers within ``spread`` of the subject, always at least the nearest ones.

    A liquid measured in US volumes may print by the kitchen cup of 240 ml, as NIST does.
    """
    ladders, dense = house.ladders, subject.density
    weighed = subject.dimension is Dimension.MASS
    liquid = subject.food is None or subject.food.state == "liquid"
    each = METRIC_ERROR_COST / spread
    if weighed or (dense and not liquid):
        per_gram = Fraction(1) if weighed or not dense else 1 / dense.grams
        numbers = metric(subject.exact / per_gram, ladders.gram, "gram", "kilogram", spread)
        own = _as_weighed(subject)
        return tuple(
            _printable(subject, one, Dimension.MASS, per_gram, each, preferred=one == own)
            for one in dict.fromkeys((*numbers, *filter(None, (own,))))
        )
    kitchen = subject.exact * KITCHEN_CUP / CUP if subject.in_us_units else None
    numbers = metric(subject.exact, ladders.millilitre, "millilitre", "litre", spread)
    return tuple(
        _printable(subject, one, Dimension.VOLUME, Fraction(1), each, preferred=one.value == kitchen)
        for one in numbers
    )


def _as_weighed(subject: Subject) -> Candidate | None:
    """The author's own weight, where a kitchen scale shows it: 113 g stays 113 g, 169.5 g does not."""
    if subject.dimension is not Dimension.MASS or subject.unit.system is not System.METRIC:
        return None
    step = next((step for to, step in SCALE if subject.exact < to), KITCHEN_SCALE)
    if subject.exact % step:
        return None
    return metric_number(subject.exact, step, "gram", "kilogram")


def by_weight_only(subject: Subject, house: House) -> Printable:
    """The metric weight, for the US column where no spoon comes near enough."""
    return min(metric_printables(subject, house, Fraction(1, 20)), key=lambda one: abs(one.error))


def _off(printed: Fraction, exact: Fraction) -> Fraction:
    """Printed over exact, less one; in whole numbers, since every candidate of every amount is asked."""
    over, under = printed.numerator * exact.denominator, exact.numerator * printed.denominator
    return Fraction(over - under, under)


def _printable(
    subject: Subject,
    one: Candidate,
    dimension: Dimension,
    per_base: Fraction,
    error_cost: Fraction,
    *,
    preferred: bool = False,
) -> Printable:
    """``per_base`` turns the candidate's base unit into the subject's: g per ml, ml per g, or 1."""
    value = one.value if per_base == 1 else one.value * per_base
    error = _off(value, subject.exact)
    printed = Printed(
        text=one.short,
        low=one.value,
        high=one.value,
        dimension=dimension,
        long=one.long,
    )
    cost = Fraction(0) if preferred else one.cost + error_cost * abs(error)
    return Printable(printed=printed, value=value, error=error, cost=cost)
