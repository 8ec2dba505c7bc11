"""Pieces and containers: the number stands in both columns, with the size of one or of all in brackets."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.house.style import House
from cardsmith.language.figures.amounts import ONE
from cardsmith.language.spans import Kind, Share
from cardsmith.measure.larder import Food
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import COLUMNS, Dimension, System, Unit, units
from cardsmith.measure.weighing import SPREAD, density, weight_of_one, weight_of_pack
from cardsmith.rewrite.printed import Printed, Term, off, single
from cardsmith.rewrite.rounding.food_amount import FoodAmount
from cardsmith.rewrite.rounding.ladder import METRIC, significant
from cardsmith.rewrite.rounding.printable import (
    OWN,
    Printable,
    by_market,
    cheapest,
    metric_printables,
    said,
    said_range,
    us_printables,
)
from cardsmith.rewrite.rounding.sizes import size
from cardsmith.rewrite.wording import BARE, short

EU = "eu-"  # size classes of the other market
EGGS = ("egg", "egg-white", "egg-yolk")  # bought and used by number: no US cook weighs them
LEAST_WEIGHED = Fraction(5)  # g; nobody weighs four sprigs of dill
DIFFER = 2  # times the lightest piece: beyond, a count gives no weight; common practice, no source
NEAR = Fraction(3, 100)  # a can's label is rounder than what is in it, by so much at most
LARGE_CAN = Fraction(32)  # ounces; from here on a label says pounds
# The steps of sizes on labels, the roundest first, in the unit of the label.
STEPS = tuple(Fraction(step) for step in ("1", "1/2", "1/4", "1/8"))
METRIC_STEPS = tuple(Fraction(step) for step in ("5", "1"))
LARGE_BAG = Fraction(1000)  # g or ml; from here on a label says kilograms or litres, to two places
LARGE_STEPS = (Fraction(1, 100),)


def printables(subject: FoodAmount, house: House, spread: Fraction, system: str) -> tuple[Printable, ...]:
    """Every way to print ``subject`` in ``system`` (us, metric) within ``spread``."""
    if only := _without_choice(subject, house, system):
        return (only,)
    if system == "metric":
        return metric_printables(subject, house, spread)
    return (*_as_eggs(subject, spread), *us_printables(subject, house, spread))


def as_said(subject: FoodAmount, house: House, system: str) -> Printable | None:
    """The way its author used, where the column can print just that: none is nearer, and none costs less."""
    if system == "metric" and by_market(subject, house):
        return _without_choice(subject, house, system)
    own = _without_choice(subject, house, system) or said(subject, house, system)
    return own if own and not own.error else None


def _without_choice(subject: FoodAmount, house: House, system: str) -> Printable | None:
    """The one way to print what is counted or has a length; None of what is measured."""
    if subject.container or subject.count or subject.dimension is Dimension.COUNT:
        # A cook counts: no ratio moves by what the size in brackets is rounded to.
        printed = counted(subject, house, system)
        return Printable(printed=printed, value=subject.exact, error=Fraction(0), cost=Fraction(1))
    return _piece(subject, system) if subject.dimension is Dimension.LENGTH else None


def _piece(subject: FoodAmount, system: str) -> Printable:
    """A piece known by its length: 2 inches of ginger."""
    printed = size((subject.amount,), Kind.LENGTH, system)
    gap = off(printed.least, subject.exact)
    return Printable(printed=printed, value=printed.least, error=gap, cost=Fraction(1))


def counted(subject: FoodAmount, house: House, system: str) -> Printed:
    """``4 (6 oz each)``, ``3 stalks (150 g in all)``, ``2 (14-ounce) cans``."""
    box = subject.container
    if box and box.each:
        size = replace(_label(_on_label(box.each, box.said, system), subject, system), share=Share.EACH)
        return replace(_count(box.count, box.word), beside=(size,))
    printed = _count(subject.count or subject.amount)
    beside = _beside(subject, house, system)
    return replace(printed, beside=(beside,)) if beside else printed


def _count(count: Quantity, word: str = "") -> Printed:
    """The number of pieces; a vague one (a bunch) that its author described stands in the author's words."""
    known = units().get(word, count.unit) if count.unit.name in BARE else count.unit
    named = word if word and known.name != word else ""
    known = ONE if known.name in BARE else known
    low, high = (Term(number=end, unit=known, word=named) for end in (count.low, count.high))
    printed = Printed(low=(low,), high=(high,), bound=count.bound)
    if count.is_vague and count.written and short(printed).split() != count.written.split():
        return replace(printed, words=count.written)
    return printed


def _beside(subject: FoodAmount, house: House, system: str) -> Printed | None:
    """The size in brackets: the author's, of each or of all; of what is only counted, the larder's weight.

    That is left out where it is unknown, or where the market counts.
    """
    count = subject.count
    amount = subject.amount if count else _larder_weight(subject, system)
    share = subject.share if count else Share.ALL
    if amount is None or (system == "us" and _is_egg(subject) and share is Share.ALL):
        return None
    many = (count or subject.amount).high > 1
    if count and count.unit.system is System.CONTAINER:
        amount = _weighed(amount, subject, system)
    if count:
        amount = _in_own_units(amount, subject.said, system)
    said = [quantity for quantity in subject.said if count and quantity.dimension is amount.dimension]
    if share is Share.EACH and count and count.high >= 1:  # ¾ of a loaf is weighed as it is used
        amount, *said = (
            replace(quantity, low=quantity.low / count.low, high=quantity.high / count.high)
            for quantity in (amount, *said)
        )
    alone = replace(subject.alone(amount), food=None, said=tuple(said))
    size = size_of(alone, house, system, house.tolerances[subject.role_class])
    return replace(size, share=share if many else None, bound=amount.bound)


def _in_own_units(amount: Quantity, said: tuple[Quantity, ...], system: str) -> Quantity:
    """What the author said in a column's own units: 3 carrots (300 g; 2 cups) are 2 cups in the US."""
    same = any(
        quantity.dimension is amount.dimension for quantity in said if quantity.unit.system is COLUMNS[system]
    )
    if same or amount.unit.system is COLUMNS[system]:
        return amount
    return next((quantity for quantity in said if quantity.unit.system is COLUMNS[system]), amount)


def _larder_weight(subject: FoodAmount, system: str) -> Quantity | None:
    """What the larder says that so many weigh; a range of a count would leave open which end weighs it.

    The zest of 2 lemons has no weight beside it: it would read as that of the lemons.
    """
    weighed = system == "metric" or subject.size.startswith(EU)
    if not weighed or subject.one is None or subject.amount.is_range or subject.taken:
        return None
    if subject.size and subject.food and not _is_of_its_size(subject.food, subject.size):
        return None  # jumbo shrimp, of which the larder weighs none
    if subject.food and _differ(subject.food, subject.amount.unit.name, subject.size):
        return None
    grams = subject.one.mass(subject.amount)
    return replace(grams, bound=Bound.EXACTLY) if grams.low >= LEAST_WEIGHED else None


def _differ(food: Food, measure: str, size: str) -> bool:
    """Whether pieces of a food differ too much for a count to give a weight: shrimp, clams in the shell."""
    weighing = weight_of_one(food, measure, size)
    return weighing is not None and weighing.high > DIFFER * weighing.low


def _is_of_its_size(food: Food, size: str) -> bool:
    """Whether somebody weighed one of a food in that size."""
    weighing = weight_of_one(food, "one", size)
    return weighing is not None and weighing.exact_form


def size_of(subject: FoodAmount, house: House, system: str, spread: Fraction) -> Printed:
    """An amount without a food in one column, both ends of a range."""
    own = said_range(subject, system) if subject.amount.is_range else None
    if own:
        return own
    ways = us_printables if system == "us" else metric_printables
    ends = subject.ends() if subject.amount.is_range else (subject,)
    low, *high = (cheapest(ways(end, house, spread)).printed for end in ends)
    return replace(low, high=high[0].high) if high else low


def _is_egg(subject: FoodAmount) -> bool:
    """A US egg in its shell, so to speak; an EU one is another size and needs its weight beside it."""
    egg = subject.food is not None and any(subject.food.share(role) for role in EGGS)
    return egg and not subject.size.startswith(EU)


def _as_eggs(subject: FoodAmount, spread: Fraction) -> list[Printable]:
    """Whole eggs, whites or yolks that weigh about as much: in the US 100 g of white is 3."""
    egg_weight = subject.one
    if (
        egg_weight is None
        or not _is_egg(subject)
        or subject.in_us_units
        or subject.dimension is not Dimension.MASS
    ):
        return []
    number = round(subject.exact / egg_weight.grams)
    value = number * egg_weight.grams
    if not number or abs(off(value, subject.exact)) > spread:
        return []
    word = egg_weight.form if egg_weight.form not in {"one", subject.size} else ""
    printed = single(Term(number=Fraction(number), unit=ONE, word=word))
    return [Printable(printed=printed, value=value, error=off(value, subject.exact), cost=Fraction(1))]


# --- the labels of containers -------------------------------------------------------------------------


def _weighed(size: Quantity, subject: FoodAmount, system: str) -> Quantity:
    """What a box holds as the metric market gives it: an envelope of 2¼ teaspoons of yeast holds 7 g."""
    spooned = size.dimension is Dimension.VOLUME and size.unit.system is System.US
    if system != "metric" or not spooned or subject.is_poured or subject.density is None:
        return size
    mass = subject.density.mass(size)
    pack = _pack(subject, size)
    return replace(mass, low=pack, high=pack) if pack else mass


def _pack(subject: FoodAmount, size: Quantity) -> Fraction:
    """The grams of a pack as it is sold, where so many spoonfuls can weigh that; else 0."""
    box, food = subject.container, subject.food
    noun = box.word if box else subject.count.unit.name if subject.count else ""
    sold = weight_of_pack(food, noun) if noun and food else None
    filled = density(food, subject.form) if food else None
    if sold is None or filled is None or size.is_range:
        return Fraction(0)
    fits = filled.low * size.low * (1 - SPREAD) <= sold.grams <= filled.high * size.low * (1 + SPREAD)
    return sold.grams if fits else Fraction(0)


def _on_label(each: Quantity, said: tuple[Quantity, ...], system: str) -> Quantity:
    """The size that the author read on the label in a column's own units."""
    return next((quantity for quantity in (each, *said) if quantity.unit.system is COLUMNS[system]), each)


def _label(size: Quantity, subject: FoodAmount, system: str) -> Printed:
    """The size of one as its market labels it: ounces and fluid ounces, grams and millilitres."""
    shown = _weighed(size, subject, system)
    low, high = (_label_end(shown, end, system, own=shown is size) for end in (shown.low, shown.high))
    return Printed(low=(low,), high=(high,), bound=size.bound)


def _label_end(size: Quantity, end: Fraction, system: str, *, own: bool) -> Term:
    """The author's ``own`` figure where it is of that market, else the roundest near it, else two digits."""
    unit = size.unit
    if own and unit.system is COLUMNS[system] and unit.name in OWN[unit.system]:
        number = unit.from_base(end)
        if number.denominator <= 20 and 10**4 % number.denominator == 0:
            return Term(number=number, unit=unit)
    weighed = size.dimension is Dimension.MASS
    if system == "metric":
        base = "gram" if weighed else "millilitre"
        large = end >= LARGE_BAG
        return _rounded(end, units()[METRIC[base] if large else base], LARGE_STEPS if large else METRIC_STEPS)
    ounces = _rounded(end, units()["ounce" if weighed else "fluid ounce"], STEPS)
    pounds = _rounded(end, units()["pound"], STEPS[2:3])
    large = weighed and ounces.number >= LARGE_CAN and pounds.number % STEPS[2] == 0
    return pounds if large else ounces


def _rounded(end: Fraction, unit: Unit, steps: tuple[Fraction, ...]) -> Term:
    number = end / unit.size
    rungs = (round(number / step) * step for step in steps)
    near = next((rung for rung in rungs if rung and abs(off(rung, number)) <= NEAR), None)
    return Term(number=near or significant(number, NEAR), unit=unit)
