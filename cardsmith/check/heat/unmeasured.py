"""Meat, fish and custard cooked with no temperature for the inside, nor a sign of doneness as good."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.heat.doneness import (
    CHART,
    HOUR,
    OF_EGG,
    POURED,
    animals,
    eggs_of_custard,
    readings,
    texts,
)
from cardsmith.check.heat.remarks import chart_told
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.dangers.spoilage import heated
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.facts.method.doneness import EGG_DISH, Minimum
from cardsmith.facts.method.events import Event, Heat
from cardsmith.finding import Severity
from cardsmith.language.spans import Kind
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.model import Ingredient
from cardsmith.regex import regex


@check(
    "doneness-missing",
    Severity.WARNING,
    why="Colour and time do not tell whether meat is safe; a thermometer does.",
    source=CHART,
    remedy="write the internal temperature you measured beside the cue",
)
def doneness_missing(subject: Subject) -> Iterator[Query]:
    """Raw meat, poultry, fish or a stirred custard that is cooked without an internal temperature.

    Quiet on what simmers for a quarter of an hour (a whole bird for three) or cooks for three hours, on meat
    in crumbs or thin, and on fish and shellfish with the published sign (opaque, flaking, open); a note where
    the steps give another sign of the inside. How long is common practice, no source.
    """
    known = dish(subject.recipe, subject.larder)
    asked: set[str] = set()
    for place, line, wanted in animals(subject):
        if wanted.food in asked or not heated(known, place):
            continue
        if _is_stated(subject, place) or _is_done_anyway(known, place, line, wanted):
            continue
        asked.add(wanted.food)
        if wanted.least is not None:
            instead = f"write the internal temperature, at least {chart_told(wanted.least)}"
        else:
            instead = "write the sign: opaque flesh, or shells that open"
        signed = any(SIGNS.search(text) for text in texts(known, known.history(place).events))
        severity = Severity.NOTE if signed else None
        what = f"no step says how hot the inside of the {line.item} must get"
        yield query(line, what, instead, severity)
    yield from _egg_missing(subject, known)


def _is_stated(subject: Subject, place: int) -> bool:
    """Whether the steps say how hot the inside gets; where they leave out the scale, that is asked for."""
    if any(True for _ in readings(subject, place)):
        return True
    events = dish(subject.recipe, subject.larder).history(place).events
    unscaled = (
        measured
        for event in events
        for _, measured in subject.steps[event.step].measures(Kind.UNREAD, start=event.start, end=event.end)
    )
    return any(event.bath is not None for event in events) or any(
        measured.purpose in OF_EGG for measured in unscaled
    )


def _is_done_anyway(known: Dish, place: int, line: Ingredient, wanted: Minimum) -> bool:
    events = known.history(place).events
    named = (clause.text for clause in known.histories.clauses if clause.speaks_of(place))
    if wanted.cue is not None and any(map(wanted.cue.search, (*texts(known, events), *named))):
        return True  # "flake the fish into the dish" is of another step
    if THIN.search(line.text) or any(clause.verb in BEATEN for clause in known.histories.clauses):
        return True
    if any(event.left is not None for event in events) and wanted.food in {"whole cuts", "game"}:
        return True  # rare by its author's words: the card has its caution
    if _is_loose(known, events, wanted):
        return True
    long = 3 * HOUR // 4 if WHOLE.search(line.text) else HOUR // 4
    for number_of in {event.step for event in events}:
        mine = [clause for clause in known.histories.clauses if clause.step == number_of]
        text = " ".join(clause.text for clause in mine)
        longest = max((clause.seconds for clause in mine), default=Fraction(0))
        covered = COVERED.search(text) and longest >= 2 * HOUR
        moist = MOIST.search(text) and longest >= long
        if (
            covered
            or moist
            or any(_is_braised(known, event, long) for event in events)
            or longest >= 3 * HOUR
            or ("pressure" in text and longest >= HOUR // 6)
        ):
            return True
    return False


def _is_loose(known: Dish, events: tuple[Event, ...], wanted: Minimum) -> bool:
    """Whether ground meat is fried in crumbs, which are as hot inside as outside."""
    if not any(event.heat is Heat.COOKED for event in events):
        return False
    if any(CRUMBLED.search(text) for text in texts(known, events)):
        return wanted.food in {"ground meat", "poultry"}
    return wanted.food == "ground meat" and not any(
        SHAPED.search(clause.text) for clause in known.histories.clauses
    )


def _is_braised(known: Dish, event: Event, least: int) -> bool:
    """Whether a deed cooks it in what was poured to it, for ``least`` seconds or more."""
    poured = any(is_of(known.foods[line].food, POURED) for line in event.lines)
    wet = event.verb in {"cook", "braise", "stew", "simmer"} or event.seconds >= HOUR
    return poured and wet and event.heat is Heat.COOKED and event.seconds >= least


COVERED = regex(r"\b(?:cover\w*|foil|lid)\b")
THIN = regex(r"\b(?:thin|thinly|strips|shaved|escalopes?|cutlets?|scaloppine)\b", re.IGNORECASE)
BEATEN = frozenset({"pound", "flatten", "bash"})
WHOLE = regex(r"\b(?:whole\b|(?:chicken|turkey|duck|goose)(?=$| \(|,))(?!.*\bjoint)", re.IGNORECASE)
SHAPED = regex(
    r"\b(?:patt(?:y|ies)|balls?|meatballs?|burgers?|shape\w*|form|logs?|lo(?:af|aves)|links?|sausages?|stuff\w*"
    r"|skewers?|koftas?|wrappers?|dumplings?|sausagemeat|parcels?)\b"
)
SIGNS = regex(
    r"\b(?:tender|cooked through|run clear|runs clear|no pink|not pink|no longer pink|no trace of pink|opaque"
    r"|cooked all the way|(?:fall|pull|come)\w* (?:from|off|away|apart)|shreds?)\b"
)
CRUMBLED = regex(r"\b(?:crumbl\w+|break\w*|breaking)\b")
MOIST = regex(r"\b(?:simmer\w*|brais\w*|stew\w*|boil\w*|poach\w*|slow cooker)\b")


_BOILS = regex(r"boil|\bbubbl(?:e|es|ing)\b")  # a pudding that starch thickens


def _egg_missing(subject: Subject, known: Dish) -> Iterator[Query]:
    for place, line in eggs_of_custard(known):
        events = known.history(place).events
        baked = any(
            event.verb in {"bake", "boil", "simmer", "bubble"} or _BOILS.search(event.text)
            for event in events
        )
        if not baked and not _is_stated(subject, place):
            yield query(
                line,
                "no step says how hot the egg mixture must get",
                f"write the temperature, at least {chart_told(EGG_DISH)}",
            )
