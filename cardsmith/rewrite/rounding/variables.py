"""What there is to print of a recipe: one variable a number, with the draws from it, and what governs.

One `Variable` is one number: an ingredient's amount with its draws, or an amount that several parts share.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from cardsmith.facts.foods.roles import role_class
from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.language.spans import Draw
from cardsmith.last_result import remembered
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import WEIGHED, Dimension
from cardsmith.recipe.mentions.extras import drawn_extras
from cardsmith.recipe.model import Part, Recipe
from cardsmith.rewrite.rounding.food_amount import FoodAmount, food_amount_of

LEAST_SHARE = Fraction(1, 20)  # of the governing mass of a part; what is less does not govern
MOST = Fraction(3, 5)  # of a part's mass: common practice, no source


@frozen
class Drawn:
    """One draw from a divided ingredient."""

    where: Where
    written: str
    subject: FoodAmount
    added: bool = False  # beyond what the line lists: the 10 g for the tin
    alone: bool = False  # of a line that no draws divide


@frozen
class Variable:
    """One number to print, wherever it stands."""

    subject: FoodAmount
    written: str
    lines: tuple[Where, ...]  # the ingredient lines that print it
    parts: frozenset[int]  # those whose ratios it governs
    draws: tuple[Drawn, ...] = ()
    item: str = ""

    @property
    def governing(self) -> bool:
        """Whether any ratio of the formula rests on it."""
        return bool(self.parts)

    def times(self, factor: Fraction) -> Variable:
        """The same number in a batch ``factor`` times as large."""
        draws = tuple(replace(draw, subject=draw.subject.times(factor)) for draw in self.draws)
        return replace(self, subject=self.subject.times(factor), draws=draws)


def _roundable(amount: Quantity | None) -> bool:
    return _is_measured(amount) and amount is not None and not amount.is_range


def _is_measured(amount: Quantity | None) -> bool:
    return amount is not None and not amount.is_vague and amount.low > 0


def variables(recipe: Recipe) -> list[Variable]:
    """One variable a number: lines of the same food, form and amount share one, unless divided."""
    drawn_from = draws(recipe)
    by_name: dict[object, Variable] = {}
    for place, part in enumerate(recipe.parts):
        governing = governors(part)
        for line in part.ingredients:
            amount = line.amount
            if amount is None or not _roundable(amount):
                continue
            subject = food_amount_of(amount, line)
            drawn = drawn_from.get(line.key, ()) if line.key else ()
            adding_up = () if _is_loose(drawn) else drawn
            extras = tuple(draw for draw in adding_up if draw.added)
            drawn = tuple(draw for draw in adding_up if not draw.added)
            food = line.food.key if line.food else line.item
            name = line.where if drawn else (food, _as_said(subject))
            known = by_name.get(name)
            by_name[name] = Variable(
                subject=subject,
                written=amount.written,
                lines=(*(known.lines if known else ()), line.where),
                parts=(known.parts if known else frozenset())
                | ({place} if line.where in governing else set()),
                draws=drawn,
                item=line.item,
            )
            for extra in extras:
                by_name[extra.where] = Variable(
                    subject=extra.subject,
                    written=extra.written,
                    lines=(extra.where,),
                    parts=frozenset(),
                    item=line.item,
                )
    return list(by_name.values())


def _as_said(subject: FoodAmount) -> FoodAmount:
    """The subject without its author's spelling, so that two lines of one amount are one."""
    return replace(
        subject,
        amount=replace(subject.amount, written=""),
        count=subject.count and replace(subject.count, written=""),
        said=tuple(replace(size, written="") for size in subject.said),
    )


def governors(part: Part) -> frozenset[Where]:
    """The lines whose ratios make the formula: flour, liquid, sugar, fat, egg; not a spoonful of honey."""
    masses: dict[Where, Fraction] = {}
    for line in part.ingredients:
        amount = line.amount
        aside = line.for_use or line.optional or line.to_taste
        if amount is None or not _roundable(amount) or aside or role_class(line.food) != "governing":
            continue
        masses[line.where] = _grams(food_amount_of(amount, line))
    whole = sum(masses.values(), Fraction(0))
    return frozenset(where for where, mass in masses.items() if mass >= whole * LEAST_SHARE and mass)


def formulas(recipe: Recipe) -> frozenset[int]:
    """The parts that a reader tastes a drift of: what governs is most of what they weigh.

    The butter and flour of a cheese sauce, the sugar and oil of a burger drift within a dish.
    """
    return frozenset(place for place, part in enumerate(recipe.parts) if _is_formula(part))


def _is_formula(part: Part) -> bool:
    governing, mass, whole = governors(part), Fraction(0), Fraction(0)
    for line in part.ingredients:
        if line.amount is not None and _is_measured(line.amount):
            grams = _grams(food_amount_of(line.amount, line))
            whole += grams
            mass += grams if line.where in governing else 0
    return mass >= MOST * whole


def _grams(subject: FoodAmount) -> Fraction:
    """The mass of a subject in grams; nothing where the larder cannot tell."""
    if subject.dimension is Dimension.MASS:
        return subject.exact
    weighed = {Dimension.COUNT: subject.one, Dimension.VOLUME: subject.density}.get(subject.dimension)
    return weighed.mass(subject.amount).low if weighed else Fraction(0)


def loose_draws(recipe: Recipe) -> Iterator[Drawn]:
    """Draws that needn't add up to their line as printed: it or one of them is a range, or stands alone."""
    ranges = {line.key for line in recipe.ingredients if line.amount and line.amount.is_range}
    for key, drawn in draws(recipe).items():
        if key in ranges or _is_loose(drawn):
            yield from drawn


def _is_loose(drawn: tuple[Drawn, ...]) -> bool:
    return any(draw.alone or draw.subject.amount.is_range for draw in drawn)


@remembered  # the columns and the reading back ask in turn
def draws(recipe: Recipe) -> dict[str, tuple[Drawn, ...]]:
    """The draws with an amount, a share or the rest, by ingredient key, each exact."""
    lines = {line.key: line for line in recipe.ingredients if line.key and _is_measured(line.amount)}
    spans = [
        span for step in recipe.steps for span in step.spans if isinstance(span, Draw) and span.key in lines
    ]
    by_key: dict[str, tuple[Drawn, ...]] = {}
    for key, line in lines.items():
        if line.amount is None:
            continue
        mine = [span for span in spans if span.key == key]
        whole = _drawn_from(food_amount_of(line.amount, line), mine)
        left = whole.amount
        drawn: list[Drawn] = []
        extras = drawn_extras(line, mine)
        for span in mine:
            extra = extras.get(span.where)
            taken = extra.amount if extra else _taken(span, whole, left)
            if taken is not None and taken.low > 0:
                left = left if extra else _less(left, taken)
                subject = whole.alone(taken)
                drawn.append(
                    Drawn(
                        where=span.where,
                        written=span.text,
                        subject=subject,
                        added=extra is not None,
                        alone=span.alone,
                    )
                )
        by_key[key] = tuple(drawn)
    return by_key


def _drawn_from(whole: FoodAmount, mine: list[Draw]) -> FoodAmount:
    """What draws are taken from: of a stick of which 6 tbsp are drawn, its grams."""
    measured = any(span.amount is not None and span.amount.dimension in WEIGHED for span in mine)
    counted = whole.dimension is Dimension.COUNT and whole.one is not None
    return whole.alone(whole.one.mass(whole.amount)) if measured and counted and whole.one else whole


def _less(left: Quantity, taken: Quantity) -> Quantity:
    """What is left; of an exact amount, the more is taken, the less."""
    low, high = sorted((left.low - taken.low, left.high - taken.high))
    return replace(left.minus(taken), low=low, high=high)


def _taken(span: Draw, whole: FoodAmount, left: Quantity) -> Quantity | None:
    """How much a draw takes, in the dimension of the list; None where it only names the ingredient."""
    if span.rest:
        return left
    if span.share is not None:
        return whole.amount.times(span.share)
    if span.amount is None:
        return None
    given = span.amount
    if given.dimension is whole.dimension:
        return given
    dense = whole.density
    if dense and (given.dimension, whole.dimension) == (dense.per, Dimension.MASS):
        return dense.mass(given)
    if dense and (given.dimension, whole.dimension) == (Dimension.MASS, dense.per):
        return dense.amount(given, whole.amount.unit)
    return None
