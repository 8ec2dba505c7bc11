"""Sound recipes of which one thing is changed: the check that must say so, and at what severity."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from cardsmith.finding import Finding, Severity
from cardsmith.flow import prepare
from cardsmith.measure.larder import load_larder
from tests.demo import house_of_one_edition

HERE = Path(__file__).parent / "spoiled"
CHANGES = YAML(typ="safe").load((HERE / "changes.yaml").read_text(encoding="utf-8"))
BASES = sorted(path.stem for path in HERE.glob("*.yaml") if path.stem != "changes")


@cache
def text_of(base: str) -> str:
    return (HERE / f"{base}.yaml").read_text(encoding="utf-8")


@cache
def findings(base: str, text: str) -> tuple[Finding, ...]:
    return prepare(base, text.encode(), base, load_larder(), house_of_one_edition()).findings


@pytest.mark.parametrize("base", BASES)
def test_sound_recipe_is_left_in_peace(base: str) -> None:
    told = findings(base, text_of(base))
    asked = [one for one in told if one.severity is not Severity.NOTE]
    assert [one.what for one in asked] == []


@pytest.mark.parametrize("row", CHANGES, ids=lambda row: f"{row['base']}: {row['to'][:50]}")
def test_one_change_is_named(row: dict[str, Any]) -> None:
    sound = text_of(row["base"])
    assert row["from"] in sound
    before = {(one.name, one.what) for one in findings(row["base"], sound)}
    told = findings(row["base"], sound.replace(row["from"], row["to"]))
    new = {(one.name, one.severity.value) for one in told if (one.name, one.what) not in before}
    assert (row["check"], row["severity"]) in new
