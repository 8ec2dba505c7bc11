"""Findings as SARIF 2.1.0, the log that code hosts and editors read.

Source: OASIS Standard, Static Analysis Results Interchange Format (SARIF) Version 2.1.0.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from importlib.metadata import version
from pathlib import PurePath
from typing import Any
from urllib.parse import quote

from cardsmith.check.explain import EXAMPLES, READING
from cardsmith.check.registry import Check
from cardsmith.check.run import CHECKS
from cardsmith.finding import Finding, Severity, in_order
from cardsmith.recipe.model import Accepted

SCHEMA = "https://json.schemastore.org/sarif-2.1.0-rtm.5.json"
LEVELS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "note"}


def as_sarif(
    findings: Iterable[Finding],
    sources: Mapping[str, str],
    silenced: Iterable[tuple[Finding, Accepted]] = (),
) -> dict[str, Any]:
    """One run: every rule with its help, every finding, and what an author has answered as suppressed.

    ``sources`` holds the text of each file, so that no region reaches beyond its line.
    """
    in_sequence = in_order(list(findings))
    answered = sorted(silenced, key=lambda pair: (pair[0].where, pair[0].name))
    rules = [_rule(check) for check in CHECKS]
    known = {check.name for check in CHECKS}
    for name in dict.fromkeys(
        finding.name for finding in (*in_sequence, *(finding for finding, _ in answered))
    ):
        if name not in known:
            rules.append(_rule_of_reading(name))
    places = {rule["id"]: place for place, rule in enumerate(rules)}
    results = [_result(finding, places, sources) for finding in in_sequence]
    for finding, answer in answered:
        suppressed = {"kind": "inSource", "justification": answer.reason}
        results.append({**_result(finding, places, sources), "suppressions": [suppressed]})
    driver = {"name": "cardsmith", "version": version("cardsmith"), "rules": rules}
    run = {"tool": {"driver": driver}, "columnKind": "unicodeCodePoints", "results": results}
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def _rule(check: Check) -> dict[str, Any]:
    """A check as a rule: what it looks for, why, and its help."""
    lines = [check.why, f"Source: {check.source}.", f"Instead: {check.remedy}."]
    marked = [check.why, f"*Source:* {check.source}.", f"*Instead:* {check.remedy}."]
    example = EXAMPLES.get(check.name)
    if example:
        lines.append(f"Example: {example.faulty} → {example.mended}")
        marked.append(f"*Example:* `{example.faulty}` → `{example.mended}`")
    return {
        "id": check.name,
        "shortDescription": {"text": check.about},
        "fullDescription": {"text": check.why},
        "help": {"text": "\n".join(lines), "markdown": "\n\n".join(marked)},
        "defaultConfiguration": {"level": LEVELS[check.severity]},
        "properties": {"source": check.source, "acceptable": check.acceptable},
    }


def _rule_of_reading(name: str) -> dict[str, Any]:
    """A finding of reading or setting as a rule; without a row in the table only its name in words."""
    row = READING.get(name)
    if row is None:
        return {"id": name, "shortDescription": {"text": f"{name.replace('-', ' ').capitalize()}."}}
    help_text = f"Instead: {row['instead']}."
    return {"id": name, "shortDescription": {"text": row["about"]}, "help": {"text": help_text}}


def _result(finding: Finding, places: Mapping[str, int], sources: Mapping[str, str]) -> dict[str, Any]:
    """A finding as a result; its message ends with what to write instead."""
    place: dict[str, Any] = {"artifactLocation": {"uri": _uri(finding.where.file)}}
    if finding.where.line:
        place["region"] = _region(finding, sources.get(finding.where.file, ""))
    return {
        "ruleId": finding.name,
        "ruleIndex": places[finding.name],
        "level": LEVELS[finding.severity],
        "message": {"text": f"{finding.what}. Instead: {finding.instead}."},
        "locations": [{"physicalLocation": place}],
    }


def _uri(file: str) -> str:
    """A path as a URI: relative as it is, so that it is found in any clone; absolute with its scheme."""
    path = PurePath(file)
    return path.as_uri() if path.is_absolute() else quote(path.as_posix())


def _region(finding: Finding, source: str) -> dict[str, int]:
    """Lines and columns from 1; the end column stands behind the last character."""
    region = {"startLine": finding.where.line}
    if finding.where.column:
        lines = source.splitlines()
        end = finding.where.column + max(finding.width, 1)
        if finding.where.line <= len(lines):
            end = min(end, max(len(lines[finding.where.line - 1]) + 1, finding.where.column + 1))
        region |= {"startColumn": finding.where.column, "endColumn": end}
    return region
