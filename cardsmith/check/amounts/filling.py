"""Pans, pots and glasses against what goes into them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from cardsmith.check.amounts.vessels import Vessel, all_vessels
from cardsmith.check.fields import numeral_kind
from cardsmith.check.formula.batch import losses
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number, percent
from cardsmith.finding import Severity
from cardsmith.language.spans import Kind
from cardsmith.recipe.model import Part
from cardsmith.reference import table
from cardsmith.regex import regex

HEAVIEST = Fraction(105, 100)  # g/ml of a custard or cream, so that its volume is never overrated
BRIM = Fraction(102, 100)
_OTHER = regex(r"\b(?:bowl|frying pan|skillet|jug|baking dish|roasting pan|sheet pan|jar|plate)s?\b", re.I)
_NAMED = regex(
    r"\b(?:cake|loaf|baking|brownie|springform|tube|ring|traybake)[ -](?:pan|tin|dish|mould|mold)s?\b", re.I
)
SIZES = frozenset({Kind.VESSEL, Kind.NAME, Kind.UNREAD})
_BAKED_IN = frozenset("pan pans tin tins dish dishes mould moulds mold molds".split())


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """What share of a pan the raw mixture of a kind takes up, and what a millilitre of it weighs."""

    density: Fraction
    least: Fraction
    most: Fraction
    told: str


@cache
def fills() -> Mapping[str, Fill]:
    """The kinds that are baked in a pan."""
    return {
        row["kind"]: Fill(
            density=Fraction(row["density"]),
            least=Fraction(row["least"]),
            most=Fraction(row["most"]),
            told=row["told"],
        )
        for row in table("pan_fills")
    }


def _mass(subject: Subject, parts: tuple[Part, ...]) -> tuple[Fraction, bool]:
    formula = subject.formula(parts)
    return formula.roles["total"], "total" not in formula.unweighed


def _batter(subject: Subject) -> tuple[Fraction, bool]:
    """What goes into the pan: the parts with flour; and whether all of it has a weight."""
    parts = tuple(
        part for part in subject.recipe.parts
        if any(line.food is not None and line.food.share("flour") for line in part.ingredients)
    )  # fmt: skip
    return _mass(subject, parts or subject.recipe.parts)


def _in_pan(
    subject: Subject, named: tuple[Vessel, ...] | None = None
) -> tuple[Vessel, Fill, Fraction, bool] | None:
    """The first pan of a recipe that is baked in one, and the share of it that is filled."""
    rule = fills().get(subject.kind)
    if rule is None:
        return None
    sized = [one for one in named or all_vessels(subject) if one.sort == "pan"]
    if not sized:
        return None
    mass, whole = _batter(subject)
    first = sized[0]
    return first, rule, mass / rule.density / (first.volume * first.count), whole


@check(
    "pan-too-small",
    Severity.WARNING,
    why="Batter runs over into the oven, or bakes outside and stays raw within; a pot boils over.",
    source="pan_fills.csv and kind_losses.csv: " + PRACTICE + "; volumes by geometry",
    remedy="name the pan that you used",
)
def pan_too_small(subject: Subject) -> Iterator[Query]:
    """A pan, pot, glass or ramekin that what goes into it would fill to the brim, or over."""
    named = all_vessels(subject)
    baked = _in_pan(subject, named)
    if baked is not None:
        vessel, rule, share, _ = baked
        if share > rule.most:
            yield query(
                vessel.place,
                f"the mixture is about {number(share * vessel.volume * vessel.count)} ml and fills "
                f"{percent(share)} of the {vessel.told} ({number(vessel.volume * vessel.count)} ml); "
                f"{rule.told} is usual",
            )
    for vessel in named:
        needed = _needed(subject, vessel)
        if needed is not None and needed > vessel.volume * vessel.count * BRIM:
            several, holds = (f"{vessel.count} × ", "hold") if vessel.count > 1 else ("", "holds")
            yield query(
                vessel.place,
                f"what goes in is at least {number(needed)} ml; {several}{vessel.told} {holds} "
                f"{number(vessel.volume * vessel.count)} ml",
            )
            return


def _needed(subject: Subject, vessel: Vessel) -> Fraction | None:
    """The least ml that go into a pot, or into all the glasses; None where nobody can tell."""
    loss = losses().get(subject.kind)
    if vessel.step is None or loss is None:
        return None
    if vessel.sort == "pot":
        return _in_pot(subject, vessel.step)
    if vessel.sort != "cup" or vessel.count < 2 or loss.low is None:
        return None
    place = 0
    for part in subject.recipe.parts:
        place += len(part.steps)
        if vessel.step < place:
            mass, _ = _mass(subject, (part,))
            return mass * (1 - loss.high) / HEAVIEST
    return None


def _in_pot(subject: Subject, start: int) -> Fraction:
    """The grams, taken as ml, of what the steps put into a pot until they name another vessel."""
    lines: set[int] = set()
    place = 0
    texts = subject.steps
    for part in subject.recipe.parts:
        for step in texts[place : place + len(part.steps)]:
            told = step.text
            if place > start and _OTHER.search(told):
                return _weight(subject, lines)
            if place >= start:
                lines |= set(subject.mentions.lines_of(place))
            place += 1
        if place > start:
            break
    return Fraction(0) if _OTHER.search(texts[start].text) else _weight(subject, lines)


def _weight(subject: Subject, lines: set[int]) -> Fraction:
    return sum((subject.masses[line].low for line in lines if line in subject.masses), Fraction(0))


@check(
    "pan-too-large",
    Severity.WARNING,
    why="In a pan too large the mixture lies thin, dries out and is done long before its time.",
    source="pan_fills.csv: " + PRACTICE + "; volumes by geometry",
    remedy="name the pan that you used",
)
def pan_too_large(subject: Subject) -> Iterator[Query]:
    """A pan that the batter or dough of its kind would hardly cover."""
    baked = _in_pan(subject)
    if baked is not None:
        vessel, rule, share, whole = baked
        if whole and share < rule.least:
            yield query(
                vessel.place,
                f"the mixture is about {number(share * vessel.volume * vessel.count)} ml and fills only "
                f"{percent(share)} of the {vessel.told} ({number(vessel.volume * vessel.count)} ml); "
                f"{rule.told} is usual",
            )


@check(
    "pan-missing",
    Severity.WARNING,
    why="The size of the pan decides how thick a cake is, and so how long it bakes.",
    source=PRACTICE,
    remedy="write the size of the pan: a 9-inch round cake pan 2 inches deep",
)
def pan_missing(subject: Subject) -> Iterator[Query]:
    """A cake, loaf or bar baked in a pan of which no size is given."""
    if subject.kind not in fills():
        return
    if any(_BAKED_IN & set(noun.split()) for noun in _sized(subject)):
        return
    for step in subject.steps:
        match = _NAMED.search(step.text)
        if match is not None:
            yield query(step.spot(match.group()), f"how large is the {match.group().lower()}?")
            return


def _sized(subject: Subject) -> Iterator[str]:
    """The vessels of which a size is given, or how many wells they have, in steps and equipment."""
    for text in subject.fields:
        if text.name in {"steps", "equipment"}:
            yield from (one.noun for _, one in text.numerals if numeral_kind(one) in SIZES)
