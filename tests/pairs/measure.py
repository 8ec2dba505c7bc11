"""How many faults of the pairs are named at their severity, and what is said of the sound twins.

``python -m tests.pairs.measure [unseen]`` prints the figures and each miss; it asserts nothing.
"""

from __future__ import annotations

import csv
import sys
from collections import Counter
from pathlib import Path

from cardsmith.finding import Finding, Severity
from cardsmith.flow import prepare
from cardsmith.measure.larder import load_larder
from tests.demo import house_of_one_edition

HERE = Path(__file__).parent
CAUTIONS = frozenset({"hazard-caution"})  # a warning that the card prints: it asks nothing of the author


HOUSE = frozenset({"review-needed"})  # asked of every canned jar and every cure, by the house


def findings_of(path: Path) -> tuple[Finding, ...]:
    """What is said of a recipe, and the cautions of its card as findings are not."""
    return prepare(path.stem, path.read_bytes(), str(path), load_larder(), house_of_one_edition()).findings


def cautions_of(path: Path) -> tuple[str, ...]:
    """The cautions that the card prints."""
    card = prepare(path.stem, path.read_bytes(), str(path), load_larder(), house_of_one_edition()).card
    return card.cautions if card else ()


def _say(text: str) -> None:
    sys.stdout.write(f"{text}\n")


def _says(found: Finding, words: list[str]) -> bool:
    told = f"{found.name} {found.what} {found.instead}".lower()
    return any(word.strip().lower() in told for word in words if word.strip())


def main(which: str) -> None:
    """Prints the measure of the open pairs, or of those in a folder of their own."""
    rows = list(csv.DictReader((HERE / "pairs.csv").open(encoding="utf-8", newline="")))
    rows = [row for row in rows if row["set"] == which]
    folder = HERE if which == "open" else HERE / which
    named = at_severity = 0
    false_errors: Counter[str] = Counter()
    false_warnings: Counter[str] = Counter()
    quiet = 0
    for row in rows:
        stem = f"{row['id']}-{row['name']}"
        faulty = findings_of(folder / f"{stem}-faulty.yaml")
        sound = findings_of(folder / f"{stem}-sound.yaml")
        before = {(one.name, one.what) for one in sound}
        new = [one for one in faulty if (one.name, one.what) not in before]
        words = row["words"].split("|")
        told = [one for one in new if _says(one, words)]
        named += bool(told)
        # A caution that the card prints of itself is what a warning would have asked for.
        cautioned = row["severity"] == "warning" and any(one.name in CAUTIONS for one in told)
        right = cautioned or any(one.severity.value == row["severity"] for one in told)
        at_severity += right
        if not right:
            others = [f"{one.severity.value} {one.name}" for one in new]
            _say(f"MISS {stem} ({row['severity']}): {row['fault']}")
            _say(f"       said: {'; '.join(others) or 'nothing'}")
        errors = [one for one in sound if one.severity is Severity.ERROR and one.name not in HOUSE]
        warnings = [one for one in sound if one.severity is Severity.WARNING and one.name not in CAUTIONS]
        quiet += not errors and not warnings
        for one in errors:
            _say(f"FALSE ERROR {stem}-sound: {one.name}: {one.what[:150]}")
            false_errors[one.name] += 1
        for one in warnings:
            false_warnings[one.name] += 1
            _say(f"  warning {stem}-sound: {one.name}: {one.what[:130]}")
    alone = sorted(folder.glob("sound-*.yaml"))
    for path in alone:
        for one in findings_of(path):
            if one.severity is Severity.ERROR and one.name not in HOUSE:
                false_errors[one.name] += 1
                _say(f"FALSE ERROR {path.stem}: {one.name}: {one.what[:150]}")
            elif one.severity is Severity.WARNING and one.name not in CAUTIONS:
                false_warnings[one.name] += 1
                _say(f"  warning {path.stem}: {one.name}: {one.what[:130]}")
    _say(
        f"{len(rows)} pairs: {named} faults named, {at_severity} at their severity; "
        f"{quiet} sound twins quiet; "
        f"false errors {sum(false_errors.values())} {dict(false_errors)}; "
        f"false warnings {sum(false_warnings.values())} {dict(false_warnings)} "
        f"in {len(rows) + len(alone)} sound recipes"
    )


if __name__ == "__main__":
    main(next(iter(sys.argv[1:]), "open"))
