"""The reader of ingredient lines against `cases/lines.csv`, by the rules of `cases/README.md`.

``python tests/language/line/test_cases.py`` prints the score by kind; ``-v`` each line that differs.
"""

from __future__ import annotations

import csv
import json
import sys
from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

from cardsmith.check.run import BY_NAME
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity, Where
from cardsmith.house.style import load_house
from cardsmith.language.figures.amounts import ONE
from cardsmith.language.line.read import Line, read_text
from cardsmith.language.line.statements import Statement
from cardsmith.measure.larder import load_larder, words
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import units
from cardsmith.recipe.fields.lines import read_lines
from cardsmith.recipe.model import Part, Recipe

CASES = Path(__file__).parents[1] / "cases" / "lines.csv"
HERE = Where(file="recipe.yaml", line=1, column=1)
CHECKS = ("ounce-of-liquid", "weight-volume-disagree")
LEAST = Fraction(98, 100)
# Measures that the labels call counts, and units by other names.
COUNTS = frozenset({"pinch", "dash", "drop", "stick"})
SAME_UNIT = {"cubic centimetre": "millilitre"}
# Cups and pints that the reader tells apart by the millilitres beside them; the labels don't.
OF_A_COUNTRY = {"metric cup": "cup", "imperial pint": "pint", "imperial fluid ounce": "fluid ounce"}
VOLUMES = frozenset({"teacup", "wineglass", "katori", "glass", "soup spoon", "coffee cup", "spoonful"})


@dataclass(frozen=True, slots=True)
class Said:
    """One statement in the words of the labels; ends in base units where the unit has a size."""

    kind: str
    low: Fraction
    high: Fraction
    unit: str
    high_unit: str
    of: str
    bound: str
    role: str


@cache
def cases() -> tuple[dict[str, str], ...]:
    with CASES.open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def labelled(case: dict[str, str]) -> list[Said]:
    """The statements of a label."""
    found = []
    for row in json.loads(case["reading"]):
        if row["kind"] == "none":
            continue
        unit, high_unit = row["unit"], row.get("high_unit", "")
        kind = "count" if row["kind"] == "container" else row["kind"]
        found.append(
            Said(
                kind=kind,
                low=Fraction(row["low"]) * size(unit, kind),
                high=Fraction(row["high"]) * size(high_unit or unit, kind),
                unit=SAME_UNIT.get(unit, unit),
                high_unit=high_unit,
                of=row["of"],
                bound=row["bound"],
                role=row["role"],
            )
        )
    return found


def size(unit: str, kind: str) -> Fraction:
    known = units().get(SAME_UNIT.get(unit, unit))
    weighed = kind in {"mass", "volume", "length"} and known is not None and unit not in VOLUMES
    return known.size if weighed and known is not None else Fraction(1)


def read(line: Line) -> list[Said]:
    """The statements of a reading in the words of the labels."""
    found: list[Said] = []
    for one in line.statements:
        for quantity in one.quantity.terms or (one.quantity,):
            role = "sum part" if one.quantity.terms else one.role.value
            found.append(_said(one, quantity, role))
    return found


def _said(one: Statement, quantity: Quantity, role: str) -> Said:
    unit = quantity.unit
    kind = quantity.dimension.value
    low, high = quantity.low, quantity.high
    if unit.name in COUNTS and kind == "volume":
        kind, low, high = "count", low / unit.size, high / unit.size
    if unit.name in OF_A_COUNTRY:
        plain = units()[OF_A_COUNTRY[unit.name]]
        low, high, unit = low * plain.size / unit.size, high * plain.size / unit.size, plain
    if unit.name in VOLUMES:
        kind = "volume"
    return Said(
        kind=kind,
        low=low,
        high=high,
        unit="whole" if unit is ONE else SAME_UNIT.get(unit.name, unit.name),
        high_unit=quantity.high_unit.name if quantity.high_unit else "",
        of=one.share.value,
        bound=one.quantity.bound.value,
        role=role,
    )


def same(line: Line, case: dict[str, str]) -> bool:
    """Whether the statements agree; a noun may stand in the food, and of one, each and all are the same."""
    want, got = labelled(case), read(line)
    if line.foods and line.main:
        got[0] = Said(**{name: getattr(got[0], name) for name in got[0].__slots__} | {"of": "each"})
    if len(want) != len(got):
        return False
    single = bool(want) and want[0].kind in {"count", "container"} and want[0].low == want[0].high == 1
    return all(_agree(one, other, line, single=single) for one, other in zip(want, got, strict=True))


def _agree(want: Said, got: Said, line: Line, *, single: bool) -> bool:
    names = set(words(f"{line.item} {' '.join(one.of for one in line.statements)}"))
    unit = want.unit == got.unit or (
        got.kind == "count"
        and got.unit in {"whole", "piece"}
        and (want.unit in names or want.unit == "whole")
    )
    unit = unit or (want.unit == "whole" and got.kind == "count" and got.unit in {"leaf", "clove"})
    alike = (want.kind, want.low, want.high, want.bound) == (got.kind, got.low, got.high, got.bound)
    share = want.of == got.of or single
    return unit and alike and share and want.role == got.role and want.high_unit == got.high_unit


def same_food(line: Line, case: dict[str, str]) -> bool:
    """Whether each food of the label is named, by its last word, in the food or the alternatives read."""
    named = " ".join(
        (line.item, *line.foods, *line.remarks.alternatives, *(one.of for one in line.statements))
    )
    wanted = [one.partition("(")[0] for one in case["food"].replace("; ", " or ").split(" or ")]
    if not set(words(wanted[0])) & set(words(f"{line.item} {line.noun}")):
        return False
    return all(words(one)[-1] in {*words(named), *words(line.noun)} for one in wanted)


def asked(line: Line) -> bool:
    return any(fault.severity is not Severity.NOTE for fault in line.faults)


def asked_by_a_check(text: str) -> bool:
    """Whether a check of the list asks about a line that the reader alone cannot doubt."""
    lines, _ = read_lines(text, HERE, load_larder())
    recipe = Recipe(
        where=HERE, name="a", title="A", parts=(Part(where=HERE, name="", ingredients=lines, steps=()),)
    )
    subject = Subject(recipe=recipe, larder=load_larder(), house=load_house(Path(__file__).parents[3]))
    return any(True for name in CHECKS for _ in BY_NAME[name].function(subject))


def outcome(case: dict[str, str]) -> str:
    """``right``, ``wrong``, ``needless`` (asked, and should not be) or ``silent`` (the reverse)."""
    line = read_text(case["text"], load_larder())
    if case["asked"] == "yes":
        return "right" if asked(line) or asked_by_a_check(case["text"]) else "silent"
    if asked(line):
        return "needless"
    return "right" if same(line, case) else "wrong"


def test_every_line_that_leaves_something_open_is_asked_about() -> None:
    open_lines = [case for case in cases() if case["asked"] == "yes"]
    assert len(open_lines) > 30
    assert [case["text"] for case in open_lines if outcome(case) != "right"] == []


def test_other_lines_say_what_they_state() -> None:
    plain = [case for case in cases() if case["asked"] != "yes"]
    wrong = [case["text"] for case in plain if outcome(case) == "wrong"]
    needless = [case["text"] for case in plain if outcome(case) == "needless"]
    assert wrong == []
    assert 1 - Fraction(len(needless), len(plain)) >= LEAST, needless


def test_other_lines_name_their_food() -> None:
    plain = [case for case in cases() if case["asked"] != "yes"]
    other = [case["text"] for case in plain if not same_food(read_text(case["text"], load_larder()), case)]
    assert 1 - Fraction(len(other), len(plain)) >= LEAST, other


def kind_of(case: dict[str, str]) -> str:
    if case["asked"] == "yes":
        return "asked"
    reading = json.loads(case["reading"])
    return str(reading[0]["kind"]) if reading else "none"


def main() -> None:
    right: Counter[str] = Counter()
    total: Counter[str] = Counter()
    for case in cases():
        told = outcome(case)
        total[kind_of(case)] += 1
        right[kind_of(case)] += told == "right"
        if told != "right" and "-v" in sys.argv:
            line = read_text(case["text"], load_larder())
            want, got = (" ".join(map(_short, said)) for said in (labelled(case), read(line)))
            faults = "; ".join(f"{fault.name}: {fault.what}" for fault in line.faults)
            told = f"{case['id']} {told} {case['text']!r}\n  want {want}\n  got  {got} | {faults}\n"
            sys.stdout.write(told)
    for kind in total:
        sys.stdout.write(f"{kind:10} {right[kind]:4} of {total[kind]:4}\n")
    sys.stdout.write(f"{'all':10} {sum(right.values()):4} of {sum(total.values()):4}\n")


def _short(one: Said) -> str:
    return f"[{one.kind} {one.low}-{one.high} {one.unit} {one.of} {one.bound} {one.role}]"


if __name__ == "__main__":
    main()
