"""What an edition's authorities ask of heat and cold, and the cautions of the tables in its words.

A figure of the author's that another market's authority finds too mild is a finding, never changed: only the
author can say that the dish is as good at the stricter one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache
from math import ceil

from cardsmith.edition.asks import asked
from cardsmith.edition.markets import EDITIONS, Market, markets
from cardsmith.finding import Finding
from cardsmith.frozen import frozen
from cardsmith.language.spans import Measured, Purpose, Span, Words
from cardsmith.measure.patterns import cell, is_of
from cardsmith.measure.published_heats import published
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table

HALF = Fraction(1, 2)  # °C that a figure may stand off, which is that of its other scale
WARM = Fraction(45)  # °C; what is held above it is kept hot
KEPT = Fraction(15)  # °C; a refrigerator is no warmer, so what is above it is something else


@frozen
class Limit:
    """What an authority asks: at least, or at most, so many °C."""

    name: str  # of what it is asked: poultry
    purpose: Purpose
    foods: tuple[str, ...]  # patterns of the foods it is asked of; none for all
    least: bool
    celsius: Fraction
    seconds: Fraction  # that it is held for, where a milder heat will do for it; else 0
    said: str
    source: str


@cache
def limits(key: str) -> tuple[Limit, ...]:
    """What is asked in an edition."""
    return tuple(
        Limit(
            name=row["name"],
            purpose=Purpose(row["purpose"]),
            foods=cell(row["foods"]),
            least=row["bound"] == "least",
            celsius=Fraction(row["celsius"]),
            seconds=Fraction(row["seconds"] or 0),
            said=row["said"],
            source=row["source"],
        )
        for row in table("edition_safety")
        if row["edition"] == key
    )


def usual(name: str) -> Limit:
    """What is asked of a thing by the first authority that has a figure for it."""
    return next(limit for key in EDITIONS for limit in limits(key) if limit.name == name)


def asked_in(market: Market) -> Iterator[Limit]:
    """What is asked in an edition, with a house's own figures where it is stricter."""
    own, there = dict(market.stricter), limits(market.key)
    for stricter in there:
        if stricter.name not in own:
            yield stricter
    for name, celsius in own.items():  # what an authority takes for its own figure is not as strict as this
        limit = next((other for other in there if other.name == name), None) or usual(name)
        yield replace(limit, celsius=celsius, said=f"{float(celsius):g} °C", source="the house's own figure")


def too_mild(recipe: Recipe, market: Market) -> Iterator[Finding]:
    """Each heat of the author's that is milder than an edition's authority asks."""
    foods = [line.food for line in recipe.ingredients if line.food]
    wanted = [
        limit
        for limit in asked_in(market)
        if not limit.foods or any(is_of(food, limit.foods) for food in foods)
    ]
    for span, held in _temperatures(recipe):
        for limit in wanted:
            if limit.seconds or limit.purpose is not span.purpose or not _is_milder(span, limit):
                continue
            if span.purpose is Purpose.CORE and _as_printed(span, market) >= limit.celsius:
                continue
            if not any(_is_equal(other, limit, span, held) for other in wanted):
                yield asked(
                    span.where,
                    f"in the {market.name} “{span.text}” is milder than {limit.said} ({limit.source})",
                    f"the stricter of the two, {limit.said}, if the dish bears it",
                    span.text,
                    name="edition-heat-too-mild",
                )


def _is_milder(span: Measured, limit: Limit) -> bool:
    low, high = span.quantity.low, span.quantity.high
    if limit.least:
        of_this_kind = limit.purpose is not Purpose.HOLDING or low > WARM
        return of_this_kind and low < limit.celsius - HALF
    return high < KEPT and high > limit.celsius + HALF


def _as_printed(span: Measured, market: Market) -> Fraction:
    """The °C in which an edition has a core temperature of the author's: upwards, or as it is published."""
    quantity = span.quantity
    if quantity.unit.system is not System.US:
        return quantity.low
    pairs = published(market.key)[System.US]
    return pairs.get(quantity.unit.from_base(quantity.low), Fraction(ceil(quantity.low)))


def _is_equal(other: Limit, limit: Limit, span: Measured, held: Fraction) -> bool:
    """Whether a milder heat is as good, since the step holds the food there for as long as that asks."""
    return other.name == limit.name and 0 < other.seconds <= held and not _is_milder(span, other)


def _temperatures(recipe: Recipe) -> Iterator[tuple[Measured, Fraction]]:
    """Each temperature of the steps, with the seconds that it is held for; then of the storage."""
    for step in recipe.steps:
        for place, span in enumerate(step.spans):
            if isinstance(span, Measured) and _is_heat(span):
                yield span, _held(step.spans[place + 1 : place + 3])
    spans = spans_of(recipe, recipe.storage, recipe.where) if recipe.storage else ()
    yield from ((span, Fraction(0)) for span in spans if isinstance(span, Measured) and _is_heat(span))


def _held(behind: Sequence[Span]) -> Fraction:
    """The seconds for which a heat is held: "65 °C inside for 12 minutes"; 0 where it is only reached."""
    match behind:
        case [Words(text=text), Measured(quantity=time)] if time.dimension is Dimension.DURATION:
            words = text.lower().split()
            return time.low if words[-1:] == ["for"] and _HOLDING.issuperset(words) else Fraction(0)
    return Fraction(0)


# All that may stand between a heat and the time that food is held at it.
_HOLDING = frozenset("for and hold held keep kept it them there inside in at the middle centre".split())


def _is_heat(span: Measured) -> bool:
    return span.quantity.dimension is Dimension.TEMPERATURE


def caution_in(text: str, key: str) -> str:
    """A caution of the tables as an edition prints it."""
    return _cautions(markets()[key].words).get(text, text)


@cache
def _cautions(words: str) -> Mapping[str, str]:
    return {row["us"]: row[words] for row in table("edition_cautions")}


@cache
def caution_texts() -> frozenset[str]:
    """Every caution of the tables in the words of any edition that has its own."""
    return frozenset(text for row in table("edition_cautions") for text in (row["us"], row["uk"], row["au"]))
