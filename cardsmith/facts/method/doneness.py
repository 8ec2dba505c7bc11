"""How hot the inside of a food must get by the published charts, and for how long at less."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import log, pi

from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.foods.roles import EGGS
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Food
from cardsmith.measure.patterns import cell, is_of
from cardsmith.measure.units import units
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import table
from cardsmith.regex import regex

FAHRENHEIT = units()["degree Fahrenheit"]
ROUNDED = Fraction(1, 5)  # °C: charts print 160 °F as 71 °C, which is 159.8 °F
EGG_DISH = FAHRENHEIT.to_base(Fraction(160))  # FoodSafety.gov chart


@frozen
class Minimum:
    """What a food must reach inside, in °C; None where it is ready to eat, or only a sign is published."""

    food: str
    foods: tuple[str, ...]
    least: Fraction | None
    rest: Fraction  # seconds
    cue: Phrases | None
    source: str


@cache
def minimums() -> tuple[Minimum, ...]:
    """The published minimums; of the rows that fit a food the first holds."""
    return tuple(
        Minimum(
            food=row["food"],
            foods=cell(row["foods"]),
            least=FAHRENHEIT.to_base(Fraction(row["fahrenheit"])) if row["fahrenheit"] else None,
            rest=60 * Fraction(row["rest_minutes"] or 0),
            cue=phrases(row["cue"]),
            source=row["source"],
        )
        for row in table("doneness")
    )


def minimum(line: Ingredient, food: Food | None) -> Minimum | None:
    """The minimum for a line whose food is ``food``; ground where the cook has it ground."""
    by_food = _of(food)
    if by_food is not None and by_food.food == "whole cuts" and _GROUND.search(line.text):
        return next(other for other in minimums() if other.food == "ground meat")
    return by_food


_GROUND = regex(r"\b(?:ground|minced|mince)\b", re.IGNORECASE)


@cache
def _of(food: Food | None) -> Minimum | None:
    return next((other for other in minimums() if is_of(food, other.foods)), None)


@cache
def least(food: Food | None) -> Fraction | None:
    """°C that the inside of a food must reach; None where there is no figure."""
    if is_of(food, EGGS):
        return EGG_DISH
    by_food = _of(food)
    return by_food.least if by_food else None


@cache
def pairs() -> tuple[tuple[tuple[str, ...], Fraction, Fraction], ...]:
    """Foods, °C and seconds that together are as safe as the minimum."""
    return tuple(
        (cell(row["foods"]), FAHRENHEIT.to_base(Fraction(row["fahrenheit"])), Fraction(row["seconds"]))
        for row in table("doneness_pairs")
    )


def is_paired(food: Food | None, celsius: Fraction, seconds: Fraction) -> bool:
    """Whether a published time at a lower temperature was kept."""
    held = hold(food, celsius)
    return held is not None and seconds >= held


def hold(food: Food | None, celsius: Fraction) -> Fraction | None:
    """The seconds for which the inside must stay at ``celsius``; 0 from the minimum, None below all pairs."""
    need = least(food)
    if need is None or celsius + ROUNDED >= need:
        return Fraction(0)
    return min(
        (held for foods, low, held in pairs() if is_of(food, foods) and celsius + ROUNDED >= low),
        default=None,
    )


@cache
def _bath_times() -> tuple[tuple[Fraction, Fraction], ...]:
    return tuple((Fraction(row["millimetres"]), Fraction(row["seconds"])) for row in table("bath_times"))


def bath_time(millimetres: Fraction) -> Fraction | None:
    """Seconds until the middle of a slab so thick is within 0.5 °C of its bath; None beyond the table."""
    rows = _bath_times()
    for (thin, quick), (thick, slow) in pairwise(((Fraction(0), Fraction(0)), *rows)):
        if millimetres <= thick:
            return quick + (slow - quick) * (millimetres - thin) / (thick - thin)
    return None


def bath_needs(food: Food | None, bath: Fraction, millimetres: Fraction) -> Fraction | None:
    """The least seconds in a bath after which the middle of a slab is safe; None where no time makes it so.

    Of all published pairs that the bath can reach, the one that is over soonest: the time to warm the middle
    to it, and then the time at it.
    """
    need = least(food)
    within = bath_time(millimetres)
    if need is None or within is None:
        return None
    goals = [(need, Fraction(0))]
    goals += [(celsius, held) for foods, celsius, held in pairs() if is_of(food, foods)]
    return min(
        (within * _slower(bath, celsius) + held for celsius, held in goals if celsius <= bath + ROUNDED),
        default=None,
    )


def _slower(bath: Fraction, celsius: Fraction) -> Fraction:
    """How many times as long as to 0.5 °C below the bath it takes to warm the middle to ``celsius``.

    What the middle lacks of the bath's heat falls by the same share in the same time: the first term of
    Fourier's series for a slab, 4/π of the difference at the start (Carslaw and Jaeger, Conduction of Heat in
    Solids; memory).
    """
    start = Fraction(4 / pi) * max(bath - FRIDGE, Fraction(1))
    short = max(bath - celsius, ROUNDED)
    return Fraction(log(start / short) / log(start / HALF)).limit_denominator(1000)


FRIDGE = Fraction(5)  # °C: the table starts from there
HALF = Fraction(1, 2)  # °C that the middle is short of its bath when the table's time is up
