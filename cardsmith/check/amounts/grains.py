"""Rice and other grain that takes up all its water, against how much it can take."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from cardsmith.check.amounts.taken_by_steps import taken
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import grams, number
from cardsmith.facts.method.dish import dish
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.spans import Kind
from cardsmith.measure.patterns import cell, is_of
from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Ingredient
from cardsmith.recipe.weighed import Mass, weigh
from cardsmith.reference import OURS, Tables
from cardsmith.regex import regex

POURED = ("role:liquid", "role:stock", "role:milk", "role:alcohol", "key:water", "key:*-juice", "key:ice")
GRAIN = ("role:grain", "role:rice", "role:legume", "key:*pasta*", "key:*noodle*")
# Only grain that is left dry and apart has taken up all there was.
ABSORBED = regex(r"\b(?:absorb\w*|fluff\w*|soaked up|taken up|(?:pan|pot) is dry|holes? (?:appear|form))\b")
AWAY = regex(r"\b(?:drain\w*|strain\w*|colander|excess|pour off|soup|broth|ladleful|at a time)\b")
WATER = regex(r"\W+(?:of )?(?:the )?(?:\w+ ){0,2}water\b")


@frozen
class Drinks:
    """How much liquid a gram of a raw grain takes up, in grams: the least and most that any cook gives it."""

    name: str
    foods: tuple[str, ...]
    low: Fraction
    usual_low: Fraction
    usual_high: Fraction
    high: Fraction
    absurd_high: Fraction


@cache
def drinks(tables: Tables = OURS) -> tuple[Drinks, ...]:
    """Every row of ``grain_liquids.csv``."""
    numbers = ("low", "usual_low", "usual_high", "high", "absurd_high")
    return tuple(
        Drinks(
            name=row["name"],
            foods=cell(row["foods"]),
            **{figure: Fraction(row[figure]) for figure in numbers},
        )
        for row in tables.rows("grain_liquids")
    )


@check(
    "grain-liquid-off",
    Severity.WARNING,
    why="Grain that takes up all its water is soup with too much of it, and hard at heart with too little.",
    source=f"grain_liquids.csv: {PRACTICE}",
    remedy="measure grain and liquid again, or say that it is drained",
)
def grain_liquid_off(subject: Subject) -> Iterator[Query]:
    """Rice, quinoa, couscous or bulgur cooked until dry in far more, or far less, than it takes up.

    An error where it is so much that the dish is soup.
    """
    known = dish(subject.recipe, subject.larder)
    grains = [place for place, identity in enumerate(known.foods) if is_of(identity.food, GRAIN)]
    if len(grains) != 1 or known.foods[grains[0]].ready or grains[0] not in subject.masses:
        return  # lentils beside it drink too
    (place,) = grains
    rule = next(
        (drink for drink in drinks(subject.tables) if is_of(known.foods[place].food, drink.foods)), None
    )
    span = _cooking(subject, place) if rule is not None else None
    if rule is None or span is None:
        return
    liquid, is_all = _poured(subject, span)
    grain = subject.masses[place].grams
    if not liquid or not grain:
        return
    share = liquid / grain
    wet = sum(
        (mass.grams * line.food.share("water") for line, mass in _all(subject, place) if line.food),
        Fraction(0),
    )
    if share > rule.high or (is_all and max(wet, liquid) < rule.low * grain):
        usual = f"{number(rule.usual_low, 2)} to {number(rule.usual_high, 2)}"
        yield query(
            subject.recipe.ingredients[place],
            f"{grams(liquid)} of liquid for {grams(grain)} of {rule.name} that takes it all up: "
            f"{number(share, 2)} times its weight, where {usual} is usual",
            f"about {grams(grain * (rule.usual_low + rule.usual_high) / 2)} of liquid would be usual",
            Severity.ERROR if share > rule.absurd_high else None,
        )


def _all(subject: Subject, grain: int) -> Iterator[tuple[Ingredient, Mass]]:
    """Every other line that has a weight."""
    lines = subject.recipe.ingredients
    return ((lines[at], mass) for at, mass in subject.masses.items() if at != grain)


def _cooking(subject: Subject, grain: int) -> range | None:
    """The steps up to that in which the grain has taken up its liquid; None where it is drained."""
    spoken = subject.mentions.steps_of(grain)
    parts = [number for number, part in enumerate(subject.recipe.parts) for _ in part.steps]
    for at in range(spoken[0] if spoken else 0, len(parts) if spoken else 0):
        step_text = subject.steps[at].text.lower()
        if parts[at] == parts[spoken[0]] and ABSORBED.search(step_text):
            first = parts.index(parts[at])
            away = any(AWAY.search(field.text.lower()) for field in subject.steps[spoken[0] : at + 1])
            return None if away else range(first, at + 1)
    return None


def _poured(subject: Subject, steps: range) -> tuple[Fraction, bool]:
    """Grams of what is poured in these steps, and whether all of it has an amount."""
    total, whole, tap = Fraction(0), True, True
    for place, line in enumerate(subject.recipe.ingredients):
        spoken = [use for use in taken(subject, place) if use.step.number - 1 in steps]
        if not is_of(line.food, POURED) or not spoken:
            continue
        tap = tap and not is_of(line.food, ("key:water",))
        parts = [mass.grams for use in spoken if use.amount and (mass := weigh(line, use.amount))]
        listed = subject.masses.get(place)
        whole = whole and bool(parts or listed)
        total += sum(parts) if parts else listed.grams if listed else 0
    for step in (subject.steps[at] for at in steps if tap):
        values = [
            span.quantity.middle
            for at, span in step.measures(Kind.AMOUNT)
            if span.quantity.dimension is Dimension.VOLUME and WATER.match(step.text, at + len(span.text))
        ]
        whole = whole and (bool(values) or "water" not in step.text)
        total += sum(values)  # a millilitre weighs a gram
    return total, whole
