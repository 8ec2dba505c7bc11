"""Every remedy is carried out: a recipe that a check questions, the same mended as its ``instead`` asks.

A case in `remedies.yaml` names a recipe: one under `remedies/`, a sound twin, or one of the pairs; what
stands after ``---`` in it is its trials. It gives the words to change so that the check speaks, what the
check then says to write instead, and the words changed as an author who follows that would. Afterwards the
finding must be gone, and nothing new at error or warning have come. MARK stands for the mark that a finding
names.

``python tests/check/test_remedies.py`` writes what the checks now say into the file, for you to read again.
"""

from __future__ import annotations

import re
from collections import Counter
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

HERE = Path(__file__).parent
FILE = HERE / "remedies.yaml"
BASES = (HERE / "remedies", HERE.parent / "twins" / "bases", HERE.parent)
MARK = re.compile(r"(?<=mark: )[0-9a-f]{8}")
Change = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One check, a recipe that it questions, and its remedy carried out."""

    check: str
    base: str
    change: Change
    instead: str
    mend: Change


def _pairs(rows: list[dict[str, str]]) -> Change:
    return tuple((row["from"], row["to"]) for row in rows)


def _case(row: dict[str, Any]) -> Case:
    change, mend = _pairs(row.get("change", [])), _pairs(row["mend"])
    return Case(check=row["check"], base=row["base"], change=change, instead=row["instead"], mend=mend)


CASES = tuple(_case(row) for row in YAML(typ="safe").load(FILE.read_text(encoding="utf-8")))


def changed(text: str, change: Change) -> str:
    """A recipe with words replaced. Raises ValueError unless each stands in it once."""
    for old, new in change:
        if text.count(old) != 1:
            raise ValueError(f"{old!r} stands {text.count(old)} times")
        text = text.replace(old, new)
    return text


def faulty(case: Case) -> str:
    path = next(path for folder in BASES if (path := folder / f"{case.base}.yaml").exists())
    return changed(path.read_text(encoding="utf-8"), case.change)


@cache
def _tables() -> tuple[Larder, House]:
    return load_larder(), house_of_one_edition()


def findings(text: str) -> tuple[Finding, ...]:
    recipe, _, trials = text.partition("\n---\n")
    bench = (trials.encode(), "trials.yaml") if trials else None
    return prepare("a-dish", recipe.encode(), "recipe.yaml", *_tables(), bench).findings


def asked(case: Case) -> Finding:
    """What the check says of the faulty recipe first."""
    return next(one for one in findings(faulty(case)) if one.name == case.check)


def grave(found: tuple[Finding, ...]) -> Counter[str]:
    return Counter(one.name for one in found if one.severity is not Severity.NOTE)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.check)
def test_what_the_remedy_asks_for_mends_it(case: Case) -> None:
    finding = asked(case)
    assert MARK.sub("MARK", finding.instead) == case.instead  # else: does mend still follow its words?
    mark = MARK.search(finding.instead)
    mend = tuple((old, new.replace("MARK", mark[0]) if mark else new) for old, new in case.mend)
    mended = findings(changed(faulty(case), mend))
    assert [str(one) for one in mended if one.name == case.check] == []
    assert grave(mended) - grave(findings(faulty(case))) == Counter()


def _rewrite() -> None:
    text = FILE.read_text(encoding="utf-8")
    for case in CASES:
        said = MARK.sub("MARK", asked(case).instead)
        text = text.replace(f"instead: {_quoted(case.instead)}\n", f"instead: {_quoted(said)}\n")
    FILE.write_text(text, encoding="utf-8")


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


if __name__ == "__main__":
    _rewrite()
