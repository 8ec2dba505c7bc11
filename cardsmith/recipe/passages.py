"""Measures in plain text: amounts, temperatures, lengths, pans, durations, conversions beside them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from cardsmith.finding import Severity
from cardsmith.language.spans import Purpose
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System, Unit
from cardsmith.recipe.amounts import amount_at, length_of, unit_at
from cardsmith.recipe.heads import brackets_at
from cardsmith.recipe.numbers import SPACE, VULGAR, WHOLES, Fault, number_at
from cardsmith.recipe.purposes import purpose_of
from cardsmith.recipe.temperatures import temperature_at
from cardsmith.regex import regex

_WORDS = "|".join(WHOLES)
_START = regex(
    rf"(?<![^\W_])(?<![0-9][.,/⁄])(?:between{SPACE}+(?=[0-9{VULGAR}])|gas\b|fan{SPACE}+(?=[0-9])|"
    rf"(?:(?<![^\s(])[-−])?(?:[0-9]|\.[0-9])|[{VULGAR}]|(?:an?|half|quarter|{_WORDS})\b)",
    re.IGNORECASE,
)
_ARTICLE = regex(rf"an?{SPACE}+[0-9{VULGAR}]", re.IGNORECASE)
_BY = regex(rf"{SPACE}*[x×]{SPACE}*|[- \u00a0]+by[- \u00a0]+", re.IGNORECASE)
_SEPARATOR = regex(rf"{SPACE}*(?:[/;,=]|\bor\b|\babout\b)?{SPACE}*(?:(?:or|about){SPACE}+)?", re.IGNORECASE)
_BESIDE = regex(rf"{SPACE}*/{SPACE}*|,{SPACE}*|,?{SPACE}+or{SPACE}+", re.IGNORECASE)
_ENDS_NOUN = regex(rf"{SPACE}+of\b|{SPACE}*(?:[.,;:)]|$)", re.IGNORECASE)
_SINGULAR_BEFORE = regex(rf"{SPACE}+(?P<word>[a-z][\w-]*)", re.IGNORECASE)
_AFTER_LENGTH = frozenset(
    "thick deep wide long high tall apart across from of and or in to at until then by above below on with "
    "for between inside all per so around into is are over under as diameter".split()
)
_CUPS_OF_A_TIN = regex(r"[- ](?:\w+[- ])?(?:muffin|cupcake|popover|madeleine)", re.IGNORECASE)
_WORDS_AFTER = regex(rf"{SPACE}+[a-z]|[),;]")
_INCHES_BEFORE = regex(rf"{SPACE}+(?:thick|wide|long|deep|high|apart|square|round|pan|piece|dice|cube)")
_GAP = regex(rf"-|{SPACE}*")
_HEAT = regex(rf"{SPACE}*(?:[°º]|degrees\b|[CF]\b)")
_SIDES = regex(rf"[0-9]+(?:{SPACE}*[x×]{SPACE}*[0-9]+)+")
_STOP = regex(rf"{SPACE}*$|{SPACE}+[A-Z]")
_PANS = regex(r"[- ](?:\w+ )?(?:pan|tin|dish|sheet|skillet|cake|mold|mould)s?\b", re.IGNORECASE)
_SAME_FAMILY = {Dimension.MASS: "amount", Dimension.VOLUME: "amount"}
_MOST_SIDES = 3  # width, length, depth
_READ = {Dimension.MASS, Dimension.VOLUME, Dimension.LENGTH, Dimension.DURATION}


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """One measure in a text and all that was given beside it."""

    start: int
    end: int
    sides: tuple[Quantity, ...]
    stated: tuple[Quantity, ...] = ()
    purpose: Purpose | None = None
    adjective: bool = False
    faults: tuple[Fault, ...] = ()


def passages(text: str, measures: System) -> tuple[tuple[Passage, ...], tuple[Fault, ...]]:
    """Every measure of ``text`` in order, and the faults of all of them. Other numbers stay words."""
    found = tuple(_all(text, measures))
    return tuple(one for one in found if one.sides), tuple(fault for one in found for fault in one.faults)


def _all(text: str, measures: System) -> Iterator[Passage]:
    place = 0
    while match := _START.search(text, place):
        start = match.start()
        if _ARTICLE.match(text, start):
            place = match.end()  # "a 9-inch pan": the article stays a word
            continue
        one = _measure_at(text, start, measures)
        if one is None:
            place = match.end()
            number = number_at(text, start)
            if number is not None:
                fault = _unreadable(text, number.end, number.faults, measures) if number.value is None else ()
                fault += _pan_without_unit(text, start, measures) + _nothing(text, start, measures)
                if fault:
                    yield Passage(start=start, end=number.end, sides=(), faults=fault)
                place = max(number.end, place)
            continue
        one = _with_beside(text, one, measures)
        if one.sides[0].dimension is Dimension.TEMPERATURE:
            one = replace(one, purpose=purpose_of(text, one.start, one.end))
        yield one
        place = one.end


def _measure_at(text: str, start: int, measures: System) -> Passage | None:
    temperature = temperature_at(text, start)
    if temperature is not None:
        return Passage(
            start=start,
            end=temperature.end,
            sides=(temperature.quantity,),
            adjective=temperature.joined,
            faults=temperature.faults,
        )
    return _sides_at(text, start, measures) or _amount(text, start, measures)


def _sides_at(text: str, start: int, measures: System) -> Passage | None:
    """``9 by 13 inches``, ``33 × 23 × 5 cm``: numbers with "by" between and a unit of length at the end."""
    numbers: list[tuple[int, int, Unit | None, bool]] = []
    place = start
    while True:
        number = number_at(text, place)
        unreadable = number is None or number.value is None or number.faults
        if number is None or unreadable or len(numbers) == _MOST_SIDES:
            return None
        unit = length_of(text, number.end, measures)
        end = unit[1] if unit else number.end
        numbers.append((place, end, unit[0] if unit else None, bool(unit) and text[number.end] in "-‑"))
        joint = _BY.match(text, end)
        if joint is None:
            break
        place = joint.end()
    if len(numbers) < 2 or numbers[-1][2] is None:
        return None
    sides: list[Quantity] = []
    unit_now = numbers[-1][2]
    for begin, end, own, _ in reversed(numbers):
        unit_now = own or unit_now
        value = number_at(text, begin)
        if value is None or value.value is None:
            return None
        base = unit_now.to_base(value.value)
        sides.insert(0, Quantity(low=base, high=base, unit=unit_now, written=text[begin:end]))
    end = numbers[-1][1]
    if text[end - 1] == "." and _STOP.match(text, end):
        end -= 1  # as below: "about 30 by 40 cm. Peel off"
    return Passage(
        start=start,
        end=end,
        sides=tuple(sides),
        adjective=numbers[-1][3] or _describes(text, end, numbers[-1][2]),
    )


def _amount(text: str, start: int, measures: System) -> Passage | None:
    found = amount_at(text, start, measures)
    if found is None or found.quantity is None or not found.unit_written:
        return None
    quantity = found.quantity
    if quantity.is_vague or quantity.dimension not in _READ or _is_nothing(quantity):
        return None
    written = text[found.unit_start : found.end]
    if _CUPS_OF_A_TIN.match(text, found.end):
        return None  # "a 12-cup muffin tin" has twelve cups; it holds less
    if found.article and not _article_counts(text, found.end, quantity):
        return None
    apart = text[found.unit_start - 1].isspace()
    if written in {"in", "in."} and apart and not _inch_stands(text, found.end, written):
        return None
    end = found.end
    if written.endswith(".") and _STOP.match(text, end):
        end -= 1  # the stop ends the sentence, not the unit: "Add 5 oz."
        quantity = replace(quantity, written=text[start:end])
    describes = quantity.dimension is Dimension.LENGTH and _describes(text, found.end, quantity.unit)
    return Passage(
        start=start,
        end=end,
        sides=(quantity,),
        adjective=found.joined or describes,
        faults=found.faults,
    )


def _is_nothing(quantity: Quantity) -> bool:
    return quantity.low <= 0 and quantity.dimension in {Dimension.MASS, Dimension.VOLUME}


def _nothing(text: str, start: int, measures: System) -> tuple[Fault, ...]:
    """The fault of ``0 g``, of which no other system has a share to print."""
    found = amount_at(text, start, measures)
    if found is None or found.quantity is None or not _is_nothing(found.quantity):
        return ()
    return (
        Fault(
            name="unreadable-amount",
            severity=Severity.ERROR,
            start=start,
            end=found.end,
            what=f"“{text[start : found.end]}” is no amount of anything",
            instead="an amount above 0, or words for none",
        ),
    )


def _article_counts(text: str, end: int, quantity: Quantity) -> bool:
    """ "a cup of stock", "an hour"; but not "a minute", "a second time", "a quart jar"."""
    if quantity.dimension is Dimension.DURATION:
        return quantity.unit.name == "hour"
    return _ENDS_NOUN.match(text, end) is not None and quantity.dimension is not Dimension.LENGTH


def _inch_stands(text: str, end: int, written: str) -> bool:
    if written == "in.":
        return _WORDS_AFTER.match(text, end) is not None
    return _INCHES_BEFORE.match(text, end) is not None


def _describes(text: str, end: int, unit: Unit) -> bool:
    """Whether a length stands before the noun it describes: "a 23 cm tin", but "2 cm thick"."""
    after = _SINGULAR_BEFORE.match(text, end)
    if after is None or text[end - 2 : end] == "es":
        return False
    return after["word"].lower() not in _AFTER_LENGTH


def _family(quantity: Quantity) -> str:
    return _SAME_FAMILY.get(quantity.dimension, quantity.dimension.value)


def _with_beside(text: str, one: Passage, measures: System) -> Passage:
    """``one`` with the conversions that follow: ``160 °C (325 °F)``, ``180°C/350°F``."""
    while True:
        more = _in_brackets(text, one, measures) or _after_joint(text, one, measures)
        if more is None:
            break
        one = more
    if one.sides[0].dimension is Dimension.LENGTH and _describes(text, one.end, one.sides[0].unit):
        one = replace(one, adjective=True)
    return one


def _in_brackets(text: str, one: Passage, measures: System) -> Passage | None:
    inside = brackets_at(text, one.end)
    if inside is None:
        return None
    place, end = inside
    stated: list[Quantity] = []
    faults = one.faults
    while place < end:
        gap = _SEPARATOR.match(text, place)
        other = _measure_at(text[:end], gap.end() if gap else place, measures)
        if other is None or _family(other.sides[0]) != _family(one.sides[0]):
            return None
        stated += other.sides
        faults += other.faults
        place = other.end
    return replace(one, end=end + 1, stated=one.stated + tuple(stated), faults=faults)


def _after_joint(text: str, one: Passage, measures: System) -> Passage | None:
    """A conversion after a slash; after a comma or "or" only a temperature on another scale."""
    joint = _BESIDE.match(text, one.end)
    other = _measure_at(text, joint.end(), measures) if joint else None
    if joint is None or other is None or _family(other.sides[0]) != _family(one.sides[0]):
        return None
    if "/" not in joint[0]:
        said = {quantity.unit.system for quantity in (*one.sides, *one.stated)}
        temperature = one.sides[0].dimension is Dimension.TEMPERATURE
        if not temperature or other.sides[0].unit.system in said | {System.UNKNOWN}:
            return None
    return replace(one, end=other.end, stated=one.stated + other.sides, faults=one.faults + other.faults)


def _unreadable(text: str, end: int, faults: tuple[Fault, ...], measures: System) -> tuple[Fault, ...]:
    """Faults of a number that matter: those of a measure, not of a date or a score."""
    gap = _GAP.match(text, end)
    found = unit_at(text, gap.end() if gap else end, measures)
    heat = _HEAT.match(text, end)
    return faults if heat or (found is not None and found.word.unit.dimension in _READ) else ()


def _pan_without_unit(text: str, start: int, measures: System) -> tuple[Fault, ...]:
    """The fault of ``a 9x13 pan``, whose unit was left out."""
    match = _SIDES.match(text, start)
    if match is None or not _PANS.match(text, match.end()):
        return ()
    return (
        Fault(
            name="size-without-unit",
            severity=Severity.WARNING,
            start=start,
            end=match.end(),
            what=f"“{match[0]}” has no unit",
            instead=f"“{match[0]}-inch” or “{match[0]} cm”",
        ),
    )
