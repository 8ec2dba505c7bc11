"""A reading of running text held against a label, by the rules of `cases/README.md`.

An entry agrees with a reading in kind, ends, unit, purpose and bound. Times are compared in seconds. Where
the rules let two entries be one reading (a sum of amounts, a proportion, a spread with ±), either is right.
What a fair reader may say otherwise stands in `TASTES`, each with a case.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from cardsmith.finding import Severity
from cardsmith.language.figures.numbers import number_at
from cardsmith.language.prose.reading import Reading
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import tokenize
from cardsmith.measure.units import System, units

SHORT = {"degree Celsius": "celsius", "degree Fahrenheit": "fahrenheit"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One entry; the ends of a clock are seconds after midnight, those of a time are seconds."""

    kind: str
    low: Fraction
    high: Fraction
    unit: str = ""
    purpose: str = ""
    bound: str = "exactly"
    same: bool = False
    noun: str = ""  # of a reading only
    text: str = ""  # likewise


def seconds(written: str) -> Fraction:
    """A time of day as ``h:mm`` in seconds after midnight."""
    hours, _, minutes = written.partition(":")
    return Fraction(int(hours) * 3600 + int(minutes) * 60)


def labelled(entries: Sequence[Mapping[str, object]]) -> list[Said]:
    """The entries of a label."""
    found: list[Said] = []
    for entry in entries:
        if entry["low"] is None:
            continue  # a name without a figure: hundreds and thousands
        kind, unit = str(entry["kind"]), str(entry["unit"])
        read = seconds if ":" in str(entry["low"]) else Fraction
        low, high = (read(str(entry[end])) for end in ("low", "high"))
        if kind == "duration":
            low, high = units()[unit].to_base(low), units()[unit].to_base(high)
        found.append(
            Said(
                kind=kind,
                low=low,
                high=high,
                unit=unit,
                purpose=str(entry["purpose"]),
                bound=str(entry["bound"]),
                same=bool(entry.get("same", False)),
            )
        )
    return found


def said(text: str, measures: System = System.US) -> list[Said]:
    """What the reader says of ``text``, in the form of the labels."""
    return [one for reading in readings(text, measures) for one in _entries(reading)]


def _entries(reading: Reading) -> list[Said]:
    purpose = reading.purpose.value if reading.purpose else ""
    kind, bound = reading.kind.value, reading.bound.value
    if not reading.sides:
        numbers = _numbers(reading.text) if reading.kind is Kind.UNREAD else []
        ends = [(one, one) for one in numbers] if len(numbers) > 1 and _has_cross(reading.text) else []
        return [
            Said(kind=kind, low=low, high=high, bound=bound, noun=reading.noun, text=reading.text,
                 unit="percent" if reading.kind in {Kind.PERCENT, Kind.POWER} else "", purpose=purpose)
            for low, high in ends or [(reading.low, reading.high)]
        ]  # fmt: skip
    found: list[Said] = []
    for place, side in enumerate((*reading.sides, *reading.stated)):
        name = side.unit.name.replace(" (difference)", "")
        in_seconds = reading.kind is Kind.DURATION
        low, high = (end if in_seconds else side.unit.from_base(end) for end in (side.low, side.high))
        found.append(
            Said(
                kind=kind,
                low=low,
                high=high,
                unit=SHORT.get(name, name),
                purpose=purpose,
                bound=side.bound.value if place < len(reading.sides) else bound,
                same=place >= len(reading.sides),
                noun=reading.noun,
                text=reading.text,
            )
        )
    return found


def _numbers(text: str) -> list[Fraction]:
    tokens = tokenize(text)
    found, at = [], 0
    while at < len(tokens):
        number = number_at(tokens, at)
        if number is not None and number.value is not None:
            found.append(number.value)
        at = number.end if number else at + 1
    return found


def _has_cross(text: str) -> bool:
    return any(mark in text for mark in ("x", "×", "by", "X"))


def _one_by_one(want: Sequence[Said]) -> list[Said]:
    """``steps 2 and 3``: two references, which a label may hold as a range."""
    return [
        replace(one, low=end, high=end) if one.kind == "reference" else one
        for one in want
        for end in sorted({one.low, one.high} if one.kind == "reference" else {one.low})
    ]


def difference(labels: Sequence[Said], got: Sequence[Said]) -> str:
    """What differs first between a label and a reading; empty where they agree."""
    want = _one_by_one(labels)
    got = _one_by_one(got)
    place = 0
    for one in got:
        left = want[place:]
        if one.kind == "ratio" and one.text == "third":  # the lower third of an oven, which may be a name
            place += bool(left) and not unlike(left[0], one)
            continue
        if not left:
            return f"also reads {one.kind} {one.low}"
        if len(left) > 1 and any(joined(left[0], left[1], one) for joined in JOINED):
            place += 2
        elif not (why := unlike(left[0], one)):
            place += 1
        else:
            return why
    return f"does not read {want[place].kind} {want[place].low}" if place < len(want) else ""


def unlike(want: Said, got: Said) -> str:
    """What differs between an entry and a reading of one numeral, matters of taste apart."""
    if any(taste(want, got) for taste in TASTES):
        return ""
    if want.kind != got.kind:
        return f"kind {want.kind}, read as {got.kind}"
    if (want.low, want.high) != (got.low, got.high):
        return f"{want.low} to {want.high}, read as {got.low} to {got.high}"
    if not _same_unit(want, got):
        return f"unit {want.unit}, read as {got.unit}"
    if want.purpose and want.purpose != got.purpose and want.kind != "power":
        return f"purpose {want.purpose}, read as {got.purpose or 'none'}"
    if want.bound != got.bound and not want.same:
        return f"bound {want.bound}, read as {got.bound}"
    return ""


def _same_unit(want: Said, got: Said) -> bool:
    if want.kind in {"duration", "ratio", "name", "reference"}:
        return True
    return want.unit == got.unit or (want.kind == "unread" and {want.unit, got.unit} <= {"", "degree"})


# --- two entries that one reading holds -----------------------------------------------------------------


def _sum(first: Said, second: Said, got: Said) -> bool:
    """``1 cup plus 2 tablespoons``."""
    if not first.kind == second.kind == got.kind == "amount" or not first.unit or not second.unit:
        return False
    known = units()
    total = known[first.unit].to_base(first.low) + known[second.unit].to_base(second.low)
    return first.unit == got.unit and total == known[got.unit].to_base(got.low)


def _proportion(first: Said, second: Said, got: Said) -> bool:
    """``1:3``, ``3 parts to 1``."""
    marked = first.kind == second.kind == got.kind == "ratio" and (":" in got.text or " to " in got.text)
    return marked and first.low / second.low == got.low


def _spread(first: Said, second: Said, got: Said) -> bool:
    """``25 ± 1 °C``."""
    ends = (first.low - second.low, first.low + second.low)
    return first.kind == got.kind and second.kind == "difference" and ends == (got.low, got.high)


JOINED: tuple[Callable[[Said, Said, Said], bool], ...] = (_sum, _proportion, _spread)


# --- where a fair reader may differ ---------------------------------------------------------------------


def _fluid(want: Said, got: Said) -> bool:
    """A 6-ounce ramekin holds six fluid ounces."""
    return want.kind == got.kind == "vessel" and (want.unit, got.unit) == ("ounce", "fluid ounce") and (
        (want.low, want.high) == (got.low, got.high)
    )  # fmt: skip


def _wells(want: Said, got: Said) -> bool:
    """A 12-cup muffin tin has twelve wells, whose number is part of its name."""
    wells = want.kind == "vessel" and got.kind == "name" and want.unit in {"", "cup"}
    return wells and want.low == got.low and any(word in got.noun for word in ("muffin", "popover", "hole"))


def _additions(want: Said, got: Said) -> bool:
    """``in two parts``: a count of parts, two shares, or how often."""
    return {want.kind, got.kind} <= {"count", "ratio", "times"} and want.low == got.low >= 1


def _held_cold(want: Said, got: Said) -> bool:
    """``hold below 4 °C``: in a refrigerator, whatever keeps it; hot food held is at its core."""
    purposes = {want.purpose, got.purpose}
    cold_or_hot = purposes in ({"refrigerator", "holding"}, {"core", "holding"})
    return want.kind == got.kind in {"temperature", "unread"} and cold_or_hot and _same_unit(want, got) and (
        (want.low, want.high, want.bound) == (got.low, got.high, got.bound)
    )  # fmt: skip


def _pronoun(want: Said, got: Said) -> bool:
    """ "One" and fixed phrases of few: a name, a reference or a count; none is a measure."""
    plain = {"name", "reference", "count"}
    return want.kind in plain and got.kind in plain and "name" in {want.kind, got.kind} and (
        (want.low, want.high) == (got.low, got.high)
    )  # fmt: skip


TASTES: tuple[Callable[[Said, Said], bool], ...] = (_fluid, _wells, _additions, _held_cold, _pronoun)


# --- what is asked --------------------------------------------------------------------------------------


def asked(text: str, measures: System = System.US) -> bool:
    """Whether the reader asks about anything in ``text``."""
    return any(_is_asked(one) for one in readings(text, measures))


def _is_asked(reading: Reading) -> bool:
    sides = (*reading.sides, *reading.stated)
    return (
        reading.kind is Kind.UNREAD
        or any(side.unit.system is System.UNKNOWN for side in sides)
        or any(fault.severity is not Severity.NOTE for fault in reading.faults)
    )
