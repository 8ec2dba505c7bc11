"""How long jars are processed, against the shortest published time for what they hold."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from itertools import product

from cardsmith.check.fields import Field
from cardsmith.check.registry import Query, check, query
from cardsmith.check.safety.jars import JARS, PINT, canned, jar_size, under_pressure
from cardsmith.check.safety.pickles import is_pickle
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.facts.method.dish import dish
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.spans import Measured
from cardsmith.measure.patterns import cell, is_of
from cardsmith.reference import table
from cardsmith.regex import regex

MINUTE = 60
ROOMY = Fraction(6, 5)  # of a pint: what is larger takes the time of a quart
JAM = Fraction(3, 10)  # of sugar, before it boils down: common practice, no source
BOILING, PRESSURE = "boiling water", "pressure"
PROCESSED = regex(r"\bprocess\w*\b")
PROCESSES = regex(
    r"\bprocess\w*\b|\b(?:boil|heat) (?:the )?(?:\w+ )?jars\b|\b(?:canner|boiling[- ]water bath)\b"
)


@frozen
class CanningProcess:
    """The shortest published time for a food, up to 1,000 feet."""

    sort: str  # pickle, jam, plain
    foods: tuple[str, ...]
    method: str
    pint: Fraction  # seconds
    quart: Fraction
    told: str


@cache
def canning_processes() -> tuple[CanningProcess, ...]:
    """Every process; of the rows that fit a food the first holds."""
    return tuple(
        CanningProcess(
            sort=row["sort"],
            foods=cell(row["foods"]),
            method=row["method"],
            pint=Fraction(row["pint_minutes"]) * MINUTE,
            quart=Fraction(row["quart_minutes"]) * MINUTE,
            told=row["told"],
        )
        for row in table("canning_processes")
    )


@check(
    "canning-time-short",
    Severity.ERROR,
    why="Processed too briefly, the middle of the jar never gets hot enough, and what grows there is deadly.",
    source="canning_processes.csv, a source for each row",
    remedy="give the current tested time for this food, jar and altitude, and have it reviewed",
    acceptable=False,
)
def canning_time_short(subject: Subject) -> Iterator[Query]:
    """Jars that are processed for a shorter time than any published one for the food they hold."""
    given, least = processed(subject), needed(subject)
    if given is None or least is None:
        return
    step, at, span = given
    if span.quantity.low < least[0]:
        wanted = f"{least[1]} for {number(least[0] / MINUTE)} minutes at least"
        yield query(step.spot(span.text, at), f"the jars are processed for {span.text}: {wanted}")


def processed(subject: Subject) -> tuple[Field, int, Measured] | None:
    """The time for which jars are processed, with its step and place; None where no time is given."""
    if not canned(subject):
        return None
    for said, step in product((PROCESSED, PROCESSES), subject.steps):  # first what calls it so
        for begins, ends, _ in step.cuts:
            match = said.search(step.text.lower(), begins, ends)
            times = step.times(match.start(), ends) if match else []
            if times and (JARS.search(step.text) or "canner" in step.text.lower() or match):
                at, span = times[0]
                return step, at, span
    return None


def needed(subject: Subject) -> tuple[Fraction, str] | None:
    """The published seconds for the jars of a recipe, and what they hold; None where no table has it."""
    process = _process(subject)
    large = jar_size(subject) > PINT * ROOMY
    return None if process is None else (process.quart if large else process.pint, process.told)


def _process(subject: Subject) -> CanningProcess | None:
    """The process for what fills most of the jars; None where the table has none."""
    known = dish(subject.recipe, subject.larder)
    roles = subject.formula(subject.recipe.parts).roles
    jam = roles.get("sugar", Fraction(0)) >= roles["total"] * JAM
    sort = "pickle" if is_pickle(subject) else "jam" if jam else "plain"
    method = PRESSURE if under_pressure(subject) else BOILING
    weights = {place: mass.grams for place, mass in subject.masses.items()}
    most = max(weights.values(), default=Fraction(0))  # of what has no weight, cups of crushed berries
    for place in sorted(range(len(known.foods)), key=lambda place: -weights.get(place, most)):
        food = known.foods[place].food
        rule = next(
            (
                process
                for process in canning_processes()
                if (process.sort, process.method) == (sort, method) and is_of(food, process.foods)
            ),
            None,
        )
        if rule is not None:
            return rule
    return None
