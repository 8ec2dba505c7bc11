"""The ways one amount of one food may be printed in each system, each with its error and cost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import COLUMNS, WEIGHED, Dimension, System, Unit
from cardsmith.rewrite.printed import Printed, Term, error, off, single
from cardsmith.rewrite.rounding.food_amount import FoodAmount
from cardsmith.rewrite.rounding.household import WEIGHED_COST, cooks_from_cups, in_household
from cardsmith.rewrite.rounding.ladder import (
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
from cardsmith.rewrite.wording import MARKED

# What the whole tolerance used up costs, in scoops. A scale reads any number as easily as a round one,
# so in metric the nearest number wins unless a ratio needs another.
SAME = Fraction(1, 4)  # two statements of one amount that lie further apart don't mean the same
US_ERROR_COST = Fraction(3, 2)
METRIC_ERROR_COST = Fraction(4)
SAME_VOLUME = Fraction(3, 100)  # between a cup and the millilitres beside it: common practice, no source
CUP, KITCHEN_CUP = Fraction("236.5882365"), Fraction(240)  # NIST Metric Cooking prints a cup as 240 ml
NONE = Fraction(0)
EXACTING = frozenset({"cure", "salt", "leavener", "yeast", "setting", "acid"})
# Below half a teaspoon (ml) a level spoon is no truer than an eighth (common practice, no source).
HALF_TEASPOON, SMALL_SPREAD = Fraction("2.464460796875"), Fraction(1, 8)
OWN_SPREAD = Fraction(1, 50)  # what an author measured in a column's own units prints so near, if it can
# What scales show: a jeweller's below 5 g, a kitchen scale above (grams); and a syringe (ml).
SCALE = ((Fraction(5), Fraction(1, 10)), (Fraction(10), Fraction(1, 2)), (Fraction(1000), Fraction(1)))
KITCHEN_SCALE = Fraction(5)
LEAST_ON_A_SCALE = Fraction(5)  # what a kitchen scale of whole grams weighs well: common practice, no source
SYRINGE = (Fraction(10), Fraction(1, 10))
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


@frozen
class Printable:
    """One way to print a subject; ``value`` is in the subject's own base units."""

    printed: Printed
    value: Fraction
    error: Fraction
    cost: Fraction

    @property
    def on_ladder(self) -> bool:
        """Whether it is a number of a ladder, and no decimals of an ounce."""
        return all(_is_marked(term) for term in (*self.printed.low, *self.printed.high))


def by_tool(printed: Printed) -> bool:
    """Whether spoons, cups and kitchen scales show it: of an ounce these show half of one and more."""
    shown = (
        _is_marked(term) or (term.unit.name == "ounce" and term.number * 2 >= 1)
        for term in (*printed.low, *printed.high)
    )
    return printed.dimension not in WEIGHED or all(shown)


# --- what the author said in a column's own units -----------------------------------------------------


def said(subject: FoodAmount, house: House, system: str) -> Printable | None:
    """What the author said in this column's units, as the house spells it; a column never changes that.

    Of several the US column has the volume, the metric one the weight. None where it doesn't mean the same as
    the amount: a check asks about that.
    """
    for quantity in in_units_of(subject, system):
        terms = _spelled(quantity, subject, house, system)
        printable = _meaning(subject, quantity, single(*terms, bound=quantity.bound)) if terms else None
        if printable:
            return printable
    return None


def said_range(subject: FoodAmount, system: str) -> Printed | None:
    """A range as the author said it in this column's units, each end in its own."""
    for quantity in in_units_of(subject, system):
        low, high = quantity.ends()
        ends = (own_term(low, low.low, COLUMNS[system]), own_term(high, high.low, COLUMNS[system]))
        if quantity.is_range and ends[0] and ends[1] and all(_is_marked(end) for end in ends if end):
            printed = Printed(low=(ends[0],), high=(ends[1],), bound=quantity.bound)
            if abs(error((subject.amount,), printed, None, subject.density) or Fraction(0)) <= SAME:
                return printed
    return None


def in_units_of(subject: FoodAmount, system: str) -> Iterator[Quantity]:
    """The statements in this column's units, the one it prefers first."""
    poured = subject.is_poured or subject.density is None or subject.count is not None
    first, second = (
        (Dimension.VOLUME, Dimension.MASS) if system == "us" else (Dimension.MASS, Dimension.VOLUME)
    )
    for dimension in (first, second):
        for quantity in (subject.amount, *subject.said):
            by_weight = system == "metric" and quantity.dimension is Dimension.VOLUME and not poured
            if quantity.dimension is dimension and quantity.unit.system is COLUMNS[system] and not by_weight:
                yield quantity


def _spelled(quantity: Quantity, subject: FoodAmount, house: House, system: str) -> tuple[Term, ...]:
    """The terms of one statement: 4 tablespoons are ¼ cup, and 169.5 g is on no kitchen scale."""
    weighed = quantity.dimension is Dimension.MASS
    if system == "metric":
        rung = next((rung for rung in house.ladders.millilitre if quantity.low <= rung.to), None)
        fine = quantity.low < SYRINGE[0] and not quantity.low % SYRINGE[1]
        if weighed:
            step = next((step for to, step in SCALE if quantity.low < to), KITCHEN_SCALE)
            return () if quantity.low % step else metric_number(int(quantity.low / step), step, "gram").terms
        shown = fine or (rung is not None and not quantity.low % rung.step)
        return metric_number(1, quantity.low, "millilitre").terms if shown else ()
    ladders = _ladders(subject, house)
    exact = (
        weights(house.ladders, quantity.low, Fraction(0))
        if weighed
        else next((few for ladder in ladders if (few := volumes(ladder, quantity.low, Fraction(0)))), ())
    )
    if exact:
        return exact[0].terms
    own = own_term(quantity, quantity.low, System.US)
    shown = own is not None and _is_marked(own) and (weighed or own.unit.name == "teaspoon")
    return (own,) if own and shown else _added_up(quantity, subject, house)


def _added_up(quantity: Quantity, subject: FoodAmount, house: House) -> tuple[Term, ...]:
    """The terms of a sum that no ladder holds: 2 cups minus 1 teaspoon."""
    if sum((term.low for term in quantity.terms), Fraction(0)) != quantity.low:
        return ()  # changed since, or no sum
    added: list[Term] = []
    for part in quantity.terms:
        terms = _spelled(part.times(Fraction(1 if part.low > 0 else -1)), subject, house, "us")
        if len(terms) != 1:
            return ()
        added.append(terms[0] if part.low > 0 else replace(terms[0], number=-terms[0].number))
    return tuple(added)


def _is_marked(term: Term) -> bool:
    return term.unit.system is System.METRIC or term.number.denominator in MARKED


def _meaning(subject: FoodAmount, quantity: Quantity, printed: Printed) -> Printable | None:
    """A statement as ``printed``, if it is near enough to the amount; without a density by its author."""
    if quantity is subject.amount:
        return Printable(printed=printed, value=subject.exact, error=NONE, cost=NONE)
    gap = error((subject.amount,), printed, None, subject.density) or NONE
    if abs(gap) > SAME:
        return None
    return Printable(printed=printed, value=subject.exact * (1 + gap), error=gap, cost=NONE)


def own_term(amount: Quantity, end: Fraction, system: System, unit: Unit | None = None) -> Term | None:
    """The author's own figure for one end, in a unit that its column prints; None where it was added up."""
    unit = unit or amount.unit
    number = unit.from_base(end)
    if unit.system is not system or unit.name not in OWN[system] or number.denominator > MOST_PARTS:
        return None
    return Term(number=number, unit=unit)


# --- the US column ------------------------------------------------------------------------------------


def us_printables(subject: FoodAmount, house: House, spread: Fraction) -> tuple[Printable, ...]:
    """Every US expression within ``spread`` of the subject; where a kitchen has none, the one in decimals."""
    own = said(subject, house, "us")
    printables = _us_ways(subject, house, spread, own)
    if own:
        return (own, *(printable for printable in printables if printable.value != own.value))
    if subject.in_us_units and printables:  # added up: 2 cups minus 2 teaspoons
        return tuple(printable for printable in printables if abs(printable.error) <= OWN_SPREAD) or (
            nearest(printables),
        )
    return printables or (in_decimals(subject, spread),)


def _us_ways(
    subject: FoodAmount, house: House, spread: Fraction, own: Printable | None
) -> tuple[Printable, ...]:
    """Volumes of what is measured so, weights of what is weighed."""
    by_volume = subject.dimension is Dimension.VOLUME
    if not by_volume and subject.density:
        sold = subject.food.us_print if subject.food else ""
        spoons = own is not None and own.printed.dimension is Dimension.VOLUME
        by_volume = spoons or (sold == "volume" and not subject.in_us_units)
    printables = _us_volumes(subject, house, spread) if by_volume else ()
    if not by_volume or subject.dimension is Dimension.MASS:
        printables = printables or tuple(
            _printable(subject, candidate, Fraction(1), US_ERROR_COST / spread)
            for candidate in weights(house.ladders, subject.exact, spread)
        )
    return printables


def _ladders(subject: FoodAmount, house: House) -> tuple[tuple[Candidate, ...], tuple[Candidate, ...]]:
    """The cups and spoons that a food is usually measured in, and the finest there are."""
    usual, fine = us_volumes(house.ladders), fine_volumes(house.ladders)
    if subject.food is not None and subject.food.is_mainly("butter"):
        return butter_volumes(house.ladders), fine
    return (fine if subject.role_class in EXACTING else usual), fine


def _us_volumes(subject: FoodAmount, house: House, spread: Fraction) -> tuple[Printable, ...]:
    """Cups and spoons as the house has them, else the smallest there are."""
    usual, fine = _ladders(subject, house)
    dense = subject.density if subject.dimension is Dimension.MASS else None
    per_ml = dense.grams if dense else Fraction(1)
    value = subject.exact / per_ml
    candidates = (
        (volumes if dense is None or subject.is_poured else near)(usual, value, spread)
        or near(fine, value, spread)
        or near(fine, value, spoon_spread(value, spread))
    )
    return tuple(_printable(subject, candidate, per_ml, US_ERROR_COST / spread) for candidate in candidates)


def spoon_spread(millilitres: Fraction, spread: Fraction) -> Fraction:
    """How far a printed spoon may stand off: ``spread``, but an eighth under half a teaspoon."""
    return max(spread, SMALL_SPREAD) if millilitres < HALF_TEASPOON else spread


def in_decimals(subject: FoodAmount, spread: Fraction) -> Printable:
    """So many ounces or fluid ounces, to as many digits as ``spread`` asks for."""
    unit = "ounce" if subject.dimension is Dimension.MASS else "fluid ounce"
    return _printable(subject, ounces(subject.exact, spread, unit), Fraction(1), US_ERROR_COST / spread)


# --- the metric column --------------------------------------------------------------------------------


def metric_printables(subject: FoodAmount, house: House, spread: Fraction) -> tuple[Printable, ...]:
    """Metric numbers within ``spread`` of the subject; a volume beside a count stays a volume.

    A liquid measured in US volumes may print by the kitchen cup of 240 ml, as NIST does.
    """
    ladders, dense = house.ladders, subject.density
    own = said(subject, house, "metric")
    poured = subject.is_poured or subject.count is not None
    weighed = subject.dimension is Dimension.MASS or (own is None and dense is not None and not poured)
    per_base = 1 / dense.grams if weighed and dense and subject.dimension is Dimension.VOLUME else Fraction(1)
    unit, rungs = ("gram", ladders.gram) if weighed else ("millilitre", ladders.millilitre)
    value = subject.exact / per_base
    by_cup = subject.in_us_units and not weighed and not cooks_from_cups(house.household)
    usual = value * KITCHEN_CUP / CUP if by_cup else value
    preferred = {usual} if by_cup and own is None else set()
    if _is_rough(subject):
        preferred = {significant(usual, spread)}
    numbers = {candidate.value: candidate for candidate in metric(value, rungs, unit, spread)}
    numbers |= {number: metric_number(1, number, unit) for number in preferred if _is_rough(subject)}
    printables = tuple(
        _printable(
            subject, candidate, per_base, METRIC_ERROR_COST / spread, preferred=candidate.value in preferred
        )
        for candidate in numbers.values()
    )
    ways = (
        (own, *(printable for printable in printables if printable.value != own.value)) if own else printables
    )
    return _with_household(subject, house, spread, ways, own) if house.household else ways


def _with_household(
    subject: FoodAmount,
    house: House,
    spread: Fraction,
    weighed: tuple[Printable, ...],
    own: Printable | None,
) -> tuple[Printable, ...]:
    """The cups and spoons of the market first, then what is weighed, dearer."""
    if (own and not by_market(subject, house)) or subject.count or not weighed:
        return weighed
    small = spoon_spread(subject.exact, spread) if subject.dimension is Dimension.VOLUME else spread
    filled = tuple(
        Printable(printed=printed, value=value, error=off(value, subject.exact), cost=cost)
        for printed, value, cost in in_household(
            subject, house.household, house.scoops, small, cheapest(weighed).printed
        )
    )
    if subject.dimension is Dimension.VOLUME:  # nobody is told that 2 cups of 250 ml are 480 ml
        beside = cheapest(weighed).value
        filled = tuple(
            printable
            for printable in filled
            if not printable.printed.beside or abs(printable.value / beside - 1) <= SAME_VOLUME
        )
    if own and is_fine(subject):  # what its author weighed stands beside the spoon
        filled = tuple(
            replace(printable, printed=replace(printable.printed, beside=(own.printed,)))
            for printable in filled
        )
    dearer = tuple(replace(printable, cost=printable.cost + WEIGHED_COST) for printable in weighed)
    return (*filled, *dearer) if filled else weighed


def by_market(subject: FoodAmount, house: House) -> bool:
    """Whether a market's own spoons and cups come before the weight that the author said."""
    return cooks_from_cups(house.household) or (bool(house.household) and is_fine(subject))


def is_fine(subject: FoodAmount) -> bool:
    """Whether it is less than a kitchen scale weighs well."""
    return subject.dimension is Dimension.MASS and subject.exact < LEAST_ON_A_SCALE


def _is_rough(subject: FoodAmount) -> bool:
    """Whether it was said to be about so many cups or pounds: about 8 cups are about 1.9 L."""
    return subject.amount.bound is Bound.ABOUT and subject.food is None and subject.in_us_units


def _printable(
    subject: FoodAmount,
    candidate: Candidate,
    per_base: Fraction,
    error_cost: Fraction,
    *,
    preferred: bool = False,
) -> Printable:
    """``per_base`` turns the candidate's base unit into the subject's: g per ml, ml per g, or 1."""
    value = candidate.value if per_base == 1 else candidate.value * per_base
    gap = off(value, subject.exact)
    cost = Fraction(0) if preferred else candidate.cost + error_cost * abs(gap)
    return Printable(printed=single(*candidate.terms), value=value, error=gap, cost=cost)


def cheapest(ways: tuple[Printable, ...]) -> Printable:
    """The way that asks the least of a cook, the nearer of two that ask the same."""
    return min(ways, key=lambda printable: (printable.cost, abs(printable.error)))


def nearest(ways: tuple[Printable, ...]) -> Printable:
    """The way that is least off."""
    return min(ways, key=lambda printable: abs(printable.error))
