"""Boiling sugar: the stage that a step names, or the sweet that is made, by the thermometer; altitude."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache

from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.spans import Kind, Measured, Purpose
from cardsmith.measure.units import units
from cardsmith.recipe.mentions.result_words import DISH
from cardsmith.reference import table
from cardsmith.regex import regex

FAHRENHEIT = units()["degree Fahrenheit"]
SLACK = Fraction(2)  # °C: printed tables differ by so much
APART = Fraction(10)  # °C: another stage than the one that is named
STAGE = regex(
    r"\b(?P<stage>(?:soft|firm|hard)[- ]ball|(?:soft|hard)[- ]crack|thread(?= stage)|amber"
    r"|(?:light|dark|deep|pale|golden|brown) (?:brown )?caramel|(?:turns?|is) brittle)\b",
    re.IGNORECASE,
)
PASSED = regex(r"\b(?:past|beyond|through|after|above|from) (?:the )?$", re.IGNORECASE)
BOILING = (Fraction(110), Fraction(158))  # °C: between the stages; above, sugar browns and no longer boils
HEIGHT = regex(r"\b(?:altitude|elevation|sea level|mountain|hills|high up)", re.IGNORECASE)


@cache
def stages() -> Mapping[str, tuple[Fraction, Fraction]]:
    """Each stage's lowest and highest temperature over all sources, in °C at sea level."""
    by_name: dict[str, tuple[Fraction, Fraction]] = {}
    for row in table("sugar_stages"):
        low, high = (FAHRENHEIT.to_base(Fraction(row[f"{end}_fahrenheit"])) for end in ("low", "high"))
        before = by_name.get(row["stage"], (low, high))
        by_name[row["stage"]] = (min(low, before[0]), max(high, before[1]))
    return by_name


@check(
    "stage-temperature-disagree",
    Severity.WARNING,
    why="A soft ball and a hard crack are 60 °F apart: the one is fudge, the other glass.",
    source="sugar_stages.csv, a source for each stage",
    remedy="keep the one you saw and measured",
)
def stage_temperature_disagree(subject: Subject) -> Iterator[Query]:
    """A stage of boiled sugar, or its colour, beside a temperature that is not its own."""
    for sentence in subject.sentences:
        hot = [
            (place, span)
            for place, span in sentence.of(Kind.TEMPERATURE)
            if span.quantity.low >= 100 and span.purpose is not Purpose.OVEN
        ]
        for match in STAGE.finditer(sentence.text):
            if not hot or PASSED.search(sentence.text[: match.start()]):
                continue
            _, near = min(hot, key=lambda pair: abs(pair[0] - match.start()))
            name = _name(match["stage"])
            low, high = stages()[name]
            if near.quantity.high < low - SLACK or near.quantity.low > high + SLACK:
                unit = near.quantity.unit
                usual = " to ".join(number(round(unit.from_base(end))) for end in (low, high))
                far = near.quantity.high <= low - APART or near.quantity.low >= high + APART
                what = f"{near.quantity.written} is not {name}, which is {usual} {unit.symbol}"
                yield query(near, what, severity=Severity.ERROR if far else None)


def _name(words: str) -> str:
    """The stage of the table that some words name."""
    lowered = words.lower().replace("-", " ")
    return "amber" if "caramel" in lowered else "hard crack" if "brittle" in lowered else lowered


@frozen
class Sweet:
    """A sweet or preserve that sugar is boiled for, and between which °C at sea level."""

    names: tuple[str, ...]
    low: Fraction
    high: Fraction
    told: str


@cache
def sweets() -> tuple[Sweet, ...]:
    """Every row of the table."""
    return tuple(
        Sweet(
            names=tuple(row["names"].split("|")),
            low=Fraction(row["low_celsius"]),
            high=Fraction(row["high_celsius"]),
            told=row["told"],
        )
        for row in table("candy_heats")
    )


@check(
    "boiled-to-another-stage",
    Severity.ERROR,
    why="A few degrees turn fudge into toffee and caramel into glass, or leave a brittle that never sets.",
    source="candy_heats.csv, a source for each row",
    remedy="write the temperature that you read, or call the dish what it becomes at this one",
)
def boiled_to_another_stage(subject: Subject) -> Iterator[Query]:
    """A sweet or jam, by its title, whose sugar is boiled to a temperature that its kind never is."""
    title = DISH.split(subject.recipe.title)[0].lower().strip()
    sweet = next((other for other in sweets() if any(_ends(title, name) for name in other.names)), None)
    read = [
        span
        for sentence in subject.sentences
        for _, span in sentence.of(Kind.TEMPERATURE)
        if span.purpose not in ELSEWHERE and span.quantity.low >= WATER_BOILS
    ]
    if sweet is not None and not read:  # it boils, the steps say, far below the heat of boiling water
        boils = (sentence for sentence in subject.sentences if BOILS.search(sentence.text))
        read = [span for sentence in boils for _, span in sentence.measures if span.purpose is Purpose.SYRUP]
    if sweet is None or not read:
        return
    far = min(read, key=lambda span: _off(span, sweet))
    if _off(far, sweet) > NEAR:
        unit = far.quantity.unit
        usual = " to ".join(number(round(unit.from_base(end))) for end in (sweet.low, sweet.high))
        name = next(name for name in sweet.names if _ends(title, name))
        what = (
            f"for {name}, sugar is boiled to {usual} {unit.symbol}, {sweet.told}, not {far.quantity.written}"
        )
        yield query(far, what, severity=Severity.ERROR if _off(far, sweet) >= APART else Severity.WARNING)


BOILS = regex(r"\bboil\w*\b", re.IGNORECASE)
ELSEWHERE = frozenset({Purpose.OVEN, Purpose.FAT, Purpose.GRILL, Purpose.SMOKER})
WATER_BOILS = Fraction(100)  # °C; below it sugar cools
NEAR = Fraction(4)  # °C beyond the table, as one sweet of a name is softer than another


def _ends(title: str, name: str) -> bool:
    return title == name or title.endswith(f" {name}")


def _off(span: Measured, sweet: Sweet) -> Fraction:
    """How many °C a heat lies outside those of a sweet."""
    return max(sweet.low - span.quantity.high, span.quantity.low - sweet.high, Fraction(0))


@check(
    "altitude-note-missing",
    Severity.NOTE,
    why="Water boils 1 °F lower for every 500 feet, and each stage of sugar with it: the batch overcooks.",
    source="Colorado State University Extension, Candy Making at High Elevation: 2 °F for each 1,000 ft",
    remedy="add a note: above 3,000 feet take 2 °F off every reading for each 1,000 feet",
)
def altitude_note_missing(subject: Subject) -> Iterator[Query]:
    """Sugar boiled to a stage by the thermometer, and no word on altitude; said once."""
    if any(HEIGHT.search(field.text) or field.measures(Kind.ALTITUDE) for field in subject.fields):
        return
    for sentence in subject.sentences:
        for _, span in sentence.of(Kind.TEMPERATURE):
            if span.purpose is Purpose.SYRUP and BOILING[0] <= span.quantity.low <= BOILING[1]:
                yield query(span, f"{span.text} is right at sea level only")
                return
