"""How hot the oven is, against what a kind of recipe is baked in."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from cardsmith.check.fields import oven_settings
from cardsmith.check.formula.likely import named_kind
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.measure.patterns import cell
from cardsmith.reference import table


@frozen
class OvenHeats:
    """How hot the oven is for some kinds, at the least and most, and usually; in °C."""

    kinds: frozenset[str]
    told: str
    least: Fraction
    usual_least: Fraction
    usual_most: Fraction
    most: Fraction
    unless: Phrases | None


@cache
def oven_heats() -> tuple[OvenHeats, ...]:
    """Every kind whose oven is judged.

    Raises:
        ValueError: figures are out of order.
    """
    rows = tuple(
        OvenHeats(
            kinds=frozenset(cell(row["kinds"])),
            told=row["told"],
            least=Fraction(row["least_celsius"]),
            usual_least=Fraction(row["usual_least_celsius"]),
            usual_most=Fraction(row["usual_most_celsius"]),
            most=Fraction(row["most_celsius"]),
            unless=phrases(row["unless"]),
        )
        for row in table("oven_heats")
    )
    for heats in rows:
        if not heats.least < heats.usual_least < heats.usual_most < heats.most:
            raise ValueError(f"oven_heats.csv: {heats.told}: the figures are out of order")
    return rows


@check(
    "oven-heat-unlikely",
    Severity.WARNING,
    why="In a fierce oven the crust burns before the middle is done; in a cool one nothing rises or browns.",
    source="oven_heats.csv: " + PRACTICE,
    remedy="write the setting you baked at",
)
def oven_heat_unlikely(subject: Subject) -> Iterator[Query]:
    """An oven far hotter or cooler than a kind of recipe is baked in; an error where nobody bakes it so."""
    rule = next(
        (oven_heat for oven_heat in oven_heats() if (subject.kind or named_kind(subject)) in oven_heat.kinds),
        None,
    )
    texts = " ".join((subject.recipe.title, *(step.text for step in subject.steps)))
    if rule is None or (rule.unless and rule.unless.search(texts)):
        return
    heats = oven_settings(subject.steps)
    hottest = max(heats, key=lambda entry: entry[2].quantity.low, default=None)
    if hottest is None:
        return
    step, at, span = hottest
    celsius = span.quantity.low
    if rule.usual_least <= celsius <= rule.usual_most:
        return
    grave = not rule.least <= celsius <= rule.most
    usual = f"{number(rule.usual_least)} to {number(rule.usual_most)} °C"
    sort = "too hot" if celsius > rule.usual_most else "too cool"
    what = f"“{span.text}” is {sort} for {rule.told}, which bakes at {usual}"
    yield query(step.spot(span.text, at), what, severity=Severity.ERROR if grave else None)
