"""What one line of a list weighs, through the larder."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension
from cardsmith.measure.weighing import density, weight_of_one
from cardsmith.recipe.model import Ingredient


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
        one = weight_of_one(line.food, given.unit.name, line.size_sold)
    else:
        return None
    if one is None:
        return None
    return Mass(
        grams=given.middle * one.grams, low=given.low * one.low, high=given.high * one.high, basis=one.basis
    )
