"""Boiling sugar: the stage that a step names against the thermometer, and altitude."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache

from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.finding import Severity
from cardsmith.language.spans import Kind, Purpose
from cardsmith.measure.units import units
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
    found: dict[str, tuple[Fraction, Fraction]] = {}
    for row in table("sugar_stages"):
        low, high = (FAHRENHEIT.to_base(Fraction(row[f"{end}_fahrenheit"])) for end in ("low", "high"))
        before = found.get(row["stage"], (low, high))
        found[row["stage"]] = (min(low, before[0]), max(high, before[1]))
    return found


@check(
    "stage-temperature-disagree",
    Severity.WARNING,
    why="A soft ball and a hard crack are 60 °F apart: the one is fudge, the other glass.",
    source="sugar_stages.csv, a source for each stage",
    remedy="keep the one you saw and measured",
)
def stage_temperature_disagree(subject: Subject) -> Iterator[Query]:
    """A stage of boiled sugar, or its colour, beside a temperature at which it does not stand."""
    for one in subject.sentences:
        hot = [
            (place, span)
            for place, span in one.of(Kind.TEMPERATURE)
            if span.quantity.low >= 100 and span.purpose is not Purpose.OVEN
        ]
        for match in STAGE.finditer(one.text):
            if not hot or PASSED.search(one.text[: match.start()]):
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
    told = words.lower().replace("-", " ")
    return "amber" if "caramel" in told else "hard crack" if "brittle" in told else told


@check(
    "altitude-note-missing",
    Severity.NOTE,
    why="Water boils 1 °F lower for every 500 feet, and each stage of sugar with it: the batch overcooks.",
    source="Colorado State University Extension, Candy Making at High Elevation: 2 °F for each 1,000 ft",
    remedy="add a note: above 3,000 feet take 2 °F off every reading for each 1,000 feet",
)
def altitude_note_missing(subject: Subject) -> Iterator[Query]:
    """Sugar boiled to a stage by the thermometer, and no word on altitude; said once."""
    if any(HEIGHT.search(one.text) or one.measures(Kind.ALTITUDE) for one in subject.fields):
        return
    for one in subject.sentences:
        for _, span in one.of(Kind.TEMPERATURE):
            if span.purpose is Purpose.SYRUP and BOILING[0] <= span.quantity.low <= BOILING[1]:
                yield query(span, f"{span.text} is right at sea level only")
                return
