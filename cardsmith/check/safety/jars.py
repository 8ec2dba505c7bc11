"""Jars that are sealed for the shelf: how much they hold, and the published spoon of acid for each."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from cardsmith.check.fields import Field
from cardsmith.check.subject import Subject
from cardsmith.facts.method.dish import dish
from cardsmith.frozen import frozen
from cardsmith.language.spans import Kind
from cardsmith.measure.patterns import cell, is_of
from cardsmith.measure.units import Dimension, units
from cardsmith.measure.weighing import density
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import table
from cardsmith.regex import regex

PINT = units()["pint"].size  # ml
GRAMS_A_PINT = 700  # of raw tomatoes: USDA Complete Guide, 22 lb for 7 quarts of crushed tomatoes (memory)
ROUNDED = Fraction(19, 20)  # a spoon of 15 ml stands for one of 14.79
JARS = regex(r"\b(?:jars?|bottles?)\b", re.IGNORECASE)
SEALS = regex(
    r"\b(?:canner|canning kettle|boiling[- ]water bath|process (?:the |in |for |filled |hot |jars )"
    r"|process\b[^.;]{0,30}\b(?:boiling water|jars)"
    r"|water[- ]bath (?:for|the|them)|invert the jars|turn (?:the jars|them) upside|upside[- ]down to seal"
    r"|(?:boil|heat|bake|steam) the (?:filled |sealed |closed )?jars|jars in the oven)",
    re.IGNORECASE,
)


def canned(subject: Subject) -> str:
    """The words by which the method seals jars for the shelf; empty where it does not."""
    text = " ".join(field.text for field in (*subject.steps, subject.storage))
    match = SEALS.search(text)
    jars = JARS.search(text)
    return match.group().strip() if match and jars and "food processor" not in text.lower() else ""


UNDER_PRESSURE = regex(r"\bpressure[- ](?:can\w*|gauge)", re.IGNORECASE)


def under_pressure(subject: Subject) -> bool:
    """Whether jars go into a pressure canner, by the steps or by what is listed as equipment."""
    recipe = subject.recipe
    texts = [
        recipe.title,
        *(field.text for field in subject.steps),
        *(text.text for text in recipe.equipment),
    ]
    pounds = any(step.measures(Kind.PRESSURE) for step in subject.steps)
    return pounds or any(UNDER_PRESSURE.search(text) for text in texts)


@frozen
class CanningAcid:
    """An acid of tested recipes, and the spoon of it that a pint jar needs, in ml."""

    name: str
    foods: tuple[str, ...]
    a_pint: Fraction


@cache
def canning_acids() -> tuple[CanningAcid, ...]:
    """Every acid that a jar of tomatoes or figs may have."""
    return tuple(
        CanningAcid(name=row["acid"], foods=cell(row["foods"]), a_pint=Fraction(row["millilitres_per_pint"]))
        for row in table("canning_acids")
    )


def pints(subject: Subject, place: int) -> Fraction:
    """How many pint jars the recipe fills: by its yield, by a step, or else by the weight of a line."""
    texts = (text for text in subject.fields if text.name in {"yield", "steps"})
    volume = max(
        (_volume(text) for text in sorted(texts, key=lambda field: field.name != "yield")), default=0
    )
    if volume:
        return Fraction(volume) / PINT
    mass = subject.masses.get(place)
    return mass.grams / GRAMS_A_PINT if mass is not None else Fraction(1)


def jar_size(subject: Subject) -> Fraction:
    """The ml of one jar, by the yield or by a step; a pint where neither says."""
    texts = (text for text in subject.fields if text.name in {"yield", "steps"})
    return next((size for text in texts for _, size in _counted(text)), PINT)


def _counted(text: Field) -> Iterator[tuple[Fraction, Fraction]]:
    """How many jars a text counts, and the ml of one."""
    for at, count in text.told(Kind.COUNT):
        if not JARS.search(count.noun):
            continue
        named = (units()[word].size for word in count.noun.split() if word in units())
        sizes = [measured.quantity.low for _, measured in text.measures(Kind.VESSEL, start=at)]
        size = next(named, None) or next(iter(sizes), None)
        if size is not None:
            yield count.low, size


def _volume(text: Field) -> Fraction:
    """The ml of all jars that a text counts; 0 where it counts none."""
    for count, size in _counted(text):
        return count * size
    vessels = [measured for _, measured in text.measures(Kind.VESSEL) if JARS.search(measured.noun)]
    return max((measured.quantity.low for measured in vessels), default=Fraction(0))


def acidified(subject: Subject, place: int) -> Fraction:
    """The acid listed as a share of what the jars of one line need; 1 is the published spoon for each."""
    known = dish(subject.recipe, subject.larder)
    jars = pints(subject, place)
    share = Fraction(0)
    for line_place, line in enumerate(subject.recipe.ingredients):
        for acid in canning_acids():
            if is_of(known.foods[line_place].food, acid.foods) and not line.optional:
                volume = _millilitres(line)
                share += volume / (acid.a_pint * jars) if volume is not None else 1
                break
    return share


def _millilitres(line: Ingredient) -> Fraction | None:
    """The volume of a line; None where nobody can tell."""
    for size in (line.amount, *line.stated):
        if size is not None and size.dimension is Dimension.VOLUME:
            return size.low
    if line.amount is None or line.amount.dimension is not Dimension.MASS:
        return None
    weighing = density(line.food) if line.food else None
    return line.amount.low / weighing.grams if weighing else line.amount.low
