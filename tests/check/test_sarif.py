from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft4Validator

from cardsmith.check.run import CHECKS
from cardsmith.check.sarif import as_sarif
from cardsmith.finding import Finding, Severity, Where
from cardsmith.recipe.model import Accepted

SCHEMA = Path(__file__).parents[1] / "data" / "sarif-2.1.0-rtm.5.json"  # its source: tests/data/README.md
WHERE = Where(file="recipes/rye crackers/recipe.yaml", line=2, column=5)
TEXT = "title: Rye\n  - Heat the oven to 350.\n"
ANSWER = Accepted(where=WHERE, check="low-hydration", reason="Rye rolls best dry.")


@cache
def validator() -> Draft4Validator:
    return Draft4Validator(json.loads(SCHEMA.read_text(encoding="utf-8")))


def finding(name: str = "scale-missing", where: Where = WHERE, width: int = 4) -> Finding:
    return Finding(
        name=name, severity=Severity.ERROR, where=where, what="“350” has no scale", instead="°F", width=width
    )


def run(*findings: Finding, **more: Any) -> dict[str, Any]:
    """The only run of a log, which fits the published schema."""
    log = as_sarif(findings, {WHERE.file: TEXT}, **more)
    assert [fault.message for fault in validator().iter_errors(log)] == []
    (only,) = log["runs"]
    return only  # type: ignore[no-any-return]


def region(**changed: Any) -> dict[str, int]:
    (result,) = run(finding(**changed))["results"]
    return result["locations"][0]["physicalLocation"].get("region")  # type: ignore[no-any-return]


def test_schema_refuses_what_is_no_log() -> None:
    assert list(validator().iter_errors({"version": "2.1.0"}))
    log = as_sarif([finding()], {})
    log["runs"][0]["results"][0]["level"] = "grave"
    assert list(validator().iter_errors(log))


def test_log_without_findings_fits_and_lists_every_rule() -> None:
    only = run()
    assert only["results"] == []
    assert [rule["id"] for rule in only["tool"]["driver"]["rules"]] == [one.name for one in CHECKS]


def test_result_points_to_rule_and_place() -> None:
    only = run(finding())
    (result,) = only["results"]
    assert only["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == result["ruleId"] == "scale-missing"
    assert result["level"] == "error"
    assert result["message"] == {"text": "“350” has no scale. Instead: °F."}
    (location,) = result["locations"]
    assert location["physicalLocation"]["artifactLocation"] == {"uri": "recipes/rye%20crackers/recipe.yaml"}


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        ({}, {"startLine": 2, "startColumn": 5, "endColumn": 9}),
        (
            {"width": 400},
            {"startLine": 2, "startColumn": 5, "endColumn": len("  - Heat the oven to 350.") + 1},
        ),
        ({"width": 0}, {"startLine": 2, "startColumn": 5, "endColumn": 6}),
        ({"where": Where(file=WHERE.file, line=2)}, {"startLine": 2}),
        ({"where": Where(file=WHERE.file)}, None),
        (
            {"where": Where(file=WHERE.file, line=99, column=3)},
            {"startLine": 99, "startColumn": 3, "endColumn": 7},
        ),
    ],
)
def test_region_counts_from_one_and_stays_on_the_line(
    changed: dict[str, Any], expected: dict[str, int] | None
) -> None:
    assert region(**changed) == expected


def test_absolute_file_gets_its_scheme() -> None:
    (result,) = run(finding(where=Where(file="/drafts/ö.yaml", line=1)))["results"]
    location = result["locations"][0]["physicalLocation"]["artifactLocation"]
    assert location == {"uri": "file:///drafts/%C3%B6.yaml"}


def test_finding_of_the_reader_gets_a_rule_of_its_own() -> None:
    only = run(finding("doubtful-unit"), finding("doubtful-unit", where=Where(file=WHERE.file, line=1)))
    rules = [rule for rule in only["tool"]["driver"]["rules"] if rule["id"] == "doubtful-unit"]
    assert len(rules) == 1
    assert rules[0]["help"]["text"].startswith("Instead: ")


def test_finding_of_no_table_gets_its_name_in_words() -> None:
    rule = run(finding("card-in-the-rain"))["tool"]["driver"]["rules"][-1]
    assert rule == {"id": "card-in-the-rain", "shortDescription": {"text": "Card in the rain."}}


def test_answered_finding_is_suppressed_with_its_reason() -> None:
    (result,) = run(silenced=[(finding("low-hydration"), ANSWER)])["results"]
    assert result["suppressions"] == [{"kind": "inSource", "justification": "Rye rolls best dry."}]


def test_rule_helps_with_why_source_remedy_and_example() -> None:
    rules = {rule["id"]: rule for rule in run()["tool"]["driver"]["rules"]}
    rule = rules["scale-missing"]
    assert rule["defaultConfiguration"] == {"level": "error"}
    assert "Source: common practice, no source." in rule["help"]["text"]
    assert "Example: Heat the oven to 350. → Heat the oven to 350 °F." in rule["help"]["text"]
    assert rule["properties"]["acceptable"] is False
