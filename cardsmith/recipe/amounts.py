"""Amounts in text: ``½ cup plus 1 tablespoon``, ``200–250 g``, ``a heaping tsp``."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache

from cardsmith.finding import Finding, Severity, Where
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension, System, Unit, UnitWord, unit_words, units
from cardsmith.recipe.numbers import SPACE, SPACES, Fault, NumberFound, number_at, spelled_at
from cardsmith.regex import regex

ONE = Unit(
    name="one",
    plural="",
    symbol="",
    dimension=Dimension.COUNT,
    system=System.ANY,
    size=Fraction(1),
    source="definition",
)
SIZES = "extra[- ]large|small|medium|large|jumbo"
_QUALIFIER = regex(
    rf"(?P<word>about|approximately|approx\.?|around|roughly|circa|ca\.|nearly|almost|just{SPACE}+under|just{SPACE}+over|"
    rf"scant|heaping|heaped|generous|rounded|level|at{SPACE}+least|at{SPACE}+most|up{SPACE}+to|good|more{SPACE}+than|less{SPACE}+than)"
    rf"(?:{SPACE}+|(?=[0-9]))|(?P<sign>~|≈){SPACE}*",
    re.IGNORECASE,
)
_ABOUT = {"", "approximately", "approx", "approx.", "around", "roughly", "circa", "ca."}  # "" for the sign ~
_ARTICLE = regex(rf"an?{SPACE}+", re.IGNORECASE)
_BETWEEN = regex(rf"between{SPACE}+", re.IGNORECASE)
_TO = regex(rf"{SPACE}*+(?:(?:[-‑]{SPACE}*+)?\b(?:to|or)\b|[-–—‒‑]){SPACE}*", re.IGNORECASE)
_TO_SAME = regex(rf"{SPACE}*(?:\bto\b|[-–—‒‑]){SPACE}*", re.IGNORECASE)
_AND = regex(rf"{SPACE}+and{SPACE}+", re.IGNORECASE)
_BEFORE_UNIT = regex(
    rf"(?:(?P<size>{SIZES})(?:[- ]sized?)?|"
    r"(?P<qualifier>heaping|heaped|level|scant|rounded|generous|good|big)|"
    rf"(?P<form>(?:firmly{SPACE}+|lightly{SPACE}+)?packed|sifted)|"
    rf"(?P<note>fat|plump|thick|thin|fresh|heavy|full|long|short|tender|young)){SPACE}+",
    re.IGNORECASE,
)
_PLUS = regex(
    rf"{SPACE}*(?:(?P<plus>\bplus\b|\+)|(?P<less>\bminus\b|\bless\b|−)|&|,|\band\b)?{SPACE}*", re.IGNORECASE
)
_AND_A_PART = regex(rf"{SPACE}+and{SPACE}+(?:an?|one){SPACE}+(?P<part>half|quarter)\b", re.IGNORECASE)
_THOUSANDS_POINT = regex(r"[1-9][0-9]{0,2}\.[0-9]{3}(?![0-9])")
_PERCENT = regex(rf"{SPACE}*%")
_GAP = regex(rf"[-‑]|{SPACE}+")
_HYPHENED = regex("[-‑][A-Za-z]")
# "in" is an inch only where a length can stand: "a 2 in piece", never "2 in a bag".
_NO_INCH = regex(
    rf"{SPACE}+(?:an?|the|this|that|each|your|our|another|all|turn|one|half)\b|{SPACE}*$", re.IGNORECASE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AmountFound:
    """An amount, where it stands, and what the words around its unit say."""

    quantity: Quantity | None  # None where the faults say why it cannot be read
    start: int
    end: int
    faults: tuple[Fault, ...] = ()
    unit_start: int = 0  # where the unit word begins
    unit_written: bool = True  # False for a bare number
    joined: bool = False  # by a hyphen: "9-inch"
    article: bool = False  # "a cup", "an onion": a number only by its noun
    size: str = ""  # small, medium, large
    form: str = ""  # packed, sifted: "1 packed cup"
    note: str = ""  # another word before the unit: "2 thick slices"


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitFound:
    """A unit word and where it ends."""

    word: UnitWord
    start: int
    end: int


@cache
def _spellings(measures: System) -> tuple[dict[str, UnitWord], dict[str, UnitWord], dict[str, int]]:
    """Unit words as they are spelled, those of several letters in small ones, the longest by first letter."""
    exact = unit_words(measures)
    loose: dict[str, UnitWord] = {}
    longest: dict[str, int] = {}
    for word, meaning in exact.items():
        if len(word) > 1:
            loose.setdefault(word.lower(), meaning)
        first = word[0].lower()
        longest[first] = max(longest.get(first, 0), len(word))
    return exact, loose, longest


@lru_cache(maxsize=1 << 10)  # as a number is
def unit_at(text: str, start: int, measures: System = System.US) -> UnitFound | None:
    """The unit word that begins at ``start``, the longest first; capitals matter only in single letters."""
    exact, loose, longest = _spellings(measures)
    begun = _beginnings(text, start, longest.get(text[start : start + 1].lower(), 0))
    for known, spelled in ((exact, str), (loose, str.lower)):
        for written, end in begun:
            word = known.get(spelled(written))
            if word and _ends(text, written, end, word.unit):
                return UnitFound(word=word, start=start, end=end)
    return None


def _beginnings(text: str, start: int, longest: int) -> list[tuple[str, int]]:
    """What begins at ``start``, up to so many characters, with the place where each ends, the longest first.

    Spaces of any kind and number count as one.
    """
    found: list[tuple[str, int]] = []
    written = ""
    for place in range(start, len(text)):
        letter = text[place]
        if letter in SPACES:
            written += "" if written.endswith(" ") else " "
            continue
        written += letter
        if len(written) > longest:
            break
        found.append((written, place + 1))
    return found[::-1]


def _ends(text: str, written: str, end: int, unit: Unit) -> bool:
    """Whether a unit word ends where the text's word ends, and means what it says."""
    if written[-1].isalpha() and text[end : end + 1].isalpha():
        return False
    counted = unit.dimension is Dimension.COUNT or len(written) == 1
    if counted and _HYPHENED.match(text, end):
        return False  # "2 T-bone steaks", "1 clove-studded onion"
    return not (written.lower() == "in" and _NO_INCH.match(text, end))


def amount_at(text: str, start: int, measures: System = System.US) -> AmountFound | None:
    """The amount that begins at ``start``, with its composed terms; None where none does.

    A bare number is an amount of the unit `ONE`. Ranges keep both ends; a reversed one is a fault.
    """
    first = _sum_at(text, start, measures)
    return None if first is None else _with_upper_end(text, first, measures)


def _sum_at(text: str, start: int, measures: System) -> AmountFound | None:
    total = _term_at(text, start, measures)
    while total is not None and (longer := _with_next_term(text, total, measures)):
        total = longer
    return total


@dataclass(frozen=True, slots=True, kw_only=True)
class _Numbers:
    """One number, or the two ends of a range."""

    low: Fraction | None
    high: Fraction | None
    end: int
    is_range: bool
    article: bool
    faults: tuple[Fault, ...]


def length_of(text: str, start: int, measures: System = System.US) -> tuple[Unit, int] | None:
    """The unit of length after a number that ends at ``start``, and where it ends."""
    _, found = _unit_after(text, start, measures)
    if found is None or found.word.unit.dimension is not Dimension.LENGTH:
        return None
    return found.word.unit, found.end


def _numbers_at(text: str, start: int) -> _Numbers | None:
    between = _BETWEEN.match(text, start)
    place = between.end() if between else start
    article = _ARTICLE.match(text, place)
    if article and number_at(text, article.end()):
        place = article.end()  # "a 400 g can", "a ½-inch dice"
    low = number_at(text, place) or spelled_at(text, place)
    if low is None:
        return None
    is_article = low.spelled and text[place : low.end].lower() in {"a", "an"}
    high = None if is_article else _upper_end(text, low, _AND if between else _TO)
    last = high or low
    return _Numbers(
        low=low.value,
        high=last.value,
        end=last.end,
        is_range=high is not None,
        article=is_article,
        faults=low.faults + (high.faults if high else ()),
    )


def _upper_end(text: str, low: NumberFound, joints: re.Pattern[str]) -> NumberFound | None:
    joint = joints.match(text, low.end)
    if joint is None:
        return None
    high = number_at(text, joint.end())
    if high is None and any(letter.isalpha() for letter in joint[0]):
        high = spelled_at(text, joint.end())
        if high and text[joint.end() : high.end].lower() in {"a", "an"}:
            return None
    return high


def _bound(word: str) -> Bound:
    """What a qualifying word makes of a number."""
    if word in {"", "level"}:
        return Bound.EXACTLY
    if word in {"heaping", "heaped", "rounded", "generous", "good", "big", "just over"}:
        return Bound.HEAPING
    if word in {"scant", "just under", "nearly", "almost"}:
        return Bound.SCANT
    if word in {"at least", "more than"}:
        return Bound.AT_LEAST
    return Bound.AT_MOST if word in {"at most", "up to", "less than"} else Bound.ABOUT


def _qualifier_at(text: str, start: int) -> tuple[str, int]:
    article = _ARTICLE.match(text, start)
    match = _QUALIFIER.match(text, article.end() if article else start)
    if match is None or not _numbers_at(text, match.end()):
        return "", start
    word = " ".join((match["word"] or "").lower().split())
    return ("about" if word in _ABOUT else word), match.end()


def _term_at(text: str, start: int, measures: System) -> AmountFound | None:
    """One number or range with its unit."""
    qualifier, place = _qualifier_at(text, start)
    numbers = _numbers_at(text, place)
    if numbers is None or _PERCENT.match(text, numbers.end):
        return None
    if numbers.low is None or numbers.high is None:
        return AmountFound(quantity=None, start=start, end=numbers.end, faults=numbers.faults)
    around, found = _unit_after(text, numbers.end, measures)
    unit, end = (found.word.unit, found.end) if found else (ONE, numbers.end)
    low, high, faults = numbers.low, numbers.high, numbers.faults
    if found and found.word.doubtful:
        faults += (_doubtful(text, found),)
    point = _THOUSANDS_POINT.match(text, place) if unit.name in {"gram", "millilitre"} else None
    if point:
        faults += (_may_be_thousands(point),)
    if found and not numbers.is_range:
        part = _AND_A_PART.match(text, end)
        if part:
            low = high = low + (Fraction(1, 2) if part["part"].lower() == "half" else Fraction(1, 4))
            end = part.end()
    lower = unit.to_base(low)
    upper = lower if high is low else unit.to_base(high)
    if lower > upper:
        faults += (reversed_range(text, start, end),)
    return AmountFound(
        quantity=Quantity(
            low=min(lower, upper),
            high=max(lower, upper),
            unit=unit,
            written=text[start:end],
            bound=_bound(around.get("qualifier", "") or qualifier),
        ),
        start=start,
        end=end,
        faults=faults,
        unit_start=found.start if found else numbers.end,
        unit_written=found is not None,
        joined=found is not None and text[numbers.end] in "-‑",
        article=numbers.article,
        size=around.get("size", ""),
        form=around.get("form", ""),
        note=around.get("note", ""),
    )


def _unit_after(text: str, start: int, measures: System) -> tuple[dict[str, str], UnitFound | None]:
    """The unit after a number, and the words that may stand between ("heaping", "large", "packed")."""
    gap = _GAP.match(text, start)
    place = gap.end() if gap else start
    around: dict[str, str] = {}
    while True:
        found = unit_at(text, place, measures)
        if found is not None:
            return around, found
        between = _BEFORE_UNIT.match(text, place) if place > start else None
        if between is None:
            return {}, None
        around |= {name: word.lower() for name, word in between.groupdict().items() if word}
        place = between.end()


def _with_upper_end(text: str, first: AmountFound, measures: System) -> AmountFound:
    """The range whose upper end has its own unit: "1 tsp to 1 tbsp". "or" joins alternatives instead."""
    lower = first.quantity
    joint = _TO_SAME.match(text, first.end)
    if lower is None or lower.is_range or joint is None or not first.unit_written:
        return first
    found = _sum_at(text, joint.end(), measures)
    if found is None or found.quantity is None or not found.unit_written or found.article:
        return first
    upper = found.quantity
    if (upper.dimension, upper.unit.system) != (lower.dimension, lower.unit.system):
        return first
    faults = first.faults + found.faults
    if lower.low > upper.high:
        faults += (reversed_range(text, first.start, found.end),)
    whole = replace(
        lower,
        low=min(lower.low, upper.low),
        high=max(lower.low, upper.high),
        written=text[first.start : found.end],
    )
    return replace(first, quantity=whole, end=found.end, faults=faults)


def _with_next_term(text: str, first: AmountFound, measures: System) -> AmountFound | None:
    """``first`` with the term that is added to it: "2 lb 4 oz", "½ cup plus 1 tablespoon"."""
    joint = _PLUS.match(text, first.end) if first.unit_written else None
    second = _term_at(text, joint.end(), measures) if joint and first.quantity else None
    if joint is None or first.quantity is None or second is None or second.quantity is None:
        return None
    mine, other = first.quantity, second.quantity
    if joint[0].strip() not in {"", ","}:  # "1 stick, 8 tablespoons" states one amount twice
        mine = _as_volume(mine, other)
    if not second.unit_written or second.article or mine.dimension is not other.dimension:
        return None
    if mine.dimension is Dimension.COUNT or mine.is_vague or other.is_vague or other.is_range:
        return None
    said = joint["plus"] or joint["less"]
    smaller = mine.unit.system is other.unit.system and mine.unit.size > other.unit.size
    if not said and not smaller:
        return None  # "1 cup, 240 ml" states one amount twice
    added = -other.low if joint["less"] else other.low
    faults = first.faults + second.faults
    if mine.low + added <= 0:
        faults += (_unreadable(text, first.start, second.end),)
    total = replace(
        mine, low=mine.low + added, high=mine.high + added, written=text[first.start : second.end]
    )
    return replace(first, quantity=total, end=second.end, faults=faults)


def _as_volume(stick: Quantity, other: Quantity) -> Quantity:
    """Sticks of butter as cups, where a volume is added to them: "1 stick plus 2 tablespoons".

    A stick is half a cup: 113 g of the 227 g (USDA SR 28, food 01145, weights 4 and 3).
    """
    if stick.unit.name != "stick" or other.dimension is not Dimension.VOLUME:
        return stick
    cup = units()["cup"]
    return replace(stick.times(cup.size / 2), unit=cup)


def reversed_range(text: str, start: int, end: int) -> Fault:
    """The fault of a range that runs downwards."""
    return Fault(
        name="range-reversed",
        severity=Severity.ERROR,
        start=start,
        end=end,
        what=f"the range “{text[start:end]}” runs downwards",
        instead="the smaller end first",
    )


def _doubtful(text: str, found: UnitFound) -> Fault:
    unit = found.word.unit
    return Fault(
        name="doubtful-unit",
        severity=Severity.WARNING,
        start=found.start,
        end=found.end,
        what=f"“{text[found.start : found.end]}” is read as {unit.name}",
        instead=f"“{unit.symbol}”",
    )


def _may_be_thousands(point: re.Match[str]) -> Fault:
    """The question of a point that stands where much of Europe parts thousands."""
    return Fault(
        name="thousands-point",
        severity=Severity.WARNING,
        start=point.start(),
        end=point.end(),
        what=f"“{point[0]}” is read as {float(point[0]):g}",
        instead=f"“{float(point[0]):g}”, or “{point[0].replace('.', '')}” if that is meant",
    )


def _unreadable(text: str, start: int, end: int) -> Fault:
    return Fault(
        name="unreadable-amount",
        severity=Severity.ERROR,
        start=start,
        end=end,
        what=f"“{text[start:end]}” can't be read as an amount",
        instead="an amount such as 1 1/2 cups or 200 g",
    )


def read_quantity(
    text: str, where: Where, measures: System = System.US
) -> tuple[Quantity | None, tuple[Finding, ...]]:
    """All of ``text`` as one amount ("6 g", "1 h 40 min"), or findings that say why not."""
    start = len(text) - len(text.lstrip())
    found = amount_at(text, start, measures)
    if found is None or (found.quantity is not None and text[found.end :].strip()):
        return None, (_unreadable(text.strip(), 0, len(text.strip())).finding(where.at(start)),)
    return found.quantity, tuple(fault.finding(where) for fault in found.faults)
