"""Which draws of a method take what a line adds for a use of its own: [10 g](#butter) for the tin."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from cardsmith.finding import Where
from cardsmith.language.spans import Draw
from cardsmith.recipe.model import Extra, Ingredient


def drawn_extras(line: Ingredient, draws: Iterable[Draw]) -> Mapping[Where, Extra]:
    """The added extra of ``line`` that each of its ``draws`` takes, by where the draw stands.

    A draw takes an extra by saying just that amount; each is taken once, and none where the draws make up
    the line without it.
    """
    known = [one for one in draws if one.amount is not None]
    alike = (one.amount.middle for one in known if one.amount and _is_of(line, one))
    if line.amount is not None and sum(alike, Fraction(0)) == line.amount.middle:
        return {}
    found: dict[Where, Extra] = {}
    for extra in (one for one in line.extras if one.added and one.amount is not None):
        taker = next((one for one in known if one.where not in found and _takes(one, extra)), None)
        if taker is not None:
            found[taker.where] = extra
    return found


def _is_of(line: Ingredient, draw: Draw) -> bool:
    return bool(draw.amount and line.amount and draw.amount.dimension is line.amount.dimension)


def _takes(draw: Draw, extra: Extra) -> bool:
    one, other = draw.amount, extra.amount
    return bool(one and other and one.dimension is other.dimension and one.middle == other.middle)
