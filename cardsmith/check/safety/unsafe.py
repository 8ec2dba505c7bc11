"""Methods unsafe as written, which no caution can mend: beans, slow holds, what poisons or chokes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.registry import Query, check, query
from cardsmith.check.safety.hazards import place_of_hazard
from cardsmith.check.subject import Subject
from cardsmith.check.wording import grams, number
from cardsmith.facts.dangers.cautions import hazardous
from cardsmith.facts.dangers.exposure import exposures
from cardsmith.facts.foods.roles import ANIMAL
from cardsmith.facts.method.dish import UNTOUCHED, Dish, dish
from cardsmith.facts.method.heat import History
from cardsmith.finding import Severity
from cardsmith.language.spans import Purpose
from cardsmith.measure.patterns import is_of
from cardsmith.measure.units import units

POISON = "natural toxin"
STOPS = {"stop": None, "warn": Severity.WARNING}  # what a row of cautions.csv asks for
TOXIC_BEANS = ("key:dried-kidney-bean", "key:dried-cannellini-bean", "key:dried-fava-bean")
ADVISED = 1800  # seconds at a full boil: the FDA's advice
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
    """Dried kidney, cannellini or broad beans that no step boils for ten minutes; a warning below thirty.

    The UK's advice is ten minutes at a full boil, the FDA's thirty: the longer applies.
    """
    recipe, larder = subject.recipe, subject.larder
    raw = {exposure.line for exposure in exposures(recipe, larder) if exposure.sort == "beans"}
    for place, line in enumerate(recipe.ingredients):
        if place in raw:
            slow = any("slow cooker" in step.text.lower() for step in subject.steps)
            where = " before the slow cooker" if slow else ""
            yield query(line, f"no step boils the {line.item} hard for 10 minutes{where}")
        elif is_of(line.food, TOXIC_BEANS):
            seconds = _boiled(dish(recipe, larder).history(place))
            if 0 < seconds < ADVISED:
                minutes = number(seconds / 60)
                what = f"the {line.item} boil for {minutes} minutes; 30 is the published advice"
                yield query(line, what, severity=Severity.WARNING)


def _boiled(history: History) -> Fraction:
    """The longest time, in seconds, at a full boil; 0 under pressure, or where none is given."""
    if any("pressure" in event.text for event in history.events):
        return Fraction(0)
    return max((event.seconds for event in history.events if event.boils), default=Fraction(0))


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
    for place, step in enumerate(subject.steps):
        animal = any(is_of(lines[line].food, ANIMAL) for line in subject.mentions.lines_of(place))
        warmed = re.search(
            r"\bsous[- ]vide|\bbags?\b|\bwater bath\b|\b(?:roast|smoke)\b", step.text, re.IGNORECASE
        )
        if not (animal or warmed):
            continue
        for at, span in step.temperatures():
            begins, ends = step.sentence_at(at)
            # “Heat the oven to 50 °C. Roast for 6 hours.”
            longest = step.longest(begins, None if span.purpose is Purpose.OVEN else ends)
            if 10 < span.quantity.low < LOW - Fraction(1, 5) and longest > 4 * 3600:
                yield query(span, f"“{span.text}” for over 4 hours")


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
    known = dish(subject.recipe, subject.larder)
    for place, line in enumerate(subject.recipe.ingredients):
        food = known.foods[place].food
        cured = is_of(food, ready) or re.search(r"\bcooked|smoked", line.text, re.I)
        spoken_of = bool(subject.mentions.steps_of(place))
        if not is_of(food, raw) or cured or not spoken_of:
            continue
        # No author can accept this away, so that a word of cooking anywhere in its steps is heard as well.
        if known.is_raw(place) and _untouched(known, place) and not known.is_heard_cooking(place):
            yield query(line, f"no step cooks the {line.item}")


def _untouched(known: Dish, place: int) -> bool:
    """Whether no words cook some portion of it; one whose thermometer reads too little has its own query."""
    return any(all(event.heat in UNTOUCHED for event in events) for events in known.history(place).portions)


@check(
    "poisonous-part",
    Severity.ERROR,
    why="No caution on a card makes this safe to eat: it is left out, or the dish is made another way.",
    source="cautions.csv, a source for each row",
    remedy="leave it out or make it safe as the finding says, and say so in the recipe",
    acceptable=False,
)
def poisonous_part(subject: Subject) -> Iterator[Query]:
    """A poisonous plant or part of one: rhubarb leaves, raw elderberries, mushrooms that a reader picks."""
    yield from _stopped(subject, poisonous=True)


@check(
    "unsafe-as-written",
    Severity.ERROR,
    why="Published guidance forbids it, and no caution on a card mends it: the dish is made another way.",
    source="cautions.csv, a source for each row",
    remedy="change the method or the food as the finding says",
    acceptable=False,
)
def unsafe_as_written(subject: Subject) -> Iterator[Query]:
    """A marinade served raw, wet food into hot fat, honey, salt, nuts or whole grapes for babies, dry ice."""
    yield from _stopped(subject, poisonous=False)


def _stopped(subject: Subject, *, poisonous: bool) -> Iterator[Query]:
    """Hazards that no caution answers, each caution once."""
    seen: set[str] = set()
    for hazard in hazardous(subject.recipe, subject.larder):
        mine = hazard.hazard.action in STOPS and (hazard.hazard.group == POISON) is poisonous
        if mine and hazard.hazard.caution not in seen:
            seen.add(hazard.hazard.caution)
            what, severity = f"{hazard.evidence}: {hazard.hazard.caution}", STOPS[hazard.hazard.action]
            yield query(place_of_hazard(subject, hazard), what, severity=severity)


@check(
    "nutmeg-too-much",
    Severity.ERROR,
    why="A few grams of nutmeg or mace are poisonous; a spoon mistaken for a pinch is enough.",
    source="poison-centre case reports (memory): effects from about 5 g, so no more than 2 g a serving",
    remedy="write the pinch you used; half a gram seasons a dish for six",
    acceptable=False,
)
def nutmeg_too_much(subject: Subject) -> Iterator[Query]:
    """More than 2 g of nutmeg or mace a serving, or more than 5 g where nobody says how many it serves."""
    serves = subject.recipe.yields.serves_low if subject.recipe.yields else None
    for place, line in enumerate(subject.recipe.ingredients):
        mass = subject.masses.get(place)
        if mass is None or not is_of(line.food, ("key:*nutmeg", "key:ground-mace", "key:mace-blade")):
            continue
        if mass.grams > (2 * serves if serves else 5):
            yield query(
                line, f"{grams(mass.grams)} of {line.item} is {grams(mass.grams / (serves or 1))} a serving"
            )
