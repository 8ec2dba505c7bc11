"""One amount of one food, and the ways it may be printed in each system, each with its error and cost."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from cardsmith.house import House
from cardsmith.language.spans import Share
from cardsmith.measure.larder import Food
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension, System, Unit, units
from cardsmith.measure.weighing import Density, density, weight_of_one
from cardsmith.recipe.model import Container, Ingredient
from cardsmith.recipe.weighed import is_ready, measured_form
from cardsmith.rewrite.ladder import (
    Candidate,
    butter_volumes,
    fine_volumes,
    metric,
    metric_number,
    near,
    ounces,
    significant,
    us_volumes,
    volumes,
    weights,
)
from cardsmith.rewrite.printed import Printed, Term, off, single
from cardsmith.rewrite.wording import MARKED

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
# Below half a teaspoon (ml) a level spoon is no truer than an eighth (common practice, no source).
HALF_TEASPOON, SMALL_SPREAD, STRICT = Fraction("2.464460796875"), Fraction(1, 8), frozenset({"cure"})
MAIN_SHARE = Fraction(1, 2)
# What scales show: a jeweller's below 5 g, a kitchen scale above (grams).
SCALE = ((Fraction(5), Fraction(1, 10)), (Fraction(10), Fraction(1, 2)), (Fraction(1000), Fraction(1)))
KITCHEN_SCALE = Fraction(5)
POUND = Fraction("453.59237")  # what no cup measures and is as heavy is weighed
SYRINGE = (Fraction(10), Fraction(1, 10))  # below so many ml, tenths of one can be drawn
# The units that a column prints; any other of its system (jigger, tola) is converted.
OWN = {
    System.US: frozenset(
        {"cup", "tablespoon", "teaspoon", "fluid ounce", "pint", "quart", "gallon", "ounce", "pound", "inch"}
        | {"foot", "pound per square inch"}
    ),
    System.METRIC: frozenset(
        {"gram", "kilogram", "millilitre", "litre", "millimetre", "centimetre", "metre", "kilopascal", "bar"}
    ),
}
MOST_PARTS = 10  # tenths in metric, eighths in US units; a finer figure was added up, not written
COLUMNS = {"us": System.US, "metric": System.METRIC}


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One amount to print, and of what.

    ``ready`` says that a count is of what is eaten (2 peeled oranges); else it is of what is bought.
    ``count`` and ``container`` are the author's where pieces or cans were written beside the amount, and
    ``share`` says whether it was given of each; ``stated`` is the volume beside a weight, which the US
    column prefers.
    """

    amount: Quantity
    food: Food | None = None
    form: str = ""
    size: str = ""
    ready: bool = False
    count: Quantity | None = None
    container: Container | None = None
    share: Share = Share.ALL
    stated: Quantity | None = None

    def times(self, factor: Fraction) -> Subject:
        """The amount scaled, exactly. A can is not cut in two: its weight takes over."""
        return replace(
            self,
            amount=self.amount.times(factor),
            count=self.count.times(factor) if self.count else None,
            container=None,
            stated=self.stated.times(factor) if self.stated else None,
        )

    def alone(self, amount: Quantity) -> Subject:
        """So much of the same food, without what was written beside the whole."""
        return replace(self, amount=amount, count=None, container=None, stated=None)

    @property
    def exact(self) -> Fraction:
        """The amount in base units; of a range, its low end."""
        return self.amount.low

    @property
    def dimension(self) -> Dimension:
        """What was measured."""
        return self.amount.dimension

    @property
    def density(self) -> Density | None:
        """What a millilitre weighs, where the larder knows it."""
        return _density(self.food, self.form) if self.food else None

    @property
    def one(self) -> Density | None:
        """What one weighs as the line counts it: bought, with peel and core, or ready to eat."""
        counted = self.amount.dimension is Dimension.COUNT
        return (
            _one(self.food, self.amount.unit.name if counted else "one", self.size, self.ready)
            if self.food
            else None
        )

    @property
    def role_class(self) -> str:
        """The class of tolerance: governing, leavener, salt, seasoning …"""
        return role_class(self.food)

    @property
    def in_us_units(self) -> bool:
        """Whether the author measured in ounces, cups or spoons."""
        return self.amount.unit.system is System.US

    @property
    def pieces(self) -> Quantity | None:
        """How many pieces or containers the author wrote beside the amount."""
        return self.container.count if self.container else self.count


@lru_cache(maxsize=4096)
def _density(food: Food, form: str) -> Density | None:
    found = density(food, form)
    if found is None:
        return None
    return Density(per=Dimension.VOLUME, grams=found.grams, form=found.form, basis=found.basis)


@lru_cache(maxsize=4096)
def _one(food: Food, measure: str, size: str, ready: bool) -> Density | None:
    found = weight_of_one(food, measure, size)
    if found is None:
        return None
    basis = found.basis if ready or not found.bought_basis else f"{found.basis}; {found.bought_basis}"
    grams = found.grams if ready else found.bought
    return Density(per=Dimension.COUNT, grams=grams, form=found.form, basis=basis)


@dataclass(frozen=True, slots=True, kw_only=True)
class Printable:
    """One way to print a subject; ``value`` is in the subject's own base units."""

    printed: Printed
    value: Fraction
    error: Fraction
    cost: Fraction
    on_ladder: bool = True  # False for decimals of an ounce

    @property
    def by_tool(self) -> bool:
        """Whether a spoon, a cup or a kitchen scale shows it: of an ounce that shows half of one and more."""
        first = self.printed.low[0]
        return self.on_ladder or (first.unit.name == "ounce" and first.number * 2 >= 1)


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
    subject = Subject(
        amount=amount,
        food=line.food,
        form=measured_form(line),
        size=line.size_sold,
        ready=is_ready(line),
    )
    if amount != line.amount:
        return subject
    counts = [one for one in line.stated if one.dimension is Dimension.COUNT and not _is_stick(one, amount)]
    box = line.container
    sized = box is not None and box.each is not None
    if box and not (sized and _is_held(box)) and not counts and amount.dimension is not Dimension.COUNT:
        counts = [box.count]
    return replace(
        subject,
        count=counts[0] if counts else None,
        container=box if box and sized and _is_held(box) else None,
        share=Share.EACH if box and sized and not _is_held(box) else line.amount_share,
        stated=next(
            (one for one in line.stated if one.dimension is Dimension.VOLUME and not one.is_range), None
        ),
    )


def _is_held(box: Container) -> bool:
    """Whether the food comes in it (a can, a jar) and it has a size; a fillet or a breast has a weight."""
    known = units().get(box.word)
    return bool(box.word) and (known is None or known.system is System.CONTAINER)


def _is_stick(count: Quantity, amount: Quantity) -> bool:
    """Whether a count says a volume again: a stick of butter is half a cup, and no piece."""
    return count.unit.name == "stick" and amount.dimension is Dimension.VOLUME


def _is_one_volume(stated: Quantity) -> bool:
    return stated.dimension is Dimension.VOLUME and not stated.is_range


# --- the US column ------------------------------------------------------------------------------------


def us_printables(subject: Subject, house: House, spread: Fraction) -> tuple[Printable, ...]:
    """Every US expression within ``spread`` of the subject; where a kitchen has none, the one in decimals."""
    sold = subject.food.us_print if subject.food else ""
    by_volume = subject.dimension is Dimension.VOLUME
    if not by_volume and subject.density:
        spoons = subject.stated is not None and subject.stated.unit.system is System.US
        by_volume = spoons or not (sold == "weight" or subject.in_us_units)
    found = _us_volumes(subject, house, spread) if by_volume else ()
    if not by_volume or (subject.dimension is Dimension.MASS and subject.exact > POUND):
        found = found or _us_weights(subject, house, spread)
    return found or (in_decimals(subject, spread),)


def _us_volumes(subject: Subject, house: House, spread: Fraction) -> tuple[Printable, ...]:
    """Cups and spoons as the house has them, and the author's own spoon; else the smallest there are."""
    usual, fine = us_volumes(house.ladders), fine_volumes(house.ladders)
    if subject.food is not None and subject.food.share("butter") >= MAIN_SHARE:
        usual = butter_volumes(house.ladders)
    elif subject.role_class in EXACTING:
        usual = fine
    dense = subject.density if subject.dimension is Dimension.MASS else None
    per_ml = dense.grams if dense else Fraction(1)
    value = subject.exact / per_ml
    poured = dense is None or (subject.food is not None and subject.food.state == "liquid")
    found = (volumes if poured else near)(usual, value, spread)
    own = _own_spoon(subject, fine)
    if own and all(one.value != own.value for one in found):
        found = (*found, own)
    small = value < HALF_TEASPOON and subject.role_class not in STRICT
    found = found or near(fine, value, spread) or (near(fine, value, SMALL_SPREAD) if small else ())
    said = {one.low for one in (subject.stated, subject.amount) if one and one.unit.system is System.US}
    return tuple(
        _printable(subject, one, per_ml, US_ERROR_COST / spread, preferred=one.value in said) for one in found
    )


def _us_weights(subject: Subject, house: House, spread: Fraction) -> tuple[Printable, ...]:
    """Ounces and pounds as the house has them, and the author's own tenths of an ounce."""
    found = weights(house.ladders, subject.exact, spread)
    own = own_term(subject.amount, subject.exact, System.US)
    if own and own.unit.name == "ounce" and own.number >= 1 and all(one.value != own.value for one in found):
        found = (*found, Candidate(value=own.value, terms=(own,), cost=Fraction(2)))
    said = subject.exact if subject.in_us_units else None
    return tuple(
        _printable(subject, one, Fraction(1), US_ERROR_COST / spread, preferred=one.value == said)
        for one in found
    )


def _own_spoon(subject: Subject, fine: tuple[Candidate, ...]) -> Candidate | None:
    """The author's own spoon, off the house's ladder though it is: ⅓ teaspoon."""
    own = own_term(subject.amount, subject.exact, System.US)
    if own is None or own.unit.name != "teaspoon" or own.number.denominator not in MARKED:
        return None
    named = near(fine, own.value, Fraction(0))
    return named[0] if named else Candidate(value=own.value, terms=(own,), cost=Fraction(2))


def in_decimals(subject: Subject, spread: Fraction) -> Printable:
    """So many ounces or fluid ounces, to as many digits as ``spread`` asks for."""
    unit = "ounce" if subject.dimension is Dimension.MASS else "fluid ounce"
    return _printable(subject, ounces(subject.exact, spread, unit), Fraction(1), US_ERROR_COST / spread)


def own_term(amount: Quantity, end: Fraction, system: System, unit: Unit | None = None) -> Term | None:
    """The author's own figure for one end, in a unit that its column prints; None where it was added up."""
    unit = unit or amount.unit
    number = unit.from_base(end)
    if unit.system is not system or unit.name not in OWN[system] or number.denominator > MOST_PARTS:
        return None
    return Term(number=number, unit=unit)


# --- the metric column --------------------------------------------------------------------------------


def metric_printables(subject: Subject, house: House, spread: Fraction) -> tuple[Printable, ...]:
    """Metric numbers around the subject, always at least the nearest; a volume beside a count stays a volume.

    A liquid measured in US volumes may print by the kitchen cup of 240 ml, as NIST does.
    """
    ladders, dense = house.ladders, subject.density
    weighed = subject.dimension is Dimension.MASS
    liquid = subject.food is None or subject.food.state == "liquid" or subject.count is not None
    each = METRIC_ERROR_COST / spread
    about = _roughly(subject, "gram" if weighed else "millilitre", spread)
    if weighed or (dense and not liquid):
        per_gram = Fraction(1) if weighed or not dense else 1 / dense.grams
        numbers = metric(subject.exact / per_gram, ladders.gram, "gram", spread)
        own = about or _as_weighed(subject)
        return tuple(
            _printable(subject, one, per_gram, each, preferred=one == own)
            for one in dict.fromkeys((*numbers, *filter(None, (own,))))
        )
    kitchen = subject.exact * KITCHEN_CUP / CUP if subject.in_us_units and not about else None
    numbers = metric(subject.exact, ladders.millilitre, "millilitre", spread)
    own = about or _as_measured(subject)
    said = {kitchen, subject.exact if subject.amount.unit.system is System.METRIC else None}
    return tuple(
        _printable(subject, one, Fraction(1), each, preferred=one.value in said or one == own)
        for one in dict.fromkeys((*numbers, *filter(None, (own,))))
    )


def _as_weighed(subject: Subject) -> Candidate | None:
    """The author's own weight, where a kitchen scale shows it: 113 g stays 113 g, 169.5 g does not."""
    if subject.dimension is not Dimension.MASS or subject.amount.unit.system is not System.METRIC:
        return None
    step = next((step for to, step in SCALE if subject.exact < to), KITCHEN_SCALE)
    return None if subject.exact % step else metric_number(subject.exact, step, "gram")


def _roughly(subject: Subject, unit: str, spread: Fraction) -> Candidate | None:
    """Two digits of what was said to be about so many cups or pounds: about 8 cups are about 1.9 L."""
    if subject.amount.bound is not Bound.ABOUT or subject.food or not subject.in_us_units:
        return None
    number = significant(subject.exact, spread)
    return metric_number(number, number, unit)


def _as_measured(subject: Subject) -> Candidate | None:
    """The author's own few millilitres, off the house's ladder though they are: 1.6 ml stays 1.6 ml."""
    below, step = SYRINGE
    metric_ = subject.amount.unit.system is System.METRIC and subject.exact < below
    return metric_number(subject.exact, step, "millilitre") if metric_ and not subject.exact % step else None


def _printable(
    subject: Subject, one: Candidate, per_base: Fraction, error_cost: Fraction, *, preferred: bool = False
) -> Printable:
    """``per_base`` turns the candidate's base unit into the subject's: g per ml, ml per g, or 1."""
    value = one.value if per_base == 1 else one.value * per_base
    error = off(value, subject.exact)
    cost = Fraction(0) if preferred else one.cost + error_cost * abs(error)
    return Printable(printed=single(*one.terms), value=value, error=error, cost=cost, on_ladder=one.on_ladder)


def cheapest(ways: tuple[Printable, ...]) -> Printable:
    """The way that asks the least of a cook, the nearer of two that ask the same."""
    return min(ways, key=lambda one: (one.cost, abs(one.error)))


def nearest(ways: tuple[Printable, ...]) -> Printable:
    """The way that is least off."""
    return min(ways, key=lambda one: abs(one.error))
