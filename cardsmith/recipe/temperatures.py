"""Temperatures in text: ``180 °C``, ``350–375°F``, ``gas mark 4``, ``25 degrees lower``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import System, Unit, temperature_words, units
from cardsmith.recipe.amounts import reversed_range
from cardsmith.recipe.numbers import SPACE, Fault, number_at
from cardsmith.regex import regex

_BEFORE = 200  # characters before a number in which a word may say what it is
_SIGN = regex("[-−–](?=[0-9])")
_TO = regex(rf"{SPACE}*(?:[-–—‒]|\bto\b|\bor\b){SPACE}*", re.IGNORECASE)
_AND = regex(rf"{SPACE}+and{SPACE}+", re.IGNORECASE)
_BETWEEN = regex(rf"between{SPACE}+", re.IGNORECASE)
_SMALL_AFTER = regex(rf"{SPACE}+[a-z]")
_GAP = regex(rf"-|{SPACE}*")
_FAN = regex(
    rf"{SPACE}*(?:fan(?:[- ]?(?:assisted|forced|oven))?|convection)(?:{SPACE}+oven)?\b", re.IGNORECASE
)
_FAN_FIRST = regex(rf"(?:fan|convection){SPACE}+(?=[0-9])", re.IGNORECASE)
_LOWER = regex(
    rf"{SPACE}*(?:lower|higher|hotter|cooler|warmer|colder|less|more|above|below|difference)\b"
    rf"(?!{SPACE}*(?:than{SPACE}+)?[0-9])",
    re.IGNORECASE,
)
_BY = regex(
    rf"\b(?:by|(?:increase|decrease|rise|drop|difference|reduction)s?{SPACE}+of){SPACE}+"
    rf"(?:(?:about|another|some){SPACE}+)?$",
    re.IGNORECASE,
)
# A turn or an angle is no heat.
_ANGLE = regex(r"\b(?:rotat|turn|angle|tilt|pivot|spin|swivel)\w*\b[^.;]*$", re.IGNORECASE)
_ANGLE_AFTER = regex(r"[- ]*(?:angle|turn|rotation|bend)\b", re.IGNORECASE)
_BARE_BEFORE = regex(
    r"\b(?:oven|temperature|preheat\w*|grill|broiler|bake|baked|baking|roast\w*)\b"
    rf"[^.;:]{{0,40}}?\b(?:to|at|of){SPACE}+(?:about{SPACE}+)?$",
    re.IGNORECASE,
)
# A thermometer's figure; a balance, a refractometer and a pH meter are read too.
_READING = regex(
    rf"\b(?:reads?|reading|registers?|registering|(?:internal|core){SPACE}+temperature{SPACE}+(?:of|is|reaches))"
    rf"{SPACE}+(?:(?:about|at{SPACE}+least){SPACE}+)?$",
    re.IGNORECASE,
)
_OTHER_METER = regex(r"\b(?:scales?|balance|refractometer|hydrometer|ph|brix)\b", re.IGNORECASE)
_BARE_AFTER = regex(
    rf"{SPACE}*(?:$|[.,;:()]|(?:for|until|and|with|then|while|in|on|or|before|when|once)\b)", re.IGNORECASE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TemperatureFound:
    """A temperature (or a difference of two) and where it ends."""

    quantity: Quantity
    end: int
    joined: bool = False  # "a 350-degree oven"
    faults: tuple[Fault, ...] = ()


@cache
def _scales() -> tuple[re.Pattern[str], dict[str, Unit]]:
    """A pattern of every scale word, the longest first, and their units by the word without spaces."""
    words = temperature_words().items()
    known = {word: found.unit for word, found in words if found.unit.system is not System.GAS}
    ordered = sorted(known, key=lambda word: (-len(word), word))
    spelled = (f"(?:{SPACE}|-)*".join(re.escape(part) for part in word.split()) for word in ordered)
    by_word = {_joined(word): unit for word, unit in known.items()}
    # "a 350-degree-F oven" is singular.
    return regex("|".join(spelled).replace("degrees", "degrees?"), re.IGNORECASE), by_word


def _joined(word: str) -> str:
    return "".join(word.replace("-", " ").lower().replace("degrees", "degree").split())


def _scale_at(text: str, start: int, number: Fraction) -> tuple[Unit, int] | None:
    """The scale word that begins at ``start`` after ``number``, and where it ends."""
    pattern, known = _scales()
    match = pattern.match(text, start)
    while match:
        word = match[0]
        whole = not (word[-1].isalpha() and text[match.end() : match.end() + 1].isalpha())
        if whole and (word not in "CFcf" or _letter_is_scale(text, match, word, number)):
            return known[_joined(word)], match.end()
        match = pattern.match(text, start, match.end() - 1)
    return None


def _letter_is_scale(text: str, match: re.Match[str], letter: str, number: Fraction) -> bool:
    """Whether a bare C or F is a scale: a small number before more words is cups ("2 C flour")."""
    if letter.islower():
        return number >= 100 and text[match.start() - 1].isdigit()
    return letter == "F" or number <= 0 or number >= 10 or not _SMALL_AFTER.match(text, match.end())


@dataclass(frozen=True, slots=True, kw_only=True)
class _End:
    value: Fraction
    end: int
    unit: Unit | None
    after: int  # where the number alone ends
    faults: tuple[Fault, ...]


def _end_at(text: str, start: int) -> _End | None:
    sign = _SIGN.match(text, start)
    number = number_at(text, sign.end() if sign else start)
    if number is None or number.value is None:
        return None
    value = -number.value if sign else number.value
    gap = _GAP.match(text, number.end)
    scale = _scale_at(text, gap.end(), value) if gap else None
    return _End(
        value=value,
        end=scale[1] if scale else number.end,
        unit=scale[0] if scale else None,
        after=number.end,
        faults=number.faults,
    )


def temperature_at(text: str, start: int) -> TemperatureFound | None:
    """The temperature that begins at ``start``; None where none does.

    A number without a scale is a temperature only where the words around leave no doubt; its unit is
    ``degree`` then, which a check asks about.
    """
    gas = _gas_at(text, start)
    if gas is not None:
        return gas
    fan = _FAN_FIRST.match(text, start)
    between = _BETWEEN.match(text, start)
    place = (fan or between).end() if fan or between else start  # type: ignore[union-attr]
    low = _end_at(text, place)
    if low is None:
        return None
    joint = (_AND if between else _TO).match(text, low.end)
    high = _end_at(text, joint.end()) if joint else None
    if (
        high is not None
        and high.unit is None
        and low.unit is None
        and not _is_bare(text, start, high.end, high.value)
    ):
        high = None
    if high is not None and (high.unit is None) is not (low.unit is None) and high.unit is None:
        high = None
    last = high or low
    unit = last.unit
    if low.unit is not None and last.unit is not None and low.unit is not last.unit:
        if low.unit.system is System.UNKNOWN:
            pass
        else:
            last, unit = low, low.unit
    if unit is None:
        if not _is_bare(text, start, last.end, last.value):
            return None
        unit = units()["degree"]
    if unit.system is System.UNKNOWN and (
        _ANGLE.search(text, max(0, start - _BEFORE), start) or _ANGLE_AFTER.match(text, last.end)
    ):
        return None
    return _found(text, start, low, last, unit=unit, fan=bool(fan))


def _upper_end(text: str, low: _End, joints: re.Pattern[str]) -> _End | None:
    """The second end of a range: on the same scale, or the one that names the scale for both."""
    joint = joints.match(text, low.end)
    high = _end_at(text, joint.end()) if joint else None
    if high is None or (low.unit is not None and high.unit is None):
        return None
    shared = low.unit is None or low.unit is high.unit or low.unit.system is System.UNKNOWN
    return high if shared else None


def _found(text: str, start: int, low: _End, last: _End, *, unit: Unit, fan: bool) -> TemperatureFound:
    end = last.end
    if _LOWER.match(text, end) or _BY.search(text, max(0, start - _BEFORE), start):
        unit = units()[f"{unit.name} (difference)"]
    after = _FAN.match(text, end)
    end = after.end() if after else end
    ends = sorted((unit.to_base(low.value), unit.to_base(last.value)))
    quantity = Quantity(
        low=ends[0],
        high=ends[1],
        unit=unit,
        written=text[start:end],
        fan=fan or bool(after),
    )
    faults = low.faults + (last.faults if last is not low else ())
    if low.value > last.value:
        faults += (reversed_range(text, start, end),)
    return TemperatureFound(
        quantity=quantity, end=end, joined=text[last.after : last.after + 1] == "-", faults=faults
    )


def _is_bare(text: str, start: int, end: int, value: Fraction) -> bool:
    """Whether a number without a scale can only be a temperature: an oven's, or what a thermometer reads."""
    if value.denominator != 1 or _BARE_AFTER.match(text, end) is None:
        return False
    if _READING.search(text, max(0, start - 60), start):
        return 30 <= value <= 600 and _OTHER_METER.search(text, max(0, start - 60), start) is None
    return 100 <= value <= 600 and _BARE_BEFORE.search(text, max(0, start - _BEFORE), start) is not None


_GAS = regex(rf"gas(?:{SPACE}+mark)?{SPACE}*(?=[0-9¼½¾])", re.IGNORECASE)


def _gas_at(text: str, start: int) -> TemperatureFound | None:
    word = _GAS.match(text, start)
    low = number_at(text, word.end()) if word else None
    if low is None or low.value is None:
        return None
    joint = _TO.match(text, low.end)
    high = number_at(text, joint.end()) if joint else None
    last = high if high is not None and high.value is not None and high.value > low.value else low
    unit = units()["gas mark"]
    quantity = Quantity(
        low=low.value, high=last.value or low.value, unit=unit, written=text[start : last.end]
    )
    return TemperatureFound(quantity=quantity, end=last.end)
