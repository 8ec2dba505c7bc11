"""Running text read against `cases/steps.csv` and `cases/fields.csv`, by the rules of `cases/README.md`.

``python -m tests.language.prose.test_cases`` prints the score by kind and each row that differs.
"""

from __future__ import annotations

import csv
import json
import sys
from collections import Counter
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from tests.language.prose.scoring import asked, difference, labelled, said

CASES = Path(__file__).parents[1] / "cases"
FILES = ("steps", "fields")
LEAST = Fraction(98, 100)  # of the rows that are not asked

# Rows that a fair reader may read otherwise than their label, and why this one does.
OTHERWISE = {
    "S152": "what ferments at 65 to 70 °F stands where dough rises as well as in a room",
    "S191": "what is held at 150 °F is held, in an oven or elsewhere",
    "S332": "nothing in “200 for 10” speaks of an oven; both numbers are asked about",
    "S350": "nothing in “Give it 20 at 200 °C” speaks of an oven; the time is asked about",
    "S355": "“40 in.” at the end is 40 inches by its letters; the oven's scale is asked about",
    "S358": "“over 230” is at least 230",
    "F033": "“at 1” says neither half of the day: it is asked about as a number",
    "F041": "“1:30” is a clock, a time in hours or in minutes: it is asked about as a number",
    "F063": "what is stored below 20 may stand in a refrigerator; the scale is asked about",
    "F094": "“66 to 72 percent cocoa” is part of a chocolate's name, as 70 % chocolate is",
    "F105": "nothing in “We like it at 350” speaks of an oven; both numbers are asked about",
}


@cache
def cases(name: str) -> tuple[dict[str, str], ...]:
    with (CASES / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def wrong(case: dict[str, str]) -> str:
    """How the reading of a row differs from its label; empty where they agree."""
    return difference(labelled(json.loads(case["reading"])), said(case["text"]))


def differing(name: str, *, asks: bool) -> list[str]:
    rows = [case for case in cases(name) if (case["asked"] == "yes") is asks]
    return [f"{case['id']} {case['text']!r}: {why}" for case in rows if (why := wrong(case))]


@pytest.mark.parametrize("name", FILES)
def test_rows_say_what_their_labels_say(name: str) -> None:
    other = differing(name, asks=False) + differing(name, asks=True)
    assert [row for row in other if row.partition(" ")[0] not in OTHERWISE] == []


def test_what_is_read_otherwise_still_is() -> None:
    other = {
        row.partition(" ")[0]
        for name in FILES
        for asks in (False, True)
        for row in differing(name, asks=asks)
    }
    assert other == set(OTHERWISE)


@pytest.mark.parametrize("name", FILES)
def test_few_rows_are_read_otherwise(name: str) -> None:
    plain = [case for case in cases(name) if case["asked"] != "yes"]
    assert 1 - Fraction(len(differing(name, asks=False)), len(plain)) >= LEAST


@pytest.mark.parametrize("name", FILES)
def test_every_row_that_leaves_something_open_is_asked_about(name: str) -> None:
    rows = [case for case in cases(name) if case["asked"] == "yes"]
    assert len(rows) > 10
    assert [f"{case['id']} {case['text']!r}" for case in rows if not asked(case["text"])] == []


@pytest.mark.parametrize("name", FILES)
def test_no_other_row_is_asked_about(name: str) -> None:
    rows = [case for case in cases(name) if case["asked"] != "yes"]
    assert [f"{case['id']} {case['text']!r}" for case in rows if asked(case["text"])] == []


def main() -> None:
    right: Counter[str] = Counter()
    total: Counter[str] = Counter()
    for name in FILES:
        for case in cases(name):
            why = wrong(case)
            for kind in {str(entry["kind"]) for entry in json.loads(case["reading"])} or {"none"}:
                total[kind] += 1
                right[kind] += not why
            if why:
                sys.stdout.write(f"{case['id']} {case['text']!r}: {why}\n")
    for kind in sorted(total):
        sys.stdout.write(f"{kind:12} {right[kind]:4} of {total[kind]:4}\n")


if __name__ == "__main__":
    main()
