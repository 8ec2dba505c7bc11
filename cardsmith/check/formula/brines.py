"""What food lies in: salt in water, far beyond what seasons meat; a brine too warm to sour."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import grams, percent
from cardsmith.facts.dangers.plants import vegetables_souring
from cardsmith.facts.dangers.spoilage import is_animal
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.finding import Severity
from cardsmith.measure.patterns import is_of
from cardsmith.measure.units import Dimension
from cardsmith.regex import regex

A_BATH = 250  # g of water; in less nothing lies, and it is a seasoning: common practice, no source
STRONG = Fraction(15, 100)  # of the water; common practice, no source
DROWNED = Fraction(20, 100)  # twice the strongest brine of 3 to 10 %: common practice, no source
LIES = regex(r"\b(?:brin(?:e|es|ed|ing)|submerg\w*|immers\w*|lower in|lies? in)\b")


@check(
    "brine-too-strong",
    Severity.WARNING,
    why="Meat that lies in so much salt comes out too salty to eat.",
    source=PRACTICE + ": 3 to 10 % of the water",
    remedy="check both amounts: 50 to 60 g of salt to a litre of water is usual",
)
def brine_too_strong(subject: Subject) -> Iterator[Query]:
    """Meat or fish in water with more than 15 % of salt; an error beyond 20 %."""
    known = dish(subject.recipe, subject.larder)
    places = range(len(known.foods))
    if not any(is_animal(known, place) for place in places):
        return
    clauses = known.histories.clauses
    if not any(clause.says(LIES) for clause in clauses):
        return
    for clause in clauses:
        lines = {mention.line for mention in clause.mentions}
        salt = next(
            (place for place in sorted(lines) if is_of(known.foods[place].food, ("role:salt",))), None
        )
        water = sum((_water(subject, known, place) for place in lines), Fraction(0))
        mass = subject.masses.get(salt) if salt is not None else None
        if salt is not None and mass is not None and water > A_BATH and mass.grams > water * STRONG:
            line, share = known.line(salt), percent(mass.grams / water)
            what = f"{grams(mass.grams)} of {line.item} is {share} of the water"
            grave = mass.grams > water * DROWNED
            yield query(line, what, severity=Severity.ERROR if grave else None)
            return


def _water(subject: Subject, known: Dish, place: int) -> Fraction:
    """The grams of a line that is water, or buttermilk or the like, in which salt is stirred; else 0."""
    mass, amount = subject.masses.get(place), known.line(place).amount
    poured = amount is not None and amount.dimension is Dimension.VOLUME
    wet = is_of(known.foods[place].food, ("key:water", "key:ice", "role:liquid", "role:alcohol"))
    return mass.grams if wet and poured and mass is not None else Fraction(0)


@check(
    "ferment-too-warm",
    Severity.WARNING,
    why="In the warm vegetables soften and spoil before they sour, and what sours them dies.",
    source="USDA Complete Guide to Home Canning, sauerkraut: 70 to 75 °F, spoils above 80 °F (memory)",
    remedy="keep it at 18 to 24 °C (65 to 75 °F)",
)
def ferment_too_warm(subject: Subject) -> Iterator[Query]:
    """Vegetables that sour in salt for days above 28 °C (82 °F); an error above 35 °C (95 °F)."""
    known = dish(subject.recipe, subject.larder)
    if not vegetables_souring(known, 0) or any(is_animal(known, index) for index in range(len(known.foods))):
        return
    for step in subject.steps:
        for at, span in step.temperatures():
            begins, ends = step.sentence_at(at)
            warm = SPOILS < span.quantity.high < COOKS
            if warm and step.surely(begins, ends) >= DAYS and not DRIES.search(step.text, begins, ends):
                grave = span.quantity.low > KILLS
                what = f"“{span.text}” is too warm for vegetables to sour in"
                yield query(step.spot(span.text, at), what, severity=Severity.ERROR if grave else None)
                return


SPOILS, KILLS, COOKS = 28, 35, 70  # °C
DAYS = 2 * 86400  # s
DRIES = regex(r"\b(?:dehydrat\w*|dry|dried|oven)\b", re.IGNORECASE)
