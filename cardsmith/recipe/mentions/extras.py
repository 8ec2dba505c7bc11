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
    known = [draw for draw in draws if draw.amount is not None]
    alike = (draw.amount.middle for draw in known if draw.amount and _is_of(line, draw))
    if line.amount is not None and sum(alike, Fraction(0)) == line.amount.middle:
        return {}
    by_where: dict[Where, Extra] = {}
    for extra in (extra for extra in line.extras if extra.added and extra.amount is not None):
        taker = next((draw for draw in known if draw.where not in by_where and _takes(draw, extra)), None)
        if taker is not None:
            by_where[taker.where] = extra
    return by_where


def _is_of(line: Ingredient, draw: Draw) -> bool:
    return bool(draw.amount and line.amount and draw.amount.dimension is line.amount.dimension)


def _takes(draw: Draw, extra: Extra) -> bool:
    quantity, other = draw.amount, extra.amount
    return bool(
        quantity and other and quantity.dimension is other.dimension and quantity.middle == other.middle
    )
