"""Short faulty recipes beside sound twins that differ as little as possible.

The sound recipes are `tests/twins/bases/*.yaml`. A case in `tests/twins/*.yaml` names one, the words to
change in it, and the fault that follows. Both were written from a list of forty common failures of printed
recipes and from the reference tables, not from the checks. `tests/twins/pending.txt` lists what cardsmith
does not yet get right; it may only shrink. `tests/twins/near/*.yaml` makes changes that look like faults and
are none.

``python tests/check/test_twins.py`` prints recall and false alarms as a table.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from cardsmith.finding import Finding, Severity
from cardsmith.flow import prepare
from cardsmith.house.style import House
from cardsmith.measure.larder import Larder, load_larder
from tests.demo import house_of_one_edition

ROOT = Path(__file__).parents[2]
TWINS = ROOT / "tests" / "twins"
BASES = tuple(sorted(path.stem for path in (TWINS / "bases").glob("*.yaml")))
FAILURES = 40
ELSEWHERE = {29}  # a recipe against its trials, which are another file


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One faulty twin."""

    name: str
    family: str
    fault: str
    severity: Severity
    trade: str  # number of the failure in the list of forty, or extra
    says: str  # words the finding must hold: its evidence
    base: str
    change: tuple[tuple[str, str], ...]

    @property
    def text(self) -> str:
        """The faulty recipe."""
        return changed(self.base, self.change)


def sound_text(base: str) -> str:
    return (TWINS / "bases" / f"{base}.yaml").read_text(encoding="utf-8")


def changed(base: str, change: tuple[tuple[str, str], ...]) -> str:
    """A sound recipe with words replaced. Raises ValueError unless each stands in it once."""
    text = sound_text(base)
    for old, new in change:
        if text.count(old) != 1:
            raise ValueError(f"{old!r} stands {text.count(old)} times in {base}")
        text = text.replace(old, new)
    return text


def _rows(folder: Path) -> Iterator[tuple[str, dict[str, Any], tuple[tuple[str, str], ...]]]:
    for path in sorted(folder.glob("*.yaml")):
        for row in YAML(typ="safe").load(path.read_text(encoding="utf-8")):
            yield path.stem, row, tuple((one["from"], one["to"]) for one in row["change"])


def _numbered(name: str, seen: Counter[str]) -> str:
    seen[name] += 1
    return name if seen[name] == 1 else f"{name}-{seen[name]}"


def _near() -> Iterator[tuple[str, str]]:
    seen: Counter[str] = Counter()
    for _, row, change in _rows(TWINS / "near"):
        yield _numbered(f"near@{row['base']}", seen), changed(row["base"], change)


def _cases() -> Iterator[Case]:
    seen: Counter[str] = Counter()
    for family, row, change in _rows(TWINS):
        yield Case(
            name=_numbered(f"{row['fault']}@{row['base']}", seen),
            family=family,
            fault=row["fault"],
            severity=Severity(row["severity"]),
            trade=str(row["trade"]),
            says=str(row.get("says", "")),
            base=row["base"],
            change=change,
        )


CASES = tuple(_cases())
SOUND = {f"sound@{base}": sound_text(base) for base in BASES} | dict(_near())


def _pending() -> dict[str, str]:
    lines = (TWINS / "pending.txt").read_text(encoding="utf-8").splitlines()
    split = (line.partition("#") for line in lines if line.strip() and not line.startswith("#"))
    return {name.strip(): why.strip() for name, _, why in split}


PENDING = _pending()


@cache
def _tables() -> tuple[Larder, House]:
    return load_larder(), house_of_one_edition()


def findings(name: str, text: str) -> tuple[Finding, ...]:
    larder, house = _tables()
    return prepare(name, text.encode(), f"{name}.yaml", larder, house).findings


@cache
def of_base(base: str) -> tuple[Finding, ...]:
    return findings(base, sound_text(base))


@cache
def alarms(name: str) -> tuple[Finding, ...]:
    """Errors and warnings on a recipe that deserves none."""
    found = findings(name.partition("@")[2], SOUND[name])
    return tuple(one for one in found if one.severity is not Severity.NOTE)


def hits(case: Case) -> tuple[Finding, ...]:
    """The findings of the faulty twin that name its fault, as the case asks, and that the sound one lacks."""
    quiet = {(one.name, one.what) for one in of_base(case.base)}
    return tuple(
        one
        for one in findings(case.base, case.text)
        if one.name == case.fault
        and one.severity is case.severity
        and case.says.casefold() in f"{one.what} {one.instead}".casefold()
        and (one.name, one.what) not in quiet
    )


def _mark(name: str, value: object) -> object:
    if name in PENDING:
        return pytest.param(value, id=name, marks=pytest.mark.xfail(strict=True, reason=PENDING[name]))
    return pytest.param(value, id=name)


@pytest.mark.parametrize("name", [_mark(name, name) for name in SOUND])
def test_sound_recipe_is_quiet(name: str) -> None:
    assert alarms(name) == ()


@pytest.mark.parametrize("case", [_mark(case.name, case) for case in CASES])
def test_fault_is_found(case: Case) -> None:
    assert hits(case), [str(one) for one in findings(case.base, case.text)]


def test_every_failure_has_a_twin() -> None:
    assert set(range(1, FAILURES + 1)) - ELSEWHERE == {int(c.trade) for c in CASES if c.trade != "extra"}


def test_pending_names_are_cases() -> None:
    assert set(PENDING) <= {case.name for case in CASES} | set(SOUND)


def test_changes_fit_and_change_something() -> None:
    assert all(case.text != sound_text(case.base) for case in CASES)


def report() -> str:
    """Recall by family, what was missed, and every error or warning on a sound recipe."""
    missed = [case for case in CASES if not hits(case)]
    lost = Counter(case.family for case in missed)
    lines = [f"{'family':<14}{'twins':>6}{'found':>6}{'recall':>8}"]
    for family, total in (*Counter(case.family for case in CASES).items(), ("all", len(CASES))):
        found = total - (len(missed) if family == "all" else lost[family])
        lines.append(f"{family:<14}{total:>6}{found:>6}{found / total:>8.0%}")
    for case in missed:
        said = ", ".join(sorted({f"{one.name} ({one.severity})" for one in findings(case.base, case.text)}))
        lines.append(f"missed: {case.name} ({case.severity}, failure {case.trade}); said {said or 'nothing'}")
    wrong = [f"false alarm: {name}: {one}" for name in SOUND for one in alarms(name)]
    return "\n".join((*lines, f"false alarms: {len(wrong)} on {len(SOUND)} sound recipes", *wrong))


if __name__ == "__main__":
    sys.stdout.write(report() + "\n")
