"""Pieces and containers: the number stands in both columns, with its weight beside it where known."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.house import House
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.measure.weighing import weight_of_one
from cardsmith.recipe.model import Container
from cardsmith.rewrite.card import Printed
from cardsmith.rewrite.ladder import metric, nearest, us_weights
from cardsmith.rewrite.printable import Printable, Subject, metric_printables, us_printables
from cardsmith.rewrite.wording import NO_BREAK, decimal_text, fraction_text, terms_text

BARE = {"one", "piece"}  # counts that need no word: the food's name follows
EU = "eu-"  # size classes of the other market
EGGS = ("egg", "egg-white", "egg-yolk")  # bought and used by number: no US cook weighs them
LEAST_WEIGHED = Fraction(5)  # g; nobody weighs four sprigs of dill
HALF_OUNCE = Fraction("28.349523125") / 2


def printables(subject: Subject, house: House, spread: Fraction, system: str) -> tuple[Printable, ...]:
    """Every way to print ``subject`` in ``system`` (us, metric) within ``spread``."""
    if subject.container:
        return (_exactly(subject, _containers(subject.container, system), subject.exact, Dimension.MASS),)
    if subject.dimension is Dimension.COUNT:
        weighed = system == "metric" or subject.size.startswith(EU)
        each = subject.grams_of_one if weighed else None
        grams = subject.exact * each if each else None
        return (
            _pieces(subject, subject.exact, subject.unit.name, subject.unit.plural, grams, house, system),
        )
    if subject.count:
        count = subject.count
        return (
            _pieces(subject, count.low, count.unit.name, count.unit.plural, subject.exact, house, system),
        )
    if system == "metric":
        return metric_printables(subject, house, spread)
    return (*_as_pieces(subject, house, spread), *us_printables(subject, house, spread))


def _pieces(
    subject: Subject,
    number: Fraction,
    word: str,
    plural: str,
    grams: Fraction | None,
    house: House,
    system: str,
) -> Printable:
    """``3 stalks (150 g)``; the weight is left out where it is unknown, or where the market counts."""
    text = fraction_text(number)
    if word not in BARE:
        text += f"{NO_BREAK}{word if number <= 1 else plural}"
    if grams and grams >= LEAST_WEIGHED and (system == "metric" or not _is_egg(subject)):
        text += f" ({_weight(grams, house, system)})"
    return _exactly(subject, text, number, Dimension.COUNT)


def _weight(grams: Fraction, house: House, system: str) -> str:
    if system == "us":
        return terms_text(nearest(us_weights(house.ladders), grams).terms)
    numbers = metric(grams, house.ladders.gram, "gram", "kilogram", Fraction(1, 50))
    return terms_text(min(numbers, key=lambda one: (abs(one.value - grams), one.cost)).terms)


def _is_egg(subject: Subject) -> bool:
    """A US egg in its shell, so to speak; an EU one is another size and needs its weight beside it."""
    egg = subject.food is not None and any(subject.food.share(role) for role in EGGS)
    return egg and not subject.size.startswith(EU)


def _exactly(subject: Subject, text: str, number: Fraction, dimension: Dimension) -> Printable:
    printed = Printed(text=text, low=number, high=number, dimension=dimension)
    return Printable(printed=printed, value=subject.exact, error=Fraction(0), cost=Fraction(1))


def _as_pieces(subject: Subject, house: House, spread: Fraction) -> list[Printable]:
    """Whole pieces that weigh about as much, for what the US market counts: 100 g of egg white is 3."""
    food = subject.food
    if food is None or food.us_print != "count" or subject.in_us_units or subject.stated:
        return []
    one = weight_of_one(food, "one", subject.size)
    if one is None:
        return []
    each = one.grams if subject.ready else one.bought
    number = round(subject.exact / each)
    if not number:
        return []
    value = number * each
    error = value / subject.exact - 1
    if abs(error) > spread:
        return []
    size = f"{NO_BREAK}{one.form}" if one.form not in {"one", subject.size} else ""
    grams = None if _is_egg(subject) else subject.exact
    found = _pieces(subject, Fraction(number), "one", "", None, house, "us")
    weight = f" ({_weight(grams, house, 'us')})" if grams else ""
    printed = replace(found.printed, text=found.printed.text + size + weight)
    return [replace(found, printed=printed, value=value, error=error)]


def _containers(container: Container, system: str) -> str:
    """``2 (14-ounce) cans`` beside ``2 (400 g) cans``."""
    count = container.count
    word = count.unit.name if count.high <= 1 else count.unit.plural
    word = container.word if word in {"", "one", "piece"} else word
    number = fraction_text(count.low) + (f" to {fraction_text(count.high)}" if count.is_range else "")
    size = f" ({_each(container.each, system)})" if container.each else ""
    return f"{number}{size} {word}".rstrip()


def _each(each: Quantity, system: str) -> str:
    """The size of one, as its market prints it: grams or millilitres, ounces to the half."""
    if each.dimension is Dimension.VOLUME:
        us_ounce, unit = Fraction("29.5735295625"), "fluid-ounce"
    else:
        us_ounce, unit = HALF_OUNCE * 2, "ounce"
    if system == "us":
        own = each.low / us_ounce if each.unit.system is System.US else None
        ounces = own if own and own.denominator <= 8 else Fraction(max(round(each.low / us_ounce * 2), 1), 2)
        if unit == "ounce" and ounces >= 32:
            return f"{fraction_text(Fraction(round(ounces / 4), 4))}-pound"
        return f"{decimal_text(ounces)}-{unit}"
    step = 5 if each.low >= 50 else 1
    own_metric = each.low if each.unit.system is System.METRIC else None
    number = own_metric or Fraction(max(round(each.low / step), 1) * step)
    return f"{decimal_text(number)}{NO_BREAK}{'g' if each.dimension is Dimension.MASS else 'ml'}"
