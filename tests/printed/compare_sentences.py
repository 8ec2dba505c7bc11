"""Whether a printed sentence says what the drawn sentence meant, in both systems.

The figures of the printed text are laid beside the entries of the drawn one, in order. Each entry needs a
figure of its own; a figure that says an entry again in another unit is held to the same value; a figure that
fits no entry is a fault. `faults(drawn, printed)` returns short causes; one that begins with "remark" is no
fault.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from tests.language.meaning.sentence_meanings import Drawn
from tests.language.meaning.sentence_pen import Entry
from tests.printed.meant import METRIC, SIZES, compounded, share_of
from tests.printed.printed_reader import Reading, readings

SECONDS = {
    "second": 1, "minute": 60, "hour": 3600, "day": 86400, "week": 604800, "month": 2592000, "year": 31536000,
}  # fmt: skip
GAS = {  # gas mark to °C: common practice, no source
    "1/4": 110, "1/2": 120, "1": 140, "2": 150, "3": 160, "4": 180, "5": 190, "6": 200, "7": 220, "8": 230,
    "9": 240,
}  # fmt: skip
PRESSURE = {"pound per square inch": Fraction("6.894757"), "kilopascal": Fraction(1), "bar": Fraction(100)}
HEAT = ("celsius", "fahrenheit", "gas mark", "degree")
UNCHANGED = {"count", "reference", "ratio", "name", "times", "clock", "unread", "percent", "power"}
BOTH = {"temperature", "difference", "amount", "length", "vessel", "pressure", "altitude"}
BOUNDS = {
    "about": r"about|around|roughly|approx(?:\.|imately)?|or so|nearly|almost|~",
    "at most": r"up to|no more than|at most|less than|under|within|below|or (?:less|colder|lower)"
    r"|no longer than",
    "at least": r"at least|a minimum of|no less than|more than|above|or (?:above|higher|more|longer|hotter)"
    r"|over",
    "scant": r"scant", "heaping": r"heap(?:ing|ed)|generous|rounded|a good",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One thing said by an entry, or by a few that are the sides of a vessel, and the same said again."""

    kind: str
    purpose: str
    ways: tuple[tuple[Entry, ...], ...]  # each way of saying it: one entry, or the sides of it

    @property
    def first(self) -> Entry:
        return self.ways[0][0]


def said_in(drawn: Drawn, *, summed: bool = True) -> list[Said]:
    """The entries of a drawn text, with sides and restatements, and sums if asked, put together."""
    groups: list[Said] = []
    for each in drawn.entries:
        last = groups[-1] if groups else None
        if last is not None and each.kind == last.kind and each.same:
            way = last.ways[-1]
            sides = len(last.ways[0])
            if len(last.ways) > 1 and len(way) < sides and way[0].unit == each.unit:
                ways = (*last.ways[:-1], (*way, each))
            else:
                ways = (*last.ways, (each,))
            groups[-1] = replace(last, ways=ways)
        elif summed and last is not None and _summed(drawn.text, last, each):
            cups = replace(last.first, low=_in_cups(last.first, "low") + _in_cups(each, "low"))
            cups = replace(cups, high=_in_cups(last.first, "high") + _in_cups(each, "high"), unit="cup")
            groups[-1] = replace(last, ways=((cups,),))
        elif last is not None and _side(last, each):
            groups[-1] = replace(last, ways=((*last.ways[0], each),))
        else:
            groups.append(Said(kind=each.kind, purpose=each.purpose, ways=((each,),)))
    return groups


def _summed(text: str, last: Said, each: Entry) -> bool:
    """Whether an entry is added to the one before: 2 cups plus 1 tablespoon."""
    plain = len(last.ways) == 1 and last.kind == each.kind == "amount"
    units = (last.first.unit, each.unit)
    return plain and units == ("cup", "tablespoon") and bool(re.search(r"\bcups? plus\b", text))


def _in_cups(entry: Entry, end: str) -> Fraction:
    value = entry.low if end == "low" else entry.high
    return Fraction(value) * SIZES[entry.unit][1] / SIZES["cup"][1]


def _side(last: Said, each: Entry) -> bool:
    """Whether an entry is the second side of a vessel or of a rolled sheet."""
    if (
        each.kind not in ("vessel", "length")
        or last.kind != each.kind
        or len(last.ways) > 1
        or len(last.ways[0]) > 1
    ):
        return False
    before = last.first
    large = {"inch": 4, "centimetre": 12}.get(each.unit, 10**6)
    ends = (before.low, before.high, each.low, each.high)
    return before.unit == each.unit and before.low == before.high and all(
        isinstance(end, Fraction) and end >= large for end in ends
    )  # fmt: skip


def celsius(value: Fraction, unit: str, *, change: bool = False) -> Fraction | None:
    """A temperature or a change of it in °C; none for a mark that isn't in the table."""
    if unit == "fahrenheit":
        return (value - (0 if change else 32)) * 5 / 9
    if unit == "gas mark":
        found = GAS.get(str(value))
        return None if found is None else Fraction(found)
    return value


def _size(unit: str) -> tuple[str, Fraction] | None:
    if unit in SIZES:
        dimension, size = SIZES[unit]
        return dimension, size
    if unit in SECONDS:
        return "time", Fraction(SECONDS[unit])
    if unit in PRESSURE:
        return "pressure", PRESSURE[unit]
    return None


def fault_of(read: Reading, said: Said) -> str:
    """Why a printed figure doesn't say this entry: "" if it does, "other" if it is of another kind."""
    faults = [_way_fault(read, said, way) for way in said.ways]
    if "" in faults:
        return ""
    return next((one for one in faults if one != "other"), "other")


def _way_fault(read: Reading, said: Said, way: tuple[Entry, ...]) -> str:
    entry = way[0]
    if said.kind in ("temperature", "difference"):
        return _heat_fault(read, said, entry)
    if said.kind in UNCHANGED:
        return _unchanged_fault(read, said, entry)
    if said.kind == "vessel" and not entry.unit:
        return "" if read.low == entry.low and read.unit in ("", "cup") else "other"
    if said.kind == "vessel" and entry.unit == "cup" and "-cup" in read.unit:
        return ""
    meant, printed = _size(entry.unit), _size(read.unit)
    if printed is None and said.kind == "vessel" and read.unit == "" and read.low == entry.low:
        return ""
    if meant is None or printed is None:
        return "other"
    if len(read.sides) != len(way):
        return "other" if printed[0] != meant[0] else "sides lost"
    if said.kind == "vessel" and entry.unit == "ounce" and printed[0] == "volume":
        meant = SIZES["fluid ounce"]  # a 6-ounce ramekin holds fluid ounces
    if said.kind == "altitude" and read.unit not in ("foot", "metre"):
        return f"altitude in {read.unit}"
    if {printed[0], meant[0]} == {"mass", "volume"}:
        return _density_fault(read, entry, said)
    if printed[0] != meant[0]:
        return "other"
    return _size_fault(read, said, way, printed, meant)


def _size_fault(
    read: Reading,
    said: Said,
    way: tuple[Entry, ...],
    printed: tuple[str, Fraction],
    meant: tuple[str, Fraction],
) -> str:
    high_unit = _size(read.high_unit) if read.high_unit else printed
    for (low, high), entry in zip(read.sides, way, strict=True):
        if not isinstance(entry.low, Fraction) or not isinstance(entry.high, Fraction) or high_unit is None:
            return "other"
        if (low == high and not read.high_unit) != (entry.low == entry.high):
            return "range lost" if low == high else "range invented"
        ends = ((low * printed[1], entry.low * meant[1]), (high * high_unit[1], entry.high * meant[1]))
        for one, other in ends:
            share = _share(said.kind, read.unit, other, meant[0])
            if abs(one - other) > share * abs(other) + Fraction(1, 1000):
                off = float((one - other) / other * 100) if other else 0.0
                return f"wrong {said.kind} ({off:+.0f} %)"
    return ""


def _share(kind: str, unit: str, value: Fraction, dimension: str) -> Fraction:
    if kind == "duration":
        return Fraction(0)
    if kind == "vessel":
        return Fraction(12, 100)
    if kind == "length":
        return Fraction(10 if value > 10 else 20 if value > 3 else 25, 100)  # millimetres are printed whole
    if kind in ("pressure", "altitude"):
        return Fraction(5, 100)
    return share_of(unit, dimension, value)


def _density_fault(read: Reading, entry: Entry, said: Said) -> str:
    if said.kind == "vessel" or not isinstance(entry.low, Fraction):
        return "other"
    one, other = read.low * SIZES[read.unit][1], entry.low * SIZES[entry.unit][1]
    density = one / other if SIZES[read.unit][0] == "mass" else other / one
    return "" if Fraction(15, 100) <= density <= Fraction(145, 100) else f"density {float(density):.2f}"


def _heat_fault(read: Reading, said: Said, entry: Entry) -> str:
    if read.unit not in HEAT or read.unit == "degree":
        return "other"
    change = said.kind == "difference"
    if read.fan != _is_fan(said, entry) and any(_is_fan(said, way[0]) for way in said.ways):
        return "fan and plain oven exchanged"
    low, high = celsius(read.low, read.unit, change=change), celsius(read.high, read.unit, change=change)
    if not isinstance(entry.low, Fraction) or not isinstance(entry.high, Fraction):
        return "other"
    first, last = (
        celsius(entry.low, entry.unit, change=change),
        celsius(entry.high, entry.unit, change=change),
    )
    if low is None or high is None or first is None or last is None:
        return "unknown gas mark"
    if (read.low == read.high) != (entry.low == entry.high):
        return "range lost" if read.low == read.high else "range invented"
    limit = Fraction(9) if said.purpose == "oven" else Fraction(1)
    if read.unit == entry.unit:
        limit = Fraction(0)
    if change:
        limit = max(Fraction(1), Fraction(first, 5)) if read.unit != entry.unit else Fraction(0)
    for one, other in ((low, first), (high, last)):
        if abs(one - other) > limit + Fraction(6, 100):
            name = "difference" if change else f"{said.purpose} temperature"
            points = celsius(read.low, read.unit), celsius(entry.low, entry.unit)
            if change and points[0] is not None and points[1] is not None and abs(points[0] - points[1]) < 2:
                name = "difference as a point"
            return f"wrong {name} ({float(one - other):+.1f} °C)"
    return ""


def _is_fan(said: Said, entry: Entry) -> bool:
    """A second figure of an oven in the same scale, and lower, is the fan's."""
    if said.purpose != "oven" or entry.unit != "celsius":
        return False
    others = [way[0].low for way in said.ways if way[0].unit == "celsius"]
    return len(others) > 1 and entry.low == min(others)


def _unchanged_fault(read: Reading, said: Said, entry: Entry) -> str:
    free = said.kind in ("name", "clock")
    allowed = {
        "percent": ("percent",), "power": ("watt", "percent"), "name": ("", "percent", "degree"),
        "unread": ("", "degree", "percent"),
    }.get(said.kind, ("",))  # fmt: skip
    if read.unit not in allowed and not free:
        return "other"
    if isinstance(entry.low, str):
        return ""
    if said.kind == "power" and (read.unit == "percent") != (entry.unit == "percent"):
        return "other"
    return "" if (read.low, read.high) == (entry.low, entry.high) and len(read.sides) == 1 else "other"


# ---- the printed figures laid beside the entries


Step = tuple[str, int, int]  # what is done, the figure's place, the entry's place


def laid(
    reads: Sequence[Reading], said: Sequence[Said]
) -> tuple[list[list[Reading]], list[Reading], list[str]]:
    """Which printed figures say which entry, which figures say none, and what is wrong where kinds agree."""
    owned: list[list[Reading]] = [[] for _ in said]
    extra: list[Reading] = []
    wrong: list[str] = []
    for step, place, done in _cheapest(reads, said):
        if step == "lost":
            wrong.append(f"{said[done].kind} lost")
        elif step == "extra":
            extra.append(reads[place])
        else:
            owned[done].append(reads[place])
            wrong += [fault] if (fault := fault_of(reads[place], said[done])) else []
    return owned, extra, wrong


def _cheapest(reads: Sequence[Reading], said: Sequence[Said]) -> list[Step]:
    """The cheapest way through the figures and the entries.

    A figure for the next entry, or again for the same one, costs nothing, a wrong figure of the right kind 3,
    a figure left over or an entry left out 4.
    """
    best: dict[tuple[int, int], tuple[int, list[Step]]] = {(0, 0): (0, [])}
    for place in range(len(reads) + 1):
        for done in range(len(said) + 1):
            if (place, done) not in best:
                continue
            cost, path = best[place, done]
            for step, price in _moves(reads, said, path, place, done):
                key = (place + (step[0] != "lost"), done + (step[0] in ("lost", "is")))
                if key not in best or best[key][0] > cost + price:
                    best[key] = (cost + price, [*path, step])
    return best[len(reads), len(said)][1]


def _moves(
    reads: Sequence[Reading], said: Sequence[Said], path: list[Step], place: int, done: int
) -> Iterable[tuple[Step, int]]:
    """What can be done next, with its price."""
    if done < len(said):
        yield ("lost", place, done), 4
    if place == len(reads):
        return
    yield ("extra", place, done), 4
    if done < len(said):
        fault = fault_of(reads[place], said[done])
        if fault != "other":
            yield ("is", place, done), 3 if fault else 0
    again = done > 0 and said[done - 1].kind in BOTH and _another_unit(reads, path, place, done - 1)
    if again:
        fault = fault_of(reads[place], said[done - 1])
        if fault != "other":
            yield ("again", place, done - 1), 3 if fault else 0


def _another_unit(reads: Sequence[Reading], path: list[Step], place: int, done: int) -> bool:
    """Whether a figure that says an entry again stands close behind, in another unit or for a fan."""
    before = [reads[step[1]] for step in path if step[0] in ("is", "again") and step[2] == done]
    if not before or reads[place].start - before[-1].end > 25:
        return False
    return all(one.unit != reads[place].unit or one.fan != reads[place].fan for one in before)


def put_together(reads: Sequence[Reading]) -> list[Reading]:
    """Sums, and sides that stand apart ("30 cm × 40 cm"), as one figure."""
    made: list[Reading] = []
    for read in compounded(reads):
        last = made[-1] if made else None
        length = SIZES.get(read.unit, ("",))[0] == "length"
        if last is not None and length and read.join == "times" and last.unit == read.unit:
            made[-1] = replace(last, sides=last.sides + read.sides, end=read.end)
        else:
            made.append(read)
    return made


def faults(drawn: Drawn, printed: str) -> list[str]:
    """What is wrong with the printed sentence, a short cause each; a sum may stand term by term."""
    reads = [read for read in put_together(readings(printed)) if not _by_the_way(read, printed)]
    ways = [_entry_faults(said_in(drawn, summed=summed), reads, printed) for summed in (True, False)]
    found = min(ways, key=lambda way: sum(not one.startswith("remark") for one in way))
    return list(dict.fromkeys([*found, *_bound_faults(drawn.text, printed)]))


def _entry_faults(said: list[Said], reads: list[Reading], printed: str) -> list[str]:
    owned, extra, found = laid(reads, said)
    found += [f"figure that says nothing meant: {printed[read.start : read.end]!r}" for read in extra]
    for one, figures in zip(said, owned, strict=True):
        found += _system_faults(one, figures)
    return found


def _by_the_way(read: Reading, text: str) -> bool:
    """Figures that are words: "per pound" and what it is in grams, "one side", "a third" as an ordinal."""
    before = text[max(0, read.start - 16) : read.start].lower()
    if read.article and text[read.start : read.end].lower().startswith(("per", "every")):
        return True
    return bool(re.search(r"\bper (?:pound|lb)\W{1,3}(?:per |or )?$", before)) and read.unit in (
        "gram",
        "kilogram",
    )


def _system_faults(said: Said, figures: list[Reading]) -> Iterable[str]:
    """Whether both systems stand on the card where a reader needs both."""
    if said.kind not in BOTH or not figures:
        return
    units = {read.unit for read in figures}
    if said.kind in ("temperature", "difference"):
        if not {"celsius", "fahrenheit"} <= units:
            yield f"remark: {said.kind} in one scale only ({said.purpose or 'change'})"
        return
    if said.first.unit in ("", "cup") and said.kind == "vessel":
        return
    metric = any(unit in METRIC or unit == "kilopascal" for unit in units)
    if not metric or not any(unit not in METRIC and unit != "kilopascal" for unit in units):
        yield f"remark: {said.kind} in one system only ({said.first.unit})"


def _bound_faults(text: str, printed: str) -> Iterable[str]:
    """Bounds of the writer that the printed sentence no longer has, or has where the writer had none."""
    for name, words in BOUNDS.items():
        pattern = re.compile(rf"(?<!\w)(?:{words})(?!\w)", re.I)
        before, after = len(pattern.findall(text)), len(pattern.findall(printed))
        if after < before:
            yield f"bound lost: {name}"
        elif after and not before:
            yield f"remark: bound added: {name}" if name == "about" else f"bound invented: {name}"
