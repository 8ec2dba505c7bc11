"""What one line of a list weighs, through the larder."""

from __future__ import annotations

import re
from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.measure.larder import form_of_words
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension
from cardsmith.measure.weighing import act_of, density, weight_of_one
from cardsmith.recipe.model import Ingredient
from cardsmith.regex import regex

# An item so described was weighed or counted as it is used: "700 g peeled and cored apples".
_READY = regex(
    r"\b(?:peeled|cored|trimmed|shelled|pitted|stoned|boned|boneless|skinless|hulled|stemmed|picked|husked|podded"
    r"|prepared|chopped|sliced|diced|grated|shredded|minced|cubed|juiced|drained|cooked|ready-to-use)\b",
    re.IGNORECASE,
)


_LEAVES = regex(r"\b(?:leaf|leaves)\s*$", re.IGNORECASE)


@frozen
class Mass:
    """What a line weighs, in grams; low and high cover the range written and the ways to fill a cup."""

    grams: Fraction
    low: Fraction
    high: Fraction
    basis: str  # "weighed", or the larder's row


def measured_form(line: Ingredient) -> str:
    """The larder's form in which a cup of a line is filled.

    Words before the food count first. Words after the comma count where they tell how it is cut or pressed
    in and the larder has weighed that; but where the line gives a volume of what it has weighed uncut (1 cup
    walnuts, chopped), and where the words name what is made of it later (cream, whipped), a cup is filled
    before (common practice, no source).
    """
    if line.form:
        return line.form if act_of(line.form) else ""
    later = form_of_words(line.prep)
    if line.food is None or not later or density(line.food) is None or act_of(later) == "fill":
        return later
    by_volume = line.amount is not None and line.amount.dimension is Dimension.VOLUME
    made_later = by_volume or act_of(later) == "process" or density(line.food, later) is None
    return "" if made_later else later


def is_ready(line: Ingredient) -> bool:
    """Whether a line counts or weighs what is eaten of a food (2 peeled oranges), not what is bought.

    Words after the comma are done to what was bought: 2 oranges, peeled, are two whole oranges.
    """
    return bool(_READY.search(line.item))


def weigh(line: Ingredient, given: Quantity) -> Mass | None:
    """What ``given``, one of the sizes of ``line``, weighs; None where the larder cannot tell.

    Of a count it is what is eaten, for ratios; `weight_of_one` also says what is bought. A vague measure of
    volume (a pinch) counts at the size the trade gives it; a knob has none.
    """
    if given.dimension is Dimension.MASS:
        return Mass(grams=given.middle, low=given.low, high=given.high, basis="weighed")
    if line.food is None:
        return None
    if given.dimension is Dimension.VOLUME:
        weighing = density(line.food, measured_form(line))
    elif given.dimension is Dimension.COUNT and not given.is_vague and line.container is None:
        if _LEAVES.search(line.item) and given.unit.name == "one" and not _LEAVES.search(line.food.name):
            return None  # 12 lettuce leaves are no 12 heads
        weighing = weight_of_one(line.food, given.unit.name, line.size_sold)
    else:
        return None
    if weighing is None:
        return None
    return Mass(
        grams=given.middle * weighing.grams,
        low=given.low * weighing.low,
        high=given.high * weighing.high,
        basis=weighing.basis,
    )
