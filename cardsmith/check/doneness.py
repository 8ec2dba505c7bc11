"""How hot the inside of meat, fish and egg must get, against the published minimums."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from cardsmith.check.fields import Field
from cardsmith.check.heat import after_use, heats, is_cooked
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.facts.patterns import is_of, pattern
from cardsmith.finding import Severity
from cardsmith.language.spans import Kind, Measured, Purpose
from cardsmith.measure.units import units
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import table
from cardsmith.regex import regex

FAHRENHEIT = units()["degree Fahrenheit"]
ROUNDED = Fraction(1, 5)  # °C: charts print 160 °F as 71 °C, which is 159.8 °F
CHART = "FoodSafety.gov Safe Minimum Cooking Temperatures; doneness.csv"
EGG_DISHES = frozenset({"custard", "curd", "ice-cream"})
EGGS = ("key:egg", "key:egg-yolk", "key:duck-egg")
INSIDE = frozenset({Purpose.CORE, Purpose.BATH})
INSIDE_EGG = INSIDE | {Purpose.CUSTARD, Purpose.MILK}
WHOLE_STEAK = ("key:*steak", "key:filet-mignon")


@dataclass(frozen=True, slots=True, kw_only=True)
class Minimum:
    """What a food must reach inside, in °C; None where it is ready to eat, or only a sign is published."""

    food: str
    foods: tuple[str, ...]
    least: Fraction | None
    rest: Fraction  # seconds
    cue: re.Pattern[str] | None
    source: str


@cache
def minimums() -> tuple[Minimum, ...]:
    """The published minimums; of the rows that fit a food the first holds."""
    return tuple(
        Minimum(
            food=row["food"],
            foods=tuple(row["foods"].split("|")),
            least=FAHRENHEIT.to_base(Fraction(row["fahrenheit"])) if row["fahrenheit"] else None,
            rest=60 * Fraction(row["rest_minutes"] or 0),
            cue=pattern(row["cue"]),
            source=row["source"],
        )
        for row in table("doneness")
    )


def minimum(line: Ingredient) -> Minimum | None:
    """The minimum for a line of the list; ground where the cook has it ground."""
    found = next((one for one in minimums() if is_of(line.food, one.foods)), None)
    if (
        found is not None
        and found.food == "whole cuts"
        and re.search(r"\b(?:ground|minced)\b", line.text, re.I)
    ):
        return next(one for one in minimums() if one.food == "ground meat")
    return found


@cache
def pairs() -> tuple[tuple[tuple[str, ...], Fraction, Fraction], ...]:
    """Foods, °C and seconds that together are as safe as the minimum."""
    return tuple(
        (
            tuple(row["foods"].split("|")),
            FAHRENHEIT.to_base(Fraction(row["fahrenheit"])),
            Fraction(row["seconds"]),
        )
        for row in table("doneness_pairs")
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """An internal temperature in a step, and how long the food is held there, in seconds."""

    span: Measured
    held: Fraction


def readings(subject: Subject, place: int) -> Iterator[Reading]:
    """What the steps say of the inside of the food at ``place`` of the list, once it has gone in."""
    line = subject.recipe.ingredients[place]
    inside = INSIDE_EGG if is_of(line.food, EGGS) else INSIDE
    for step, start in after_use(subject.recipe, subject.mentions, place):
        bath = BATH.search(step.text) is not None
        for at, span in step.temperatures(start):
            begins, ends = step.sentence_at(at)
            if (bath or span.purpose in inside) and not _names_another(subject, line, step.text[begins:ends]):
                yield Reading(span=span, held=step.surely() if bath else _held(step, at, span))


def _held(step: Field, at: int, span: Measured) -> Fraction:
    """How long, in seconds, the sentence holds the food at its temperature; 0 where it does not."""
    begins, ends = step.sentence_at(at)
    hold = HOLD.search(step.text, begins, ends)
    if hold:
        return step.surely(hold.start(), ends)
    return step.surely(at, ends) if FOR.match(step.text, at + len(span.text), ends) else Fraction(0)


BATH = regex(r"\bsous[- ]vide|\bwater bath\b|\bcirculator\b", re.IGNORECASE)
HOLD = regex(r"\b(?:hold|held|keep|kept|maintain\w*|stays?)\b", re.IGNORECASE)
FOR = regex(r"[^,.;]{0,24}? for (?:at least )?")


def _names_another(subject: Subject, line: Ingredient, sentence: str) -> bool:
    """Whether a sentence speaks of another animal food and not of this one."""
    told = sentence.lower()

    def named(one: Ingredient) -> bool:
        return any(word in told for word in re.findall(r"[a-z]{4,}", one.item.lower()) if word not in _PLAIN)

    if named(line):
        return False
    return any(named(one) and minimum(one) for one in subject.recipe.ingredients if one.food is not line.food)


_PLAIN = frozenset(
    {"boneless", "skinless", "bone", "skin", "large", "whole", "fresh", "lean", "ground", "fillet"}
)


def _told(celsius: Fraction) -> str:
    fahrenheit = FAHRENHEIT.from_base(celsius)
    return f"{number(fahrenheit, 3)} °F ({number(-(-celsius // 1))} °C)"


def _animal_lines(subject: Subject) -> Iterator[tuple[int, Ingredient, Minimum]]:
    for place, line in enumerate(subject.recipe.ingredients):
        known = minimum(line)
        if known is not None and (known.least is not None or known.cue is not None) and not line.for_use:
            yield place, line, known


@check(
    "doneness-missing",
    Severity.WARNING,
    why="Colour and time do not tell whether meat is safe; a thermometer does.",
    source=CHART,
    remedy="write the internal temperature you measured beside the cue",
)
def doneness_missing(subject: Subject) -> Iterator[Query]:
    """Raw meat, poultry, fish or a stirred custard that is cooked without an internal temperature.

    Quiet on what is simmered for an hour or cooked for three, on crumbled meat that goes on to simmer, on
    thin strips of meat, and on fish and shellfish with the published sign (opaque, flaking, open).
    """
    asked: set[str] = set()
    for place, line, known in _animal_lines(subject):
        if known.food in asked or not is_cooked(subject.recipe, subject.mentions, place):
            continue
        if _is_told(subject, place) or _is_done_anyway(subject, place, line, known):
            continue
        asked.add(known.food)
        if known.least is not None:
            instead = f"write the internal temperature, at least {_told(known.least)}"
        else:
            instead = "write the sign: opaque flesh, or shells that open"
        yield query(line, f"no step says how hot the inside of the {line.item} must get", instead)
    yield from _egg_missing(subject)


def _is_told(subject: Subject, place: int) -> bool:
    """Whether the steps say how hot the inside gets; where they leave out the scale, that is asked for."""
    steps = after_use(subject.recipe, subject.mentions, place)
    unscaled = (one for step, start in steps for _, one in step.measures(Kind.UNREAD, start=start))
    return any(True for _ in readings(subject, place)) or any(one.purpose in INSIDE_EGG for one in unscaled)


def _is_done_anyway(subject: Subject, place: int, line: Ingredient, known: Minimum) -> bool:
    steps = list(after_use(subject.recipe, subject.mentions, place))
    texts = [step.text[start:] for step, start in steps]
    if known.cue is not None and any(known.cue.search(text) for text in texts):
        return True
    if known.food == "whole cuts" and re.search(r"\b(?:thin|thinly|strips|shaved)\b", line.text, re.I):
        return True
    crumbled = any(re.search(r"\b(?:crumbl\w+|break\w*|breaking)\b", text, re.I) for text in texts)
    for (step, _), text in zip(steps, texts, strict=True):
        longest = step.surely()
        moist = re.search(r"\b(?:simmer|brais|stew|boil|poach|slow cooker)", text, re.I)
        if longest >= 10800 and heats(text):
            return True
        if moist and (longest >= 3600 or (crumbled and longest >= 600)):
            return True
        if re.search(r"\bpressure\b", text, re.I) and longest >= 600:
            return True
    return False


def _egg_lines(subject: Subject) -> Iterator[tuple[int, Ingredient]]:
    kind = subject.recipe.kind.text if subject.recipe.kind else ""
    if kind in EGG_DISHES:
        for place, line in enumerate(subject.recipe.ingredients):
            if is_of(line.food, EGGS):
                yield place, line
                return


def _egg_missing(subject: Subject) -> Iterator[Query]:
    for place, line in _egg_lines(subject):
        told = [step.text for step, _ in after_use(subject.recipe, subject.mentions, place)]
        baked = any(re.search(r"\b(?:bake|boil|simmer)\b", text, re.I) for text in told)
        cooked = is_cooked(subject.recipe, subject.mentions, place)
        if told and cooked and not baked and not _is_told(subject, place):
            yield query(
                line,
                "no step says how hot the egg mixture must get",
                f"write the temperature, at least {_told(EGG)}",
            )


@check(
    "doneness-too-low",
    Severity.ERROR,
    why="Below the published minimum the food may still carry what makes people ill.",
    source=CHART + "; doneness_pairs.csv for longer times at lower temperatures",
    remedy="write the published minimum, or a published pair of temperature and time held",
    acceptable=False,
)
def doneness_too_low(subject: Subject) -> Iterator[Query]:
    """An internal temperature below the published minimum, without a published time for which to hold it.

    A whole beef steak seared on both sides may stay pink (FDA Food Code 3-401.11(C)); the card warns.
    """
    for place, line, known in _animal_lines(subject):
        found = list(readings(subject, place))
        if known.least is None or not found:
            continue
        best = max(found, key=lambda one: one.span.quantity.low)
        if best.span.quantity.low + ROUNDED >= known.least or any(_is_paired(line, one) for one in found):
            continue
        if is_of(line.food, WHOLE_STEAK) and known.food == "whole cuts" and _is_seared(subject, place):
            continue
        yield query(
            best.span,
            f"“{best.span.text}” is too low for {line.item}: {known.food} needs {_told(known.least)}",
        )
    for place, line in _egg_lines(subject):
        found = list(readings(subject, place))
        if found and all(one.span.quantity.low + ROUNDED < EGG for one in found):
            yield query(
                found[-1].span, f"“{found[-1].span.text}” is too low for {line.item}: egg needs {_told(EGG)}"
            )
    yield from _reheated(subject)


EGG = FAHRENHEIT.to_base(Fraction(160))
LEFTOVERS = FAHRENHEIT.to_base(Fraction(165))


def _is_paired(line: Ingredient, one: Reading) -> bool:
    return any(
        is_of(line.food, foods) and one.span.quantity.low + ROUNDED >= celsius and one.held >= seconds
        for foods, celsius, seconds in pairs()
    )


def _is_seared(subject: Subject, place: int) -> bool:
    steps = after_use(subject.recipe, subject.mentions, place)
    return any(re.search(r"\b(?:sear|brown|crust|grill|pan-fry|fry)", step.text, re.I) for step, _ in steps)


def _reheated(subject: Subject) -> Iterator[Query]:
    """Leftovers reheated to less than 165 °F (74 °C), or 70 °C for 2 minutes."""
    for text in subject.fields:
        if text.name == "steps":
            continue
        for at, span in text.temperatures():
            begins, ends = text.sentence_at(at)
            hot = span.quantity.low
            held = hot >= 70 and text.surely(at, ends) >= 120
            if REHEAT.search(text.text, begins, at) and hot + ROUNDED < LEFTOVERS and not held:
                what = f"leftovers reheated to “{span.text}” may not be safe"
                yield query(text.spot(span.text), what, f"write “{_told(LEFTOVERS)}”")


REHEAT = regex(r"\breheat[^.]{0,60}$", re.IGNORECASE)


@check(
    "rest-missing",
    Severity.WARNING,
    why="At 145 °F a whole cut is safe only after it has stayed hot for three minutes.",
    source=CHART,
    remedy="write “rest for at least 3 minutes” after the temperature",
)
def rest_missing(subject: Subject) -> Iterator[Query]:
    """A whole cut taken off between 145 and 150 °F (63 to 66 °C) and not rested for three minutes."""
    for place, line, known in _animal_lines(subject):
        if not known.rest or known.least is None:
            continue
        found = list(readings(subject, place))
        best = max((one.span for one in found), key=lambda one: one.quantity.low, default=None)
        if best is None or not known.least <= best.quantity.low + ROUNDED <= FAHRENHEIT.to_base(
            Fraction(150)
        ):
            continue
        rested = [
            [one.quantity.high for _, one in step.times(match.start(), step.sentence_at(match.start())[1])]
            for step, _ in after_use(subject.recipe, subject.mentions, place)
            for match in re.finditer(r"\b(?:rest|stand|leave)\b", step.text, re.IGNORECASE)
        ]
        if not any(not told or max(told) >= known.rest for told in rested):
            yield query(best, f"the {line.item} is taken off at “{best.text}” and not rested")
