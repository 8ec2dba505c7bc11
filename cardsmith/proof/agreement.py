"""The statement of agreement: how many numbers, the worst error, how far the ratios moved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.card.model import Card, CardIngredient
from cardsmith.rewrite.card.numbers import CardNumber
from cardsmith.rewrite.rounding.joint import drift
from cardsmith.rewrite.rounding.variables import governors


@frozen
class Worst:
    """The number of one column with the largest relative error."""

    system: str  # us, metric
    number: CardNumber
    error: Fraction


@frozen
class Drift:
    """The largest shift that rounding made in a ratio of one part's governing ingredients."""

    part: str  # empty for a recipe of one part
    governing: tuple[str, ...]  # the ingredients whose ratios make the formula
    moved: tuple[Fraction, ...]  # in each printed column, in the order of the house
    limit: Fraction

    @property
    def held(self) -> bool:
        """Whether every printed column keeps the house's limit."""
        return max(self.moved) <= self.limit


@frozen
class Agreement:
    """The whole statement."""

    numbers: int
    measured: int  # of these, measures that have an error
    exact: int  # of these, exact in every printed column
    columns: int  # that the house prints
    worst: tuple[Worst, ...]  # of each column, among amounts and measures; none where all are exact
    drifts: tuple[Drift, ...]


def agreement(card: Card, numbers: Sequence[CardNumber], house: House) -> Agreement:
    """The statement for a card and its table of numbers."""
    errors = [[number.error(system) for system in house.order] for number in numbers]
    measured = [of_number for of_number in errors if any(error is not None for error in of_number)]
    return Agreement(
        numbers=len(numbers),
        measured=len(measured),
        exact=sum(not any(of_number) for of_number in measured),
        columns=len(house.order),
        worst=tuple(_worst(numbers, house)),
        drifts=tuple(_drifts(card, house)),
    )


def _worst(numbers: Sequence[CardNumber], house: House) -> Iterator[Worst]:
    shares = [number for number in numbers if not number.in_degrees]
    for system in house.order:
        errors = [(abs(error), share) for share in shares if (error := share.error(system)) is not None]
        if errors:
            _, worst = max(errors, key=lambda pair: pair[0])
            yield Worst(system=system, number=worst, error=worst.error(system) or Fraction(0))


def _drifts(card: Card, house: House) -> Iterator[Drift]:
    recipe: Recipe = card.recipe
    for part, printed in zip(recipe.parts, card.parts, strict=True):
        places = governors(part)
        lines = [line for line in printed.ingredients if line.line.where in places and line.amount]
        if len(lines) > 1:
            yield Drift(
                part=printed.name,
                governing=tuple(line.item for line in lines),
                moved=tuple(drift(_errors(lines, system)) for system in house.order),
                limit=house.ratio_limit,
            )


def _errors(lines: Sequence[CardIngredient], system: str) -> list[Fraction]:
    duals = [line.amount for line in lines if line.amount]
    return [dual.as_used(system) for dual in duals]
