"""The ways one amount of one food may be printed in each system, each with its error and cost."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from cardsmith.house import House
from cardsmith.measure.larder import Food
from cardsmith.measure.units import Dimension, System, Unit
from cardsmith.measure.weighing import Weighing, density, weight_of_one
from cardsmith.rewrite.card import Printed
from cardsmith.rewrite.ladder import Candidate, metric, near, us_volumes, us_weights
from cardsmith.rewrite.wording import NO_BREAK, fraction_text, terms_text

ERROR_COST = Fraction(1, 2)  # the whole tolerance used up costs as much as half a scoop
# The first class whose role a food has; what has none of these is "other".
CLASSES = (
    ("cure", ("curing-salt",)),
    ("salt", ("salt",)),
    ("leavener", ("soda", "baking-powder", "leavener")),
    ("yeast", ("yeast-instant", "yeast-active-dry", "yeast-fresh")),
    ("setting", ("gelatine", "agar", "pectin")),
    ("other", ("vegetable", "fruit", "meat", "poultry", "fish", "shellfish", "allium", "nut", "cheese")),
    (
        "governing",
        ("flour", "starch", "sugar", "fat", "butter", "oil", "milk", "cream", "buttermilk", "liquid"),
    ),
    ("governing", ("egg", "egg-white", "egg-yolk", "water", "cocoa", "chocolate", "levain")),
    ("seasoning", ("spice", "herb", "flavouring")),
    ("acid", ("acid",)),
)
MAIN_SHARE = Fraction(1, 2)  # a role counts for the class where at least half of the food acts in it


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One amount to print: exact, in base units of its dimension, and of what."""

    exact: Fraction
    dimension: Dimension
    unit: Unit  # the author's
    food: Food | None
    form: str = ""
    size: str = ""

    def times(self, factor: Fraction) -> Subject:
        """The amount scaled, exactly."""
        return replace(self, exact=self.exact * factor)

    @property
    def density(self) -> Weighing | None:
        """Grams per millilitre, where the larder knows it."""
        return density(self.food, self.form) if self.food else None

    @property
    def one(self) -> Weighing | None:
        """Grams of one, where the larder knows it."""
        return weight_of_one(self.food, self.unit.name, self.size) if self.food else None

    @property
    def role_class(self) -> str:
        """The class of tolerance: governing, leavener, salt, seasoning …"""
        if self.food is None:
            return "other"
        shares = self.food.roles
        for name, roles in CLASSES:
            if any(shares.get(role, 0) >= MAIN_SHARE for role in roles):
                return name
        return "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class Printable:
    """One way to print a subject; ``value`` is in the subject's own base units."""

    printed: Printed
    value: Fraction
    error: Fraction
    cost: Fraction


def tolerance(subject: Subject, house: House) -> Fraction:
    """How far a printed amount may stand from the author's, as a share."""
    return house.tolerances[subject.role_class]


def _printable(
    subject: Subject, one: Candidate, dimension: Dimension, per_base: Fraction, spread: Fraction
) -> Printable:
    """``per_base`` turns the candidate's base unit into the subject's: g per ml, ml per g, or 1."""
    value = one.value * per_base
    error = value / subject.exact - 1
    text = terms_text(one.terms)
    return Printable(
        printed=Printed(
            text=text,
            low=one.value,
            high=one.value,
            dimension=dimension,
            long=terms_text(one.terms, long=True),
        ),
        value=value,
        error=error,
        cost=one.cost + ERROR_COST * abs(error) / spread,
    )


def us_printables(subject: Subject, house: House, spread: Fraction) -> tuple[Printable, ...]:
    """Every US expression within ``spread`` of the subject; none where no measure comes near enough."""
    if subject.dimension is Dimension.COUNT:
        return (_count(subject, subject.exact, Fraction(1)),)
    ladders = house.ladders
    food, weighed = subject.food, subject.dimension is Dimension.MASS
    sold = food.us_print if food else ("weight" if weighed else "volume")
    found: list[Printable] = []
    if weighed and sold == "count":
        found += _counts(subject, spread)
    per_ml = _per_ml(subject)
    by_cup = sold == "volume" or subject.unit.system is System.US or (sold == "count" and not found)
    if per_ml and by_cup and not (weighed and sold == "weight"):
        volumes = near(us_volumes(ladders), subject.exact / per_ml, spread)
        found += [_printable(subject, one, Dimension.VOLUME, per_ml, spread) for one in volumes]
    if weighed and (sold == "weight" or per_ml is None or (sold == "count" and not found)):
        weights = near(us_weights(ladders), subject.exact, spread)
        found += [_printable(subject, one, Dimension.MASS, Fraction(1), spread) for one in weights]
    return tuple(found)


def metric_printables(subject: Subject, house: House, spread: Fraction) -> tuple[Printable, ...]:
    """Metric numbers within ``spread`` of the subject, always at least the nearest ones."""
    if subject.dimension is Dimension.COUNT:
        return (_count(subject, subject.exact, Fraction(1), house=house),)
    ladders = house.ladders
    weighed = subject.dimension is Dimension.MASS
    liquid = subject.food is None or subject.food.state == "liquid"
    dense = subject.density
    if weighed or (dense and not liquid):
        per_gram = Fraction(1) if weighed or not dense else 1 / dense.grams
        numbers = metric(subject.exact / per_gram, ladders.gram, "gram", "kilogram", spread)
        return tuple(_printable(subject, one, Dimension.MASS, per_gram, spread) for one in numbers)
    numbers = metric(subject.exact, ladders.millilitre, "millilitre", "litre", spread)
    return tuple(_printable(subject, one, Dimension.VOLUME, Fraction(1), spread) for one in numbers)


def by_weight_only(subject: Subject, house: House) -> Printable:
    """The metric weight, for the US column where no spoon comes near enough."""
    return min(metric_printables(subject, house, Fraction(1, 20)), key=lambda one: abs(one.error))


def _per_ml(subject: Subject) -> Fraction | None:
    if subject.dimension is Dimension.VOLUME:
        return Fraction(1)
    dense = subject.density
    return dense.grams if dense else None


def _count(subject: Subject, number: Fraction, per_one: Fraction, house: House | None = None) -> Printable:
    """So many pieces; with a house, the weight of them beside it where the larder knows one."""
    text = fraction_text(number)
    if subject.unit.name not in {"piece", "one"} and subject.unit.dimension is Dimension.COUNT:
        text += f"{NO_BREAK}{subject.unit.name if number <= 1 else subject.unit.plural}"
    one = subject.one
    if house and one:
        grams = metric(number * one.grams, house.ladders.gram, "gram", "kilogram", Fraction(1, 50))
        near_one = min(grams, key=lambda found: (found.cost, abs(found.value - number * one.grams)))
        text += f" ({terms_text(near_one.terms)})"
    value = number * per_one
    return Printable(
        printed=Printed(text=text, low=number, high=number, dimension=Dimension.COUNT),
        value=value,
        error=value / subject.exact - 1 if subject.exact else Fraction(0),
        cost=Fraction(1),
    )


def _counts(subject: Subject, spread: Fraction) -> list[Printable]:
    """Whole pieces that weigh about as much: 100 g of egg white is 3 large ones."""
    one = weight_of_one(subject.food, "one", subject.size) if subject.food else None
    if one is None:
        return []
    number = round(subject.exact / one.grams)
    if not number or abs(number * one.grams / subject.exact - 1) > spread:
        return []
    found = _count(replace(subject, unit=_piece(subject.unit)), Fraction(number), one.grams)
    size = f"{NO_BREAK}{one.form}" if one.form not in {"one", subject.size} else ""
    printed = replace(found.printed, text=found.printed.text + size)
    return [replace(found, printed=printed)]


def _piece(unit: Unit) -> Unit:
    return replace(
        unit, name="piece", plural="pieces", symbol="", dimension=Dimension.COUNT, size=Fraction(1)
    )
