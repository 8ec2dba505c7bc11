"""Where bakers take soda for its colour, beyond what the acid of a list meets."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import cache

from cardsmith.check.subject import Subject
from cardsmith.frozen import frozen
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Food
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import table
from cardsmith.regex import regex

# Of the flour, the most soda that is taken for colour: 2½ teaspoons to 280 g in a cake of stout and cocoa.
MOST = Fraction(45, 1000)  # common practice, no source
STEEPS = regex(r"(?i)\b(?:steep|soak|simmer|boil|hot (?:water|tea|coffee))")


@frozen
class Browned:
    """Foods that soda is taken to darken, from so much of the flour on, as a fraction."""

    foods: tuple[str, ...]
    least: Fraction
    is_steeped: bool  # only where the soda goes into the water that they steep in


@cache
def browned_foods() -> tuple[Browned, ...]:
    """The rows of ``soda_browns.csv``."""
    return tuple(
        Browned(
            foods=tuple(row["foods"].split("|")),
            least=Fraction(row["least"]) / 100,
            is_steeped=row["steeped"] == "yes",
        )
        for row in table("soda_browns")
    )


def is_browned(subject: Subject, weighed: Iterable[tuple[Ingredient, Fraction]], flour: Fraction) -> bool:
    """Whether a list has enough of what soda darkens; masses in g."""
    lines = tuple(weighed)
    return any(
        sum((grams for line, grams in lines if _is_browned(subject, line.food, browned)), Fraction(0))
        >= max(browned.least * flour, Fraction(1))
        for browned in browned_foods()
    )


def _is_browned(subject: Subject, food: Food | None, browned: Browned) -> bool:
    steeps = not browned.is_steeped or (food is not None and food.key in _steeped(subject))
    return steeps and is_of(food, browned.foods)


@remembered  # asked of every line, for every proportion
def _steeped(subject: Subject) -> frozenset[str]:
    """The foods that some step lets stand in hot water with the soda, by their keys."""
    lines = subject.recipe.ingredients
    words: set[str] = set()
    for place, step in enumerate(subject.steps):
        if STEEPS.search(step.text):
            foods = [food for at in subject.mentions.lines_of(place) if (food := lines[at].food) is not None]
            if any(food.share("soda") > 0 for food in foods):
                words.update(food.key for food in foods)
    return frozenset(words)
