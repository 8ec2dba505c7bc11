"""Hazards a card must warn of: which they are by the list and the method, and the words it prints."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from cardsmith.check.exposure import STATES
from cardsmith.check.fields import steps
from cardsmith.check.matching import is_of, pattern, texts
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.language.spans import Measured, Purpose
from cardsmith.measure.larder import Larder
from cardsmith.recipe.mentions import Mentions, read_mentions
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.reference import table
from cardsmith.remember import remembered

MOST = 4  # cautions on one card; more are not read: common practice, no source
LOCAL = "Follow local rules."


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazard:
    """A row of hazards.csv: everything it names must hold; of its occasions, one."""

    name: str
    rank: int  # 1 comes first on the card
    foods: tuple[str, ...]  # key:*-chile, role:nut, origin:honey; any of them
    kinds: frozenset[str]
    words: re.Pattern[str] | None
    read: frozenset[str]  # where the words are looked for
    purpose: Purpose | None
    least: Fraction  # °C
    state: str
    cancel: re.Pattern[str] | None
    caution: str
    local: bool
    action: str  # caution; review: not without a licensed review; ask: nor a caution; stop: not at all
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazardous:
    """A hazard that one recipe holds, and what gave it away."""

    hazard: Hazard
    line: Ingredient | None
    evidence: str

    @property
    def text(self) -> str:
        """What the card prints."""
        return f"{self.hazard.caution} {LOCAL}" if self.hazard.local else self.hazard.caution


@cache
def hazards() -> tuple[Hazard, ...]:
    """All hazards, the gravest first."""
    rows = table("hazards")
    found = tuple(
        Hazard(
            name=row["hazard"],
            rank=int(row["rank"]),
            foods=tuple(filter(None, row["foods"].split("|"))),
            kinds=frozenset(filter(None, row["kinds"].split("|"))),
            words=pattern(row["words"]),
            read=frozenset(filter(None, row["read"].split("|"))),
            purpose=Purpose(row["purpose"]) if row["purpose"] else None,
            least=Fraction(row["least_celsius"] or 0),
            state=row["state"],
            cancel=pattern(row["cancel"]),
            caution=row["caution"],
            local=row["local"] == "yes",
            action=row["action"],
            source=row["source"],
        )
        for row in rows
    )
    for one in found:
        if one.state not in STATES:
            raise ValueError(f"hazards.csv: {one.name!r} has the unknown state {one.state!r}")
        if not (one.foods or one.words):
            raise ValueError(f"hazards.csv: {one.name!r} names neither foods nor words")
    return tuple(sorted(found, key=lambda one: one.rank))


@remembered  # the card and three checks ask about the same recipe in turn
def hazardous(recipe: Recipe, mentions: Mentions) -> tuple[Hazardous, ...]:
    """Every hazard of the table that ``recipe`` holds, the gravest first."""
    told = texts(recipe)
    return tuple(filter(None, (_found(one, recipe, mentions, told) for one in hazards())))


def _found(one: Hazard, recipe: Recipe, mentions: Mentions, told: dict[str, str]) -> Hazardous | None:
    places = [place for place, line in enumerate(recipe.ingredients) if is_of(line.food, one.foods)]
    if one.foods and not places:
        return None
    occasion = _occasion(one, recipe, told)
    if occasion is None or (one.cancel and any(one.cancel.search(text) for text in told.values())):
        return None
    if not one.foods:
        return Hazardous(hazard=one, line=None, evidence=occasion)
    for place in places:
        line = recipe.ingredients[place]
        if STATES[one.state](recipe, mentions, place):
            evidence = f"{line.item}, {occasion}" if occasion else line.item
            return Hazardous(hazard=one, line=line, evidence=evidence)
    return None


def _occasion(one: Hazard, recipe: Recipe, told: dict[str, str]) -> str | None:
    """What calls for the caution: the kind, a word, or a temperature; empty where foods alone do."""
    if not (one.kinds or one.words or one.purpose):
        return ""
    if recipe.kind and recipe.kind.text in one.kinds:
        return f"kind: {recipe.kind.text}"
    if one.words:
        for where in told if "all" in one.read else [name for name in told if name in one.read]:
            found = one.words.search(told[where])
            if found:
                return f"“{found.group()}”"
    for span in _all_temperatures(recipe) if one.purpose else ():
        if span.purpose is one.purpose and span.quantity.low >= one.least:
            return f"“{span.text}”"
    return None


@remembered
def _all_temperatures(recipe: Recipe) -> tuple[Measured, ...]:
    """Every temperature that the steps name, in order."""
    return tuple(span for step in steps(recipe) for _, span in step.temperatures())


def cautions(recipe: Recipe, larder: Larder) -> tuple[str, ...]:
    """The cautions the card must print, at most four, the gravest first, each once.

    Temperatures stand in both systems, rounded away from danger (safety_pairs.csv).
    """
    return _printed(hazardous(recipe, read_mentions(recipe, larder)))


def _printed(found: tuple[Hazardous, ...]) -> tuple[str, ...]:
    names = {one.hazard.name for one in found}
    kept = [
        one
        for one in found
        if one.hazard.action != "stop" and not (OUTDONE.get(one.hazard.name, frozenset()) & names)
    ]
    return tuple(dict.fromkeys(one.text for one in kept))[:MOST]


OUTDONE = {  # a caution that another of the same card says already
    "raw egg": frozenset({"lightly cooked egg"}),
    "choking on hard candy": frozenset({"choking on whole nuts"}),
    "deep frying": frozenset({"whole bird in oil"}),
    "raw flour": frozenset({"flour heated at home"}),
}


@check(
    "hazard-caution",
    Severity.NOTE,
    why="A cook cannot see the danger in the list; the card says it before the first step.",
    source="hazards.csv, a source for each row",
    remedy="nothing to write: the card prints the caution by itself",
)
def hazard_caution(subject: Subject) -> Iterator[Query]:
    """A hazard of the table that the recipe holds, with the caution that the card prints for it."""
    found = hazardous(subject.recipe, subject.mentions)
    printed = _printed(found)
    for one in found:
        if one.text in printed and one.hazard.action == "caution":
            yield query(
                one.line or subject.recipe.where,
                f"{one.hazard.name} ({one.evidence}): the card prints “{one.text}”",
            )


@check(
    "review-needed",
    Severity.WARNING,
    why="Some methods are safe only as tested; a test kitchen's palate cannot tell.",
    source="hazards.csv, a source for each row",
    remedy="have someone licensed review it, and say in accepted: who and when",
)
def review_needed(subject: Subject) -> Iterator[Query]:
    """Home canning, curing, fermented sausage, foraged and poisonous plants: not without a review."""
    for one in hazardous(subject.recipe, subject.mentions):
        if one.hazard.action in ("review", "ask"):
            yield query(one.line or subject.recipe.where, f"{one.hazard.name} ({one.evidence})")
