"""A weight and a volume given for one amount: whether any way of filling a cup makes them the same."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.measure.larder import Food
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.measure.weighing import UNLEVEL, density, handling
from cardsmith.recipe.model import Ingredient
from cardsmith.recipe.weighed import Mass, measured_form

LEVELLED = frozenset({"powder", "granule", "liquid", "paste"})  # states of what fills a cup in one way
# How far apart the two may be; common practice, no source.
POURED_APART, PILED_APART = Fraction(20, 100), Fraction(60, 100)


def weight_of_volume(line: Ingredient, volume: Quantity) -> Mass | None:
    """What ``volume`` of a line's food weighs, however a cup is filled; None where unknown."""
    if line.food is None or volume.dimension is not Dimension.VOLUME or volume.is_vague:
        return None
    weighing = density(line.food, measured_form(line))
    if weighing is None:
        return None
    low, high = _ways(line) or (weighing.low, weighing.high)
    least, most = UNLEVEL.get(volume.bound, (Fraction(1), Fraction(1)))
    return Mass(
        grams=volume.middle * weighing.grams,
        low=volume.low * low * least,
        high=volume.high * high * most,
        basis=weighing.basis,
    )


def is_level(line: Ingredient, food: Food) -> bool:
    """Whether every hand fills a cup with a food alike: what is poured, or a block (butter)."""
    weighing = density(food, measured_form(line))
    block = food.state == "solid" and weighing is not None and weighing.exact_form and not weighing.form
    return block or food.state in LEVELLED


def agrees(line: Ingredient, weight: Quantity, volume: Quantity) -> bool:
    """Whether both may be one amount of a line's food; False where the larder cannot tell."""
    expected = weight_of_volume(line, volume)
    if expected is None or line.food is None:
        return False
    return not is_apart(weight, expected, POURED_APART if is_level(line, line.food) else PILED_APART)


def is_apart(given: Quantity, expected: Mass, off: Fraction) -> bool:
    """Whether ``given`` lies outside what is expected by more than ``off`` and its own last digit."""
    digit = _last_digit(given)
    return given.low - digit > expected.high * (1 + off) or given.high + digit < expected.low / (1 + off)


def _ways(line: Ingredient) -> tuple[Fraction, Fraction] | None:
    """Grams per millilitre, least and most, where the line leaves open how the measure is filled."""
    if line.food is None or line.form:
        return None
    if line.food.state in LEVELLED:
        return handling(line.food)
    forms = {row.form for row in line.food.measures}  # halves or chopped: after the comma it may be either
    cut = [weighing for form in forms if (weighing := density(line.food, form)) is not None]
    return (min(weighing.low for weighing in cut), max(weighing.high for weighing in cut)) if cut else None


def _last_digit(given: Quantity) -> Fraction:
    """Half of the last digit of a metric figure, in base units: 0.5 g for 4 g, 0.05 g for 2.5 g."""
    if given.unit.system is not System.METRIC:
        return Fraction(0)
    value = given.unit.from_base(given.low)
    places = next((places for places in range(3) if (value * 10**places).denominator == 1), 3)
    places = max(places, 2) if given.unit.size >= 1000 else places  # "1 kg" means no half kilogram
    return given.unit.size / Fraction(2 * 10**places)
