"""Methods that are unsafe as written, which no caution can mend: beans, cures, slow holds, washed poultry."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from cardsmith.check.hazards import boiled_for, is_of, texts
from cardsmith.check.heat import durations, is_cooked, sentence_at, temperatures
from cardsmith.check.keeping import ANIMAL
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import grams, number
from cardsmith.finding import Severity
from cardsmith.measure.units import Dimension, units
from cardsmith.recipe.mentions import visible
from cardsmith.reference import table

TOXIC_BEANS = ("key:dried-kidney-bean", "key:dried-cannellini-bean", "key:dried-fava-bean")
BOILED = 600  # seconds at a full boil that destroy the toxin; the published advice is to boil for 30 minutes
GROUND = Fraction(156, 1_000_000)  # sodium nitrite by mass of meat, ground or rubbed on dry
STEEPED = Fraction(200, 1_000_000)  # of meat and brine together, where it lies in brine
LOW = units()["degree Fahrenheit"].to_base(Fraction(130))


@check(
    "beans-underboiled",
    Severity.ERROR,
    why="Kidney beans hold a toxin that a slow cooker makes worse; a handful underdone makes people ill.",
    source="Kansas State Extension, Cooking dry beans safely (after the FDA Bad Bug Book)",
    remedy="boil the soaked beans hard in fresh water for 30 minutes before they go on slowly",
    acceptable=False,
)
def beans_underboiled(subject: Subject) -> Iterator[Query]:
    """Dried kidney, cannellini or broad beans that no step boils for ten minutes; a warning below thirty."""
    recipe = subject.recipe
    if not recipe.steps:
        return
    for line in recipe.ingredients:
        if not is_of(line.food, TOXIC_BEANS):
            continue
        boiled = boiled_for(recipe)
        if boiled < BOILED:
            yield query(line, f"no step boils the {line.item} hard for long enough")
        elif boiled < 1800:
            told = number(boiled / 60)
            yield query(
                line,
                f"the {line.item} boil for {told} minutes; 30 is the published advice",
                severity=Severity.WARNING,
            )
        return


@cache
def cures() -> dict[str, Fraction]:
    """The mass share of sodium nitrite in each curing salt of the larder."""
    return {row["key"]: Fraction(row["nitrite"]) for row in table("curing_salts")}


def _cured_mass(subject: Subject, brine: bool) -> Fraction | None:
    """The grams of meat, and of water too where it lies in brine; None where a weight is missing."""
    whole = Fraction(0)
    meat = False
    for place, line in enumerate(subject.recipe.ingredients):
        animal = is_of(line.food, ANIMAL)
        if animal or (brine and line.food is not None and line.food.key in ("water", "ice")):
            mass = subject.masses.get(place)
            if mass is None:
                return None
            whole += mass.grams
            meat = meat or animal
    return whole if meat else None


@check(
    "curing-salt-excess",
    Severity.ERROR,
    why="Sodium nitrite is poisonous; a little more than the cure needs is too much.",
    source="9 CFR 424.21(c) (memory): 156 ppm ingoing in ground meat, 200 ppm in immersed; 21 CFR 172.175",
    remedy="2.5 g of 6.25 % curing salt for each kg of meat is the limit",
    acceptable=False,
)
def curing_salt_excess(subject: Subject) -> Iterator[Query]:
    """More nitrite than 156 parts per million of the meat, or 200 of meat and brine."""
    told = texts(subject.recipe)
    brine = bool(re.search(r"\b(?:brine|immerse|submerge)\w*", told["steps"], re.IGNORECASE))
    whole = _cured_mass(subject, brine)
    nitrite = Fraction(0)
    lines = [
        line for line in subject.recipe.ingredients if line.food is not None and line.food.key in cures()
    ]
    for place, line in enumerate(subject.recipe.ingredients):
        mass = subject.masses.get(place)
        if line in lines and mass is not None and line.food is not None:
            nitrite += mass.high * cures()[line.food.key]
    limit = STEEPED if brine else GROUND
    if lines and whole and nitrite > limit * whole * Fraction(101, 100):
        ppm = number(round(nitrite / whole * 1_000_000))
        least = limit * whole / cures()[lines[0].food.key] if lines[0].food else Fraction(0)
        yield query(
            lines[0],
            f"{ppm} ppm of nitrite in {grams(whole)} is over {number(round(limit * 1_000_000))}",
            f"no more than {grams(Fraction(int(least * 10), 10))} of this curing salt",
        )


@check(
    "curing-salt-unweighed",
    Severity.ERROR,
    why="A spoon of curing salt may be a third off, and the meat's weight decides how much is safe.",
    source="9 CFR 424.21(c) counts nitrite by weight of the meat (memory)",
    remedy="give the curing salt and the meat in grams",
    acceptable=False,
)
def curing_salt_unweighed(subject: Subject) -> Iterator[Query]:
    """Curing salt by the spoon, or for meat whose weight is not given."""
    cured = [line for line in subject.recipe.ingredients if line.food and line.food.key in cures()]
    for line in cured:
        sizes = (line.amount, *line.stated) if line.amount else ()
        if not any(one.dimension is Dimension.MASS for one in sizes):
            yield query(line, f"{line.item} is not given by weight")
        elif _cured_mass(subject, brine=False) is None:
            yield query(line, f"{line.item} for meat of which no weight is given")


@check(
    "long-hold-too-low",
    Severity.ERROR,
    why="Meat held for hours below 130 °F (54.4 °C) warms what makes people ill without killing it.",
    source="FDA Food Code 3-401.11(B): no pair below 130 °F; 4 hours between cold and hot holding, 3-501.19",
    remedy="hold at 130 °F (55 °C) or hotter, for a published time",
    acceptable=False,
)
def long_hold_too_low(subject: Subject) -> Iterator[Query]:
    """Meat, poultry or fish in a bath or oven below 130 °F for over four hours."""
    lines = subject.recipe.ingredients
    if not any(is_of(line.food, ANIMAL) for line in lines):
        return
    for number_of, step in enumerate(subject.recipe.steps):
        text = visible(step.spans)
        animal = any(is_of(lines[place].food, ANIMAL) for place in subject.mentions.lines_of(number_of))
        if not animal and not re.search(r"\bsous[- ]vide|\bbags?\b|\bwater bath\b", text, re.IGNORECASE):
            continue
        for at, span in temperatures(step):
            longest = max(durations(step, sentence_at(text, at)), default=Fraction(0))
            if 10 < span.quantity.low < LOW - Fraction(1, 5) and longest > 4 * 3600:
                yield query(span, f"“{span.text}” for over 4 hours")


@check(
    "raw-poultry-washed",
    Severity.WARNING,
    why="Washing spreads what is on raw poultry over sink and salad; cooking kills it anyway.",
    source="FoodSafety.gov chart and CDC: do not wash raw meat or poultry",
    remedy="pat it dry with paper towels instead",
)
def raw_poultry_washed(subject: Subject) -> Iterator[Query]:
    """A step that rinses or washes raw poultry."""
    birds = [line for line in subject.recipe.ingredients if is_of(line.food, ("role:poultry",))]
    if not birds:
        return
    pattern = re.compile(
        r"(?<!not )\b(?:rinse|wash) (?:the |and dry the )?"
        r"(?:\w+ )?(?:chickens?|birds?|turkey|duck|goose|quails?|thighs|breasts|wings|drumsticks|legs)\b",
        re.IGNORECASE,
    )
    for step in subject.recipe.steps:
        found = pattern.search(visible(step.spans))
        if found:
            yield query(subject.spot(step, found.group()), f"“{found.group()}”")


@check(
    "never-cooked",
    Severity.ERROR,
    why="Raw poultry and raw ground pork are never safe to eat.",
    source="FoodSafety.gov Safe Minimum Cooking Temperatures",
    remedy="say in a step how it is cooked, and to what temperature",
    acceptable=False,
)
def never_cooked(subject: Subject) -> Iterator[Query]:
    """Raw poultry, pork or sausage that no step cooks."""
    raw = ("role:poultry", "key:*pork*", "key:*-sausage", "key:bratwurst", "key:fresh-chorizo")
    ready = (
        "key:cooked-*",
        "key:smoked-*",
        "key:salt-pork",
        "key:pork-fatback",
        "key:blood-sausage",
        "key:canned-*",
    )
    for place, line in enumerate(subject.recipe.ingredients):
        if (
            not is_of(line.food, raw)
            or is_of(line.food, ready)
            or re.search(r"\bcooked|smoked", line.text, re.I)
        ):
            continue
        if subject.mentions.steps_of(place) and not is_cooked(subject.recipe, subject.mentions, place):
            yield query(line, f"no step cooks the {line.item}")
