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
    found = in_order(list(findings))
    answered = sorted(silenced, key=lambda pair: (pair[0].where, pair[0].name))
    rules = [_rule(one) for one in CHECKS]
    known = {one.name for one in CHECKS}
    for name in dict.fromkeys(one.name for one in (*found, *(one for one, _ in answered))):
        if name not in known:
            rules.append(_rule_of_reading(name))
    places = {rule["id"]: place for place, rule in enumerate(rules)}
    results = [_result(one, places, sources) for one in found]
    for one, answer in answered:
        suppressed = {"kind": "inSource", "justification": answer.reason}
        results.append({**_result(one, places, sources), "suppressions": [suppressed]})
    driver = {"name": "cardsmith", "version": version("cardsmith"), "rules": rules}
    run = {"tool": {"driver": driver}, "columnKind": "unicodeCodePoints", "results": results}
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def _rule(one: Check) -> dict[str, Any]:
    """A check as a rule: what it looks for, why, and its help."""
    lines = [one.why, f"Source: {one.source}.", f"Instead: {one.remedy}."]
    marked = [one.why, f"*Source:* {one.source}.", f"*Instead:* {one.remedy}."]
    example = EXAMPLES.get(one.name)
    if example:
        lines.append(f"Example: {example.faulty} → {example.mended}")
        marked.append(f"*Example:* `{example.faulty}` → `{example.mended}`")
    return {
        "id": one.name,
        "shortDescription": {"text": one.about},
        "fullDescription": {"text": one.why},
        "help": {"text": "\n".join(lines), "markdown": "\n\n".join(marked)},
        "defaultConfiguration": {"level": LEVELS[one.severity]},
        "properties": {"source": one.source, "acceptable": one.acceptable},
    }


def _rule_of_reading(name: str) -> dict[str, Any]:
    """A finding of reading or setting as a rule; without a row in the table only its name in words."""
    row = READING.get(name)
    if row is None:
        return {"id": name, "shortDescription": {"text": f"{name.replace('-', ' ').capitalize()}."}}
    help_text = f"Instead: {row['instead']}."
    return {"id": name, "shortDescription": {"text": row["about"]}, "help": {"text": help_text}}


def _result(one: Finding, places: Mapping[str, int], sources: Mapping[str, str]) -> dict[str, Any]:
    """A finding as a result; its message ends with what to write instead."""
    place: dict[str, Any] = {"artifactLocation": {"uri": _uri(one.where.file)}}
    if one.where.line:
        place["region"] = _region(one, sources.get(one.where.file, ""))
    return {
        "ruleId": one.name,
        "ruleIndex": places[one.name],
        "level": LEVELS[one.severity],
        "message": {"text": f"{one.what}. Instead: {one.instead}."},
        "locations": [{"physicalLocation": place}],
    }


def _uri(file: str) -> str:
    """A path as a URI: relative as it is, so that it is found in any clone; absolute with its scheme."""
    path = PurePath(file)
    return path.as_uri() if path.is_absolute() else quote(path.as_posix())


def _region(one: Finding, source: str) -> dict[str, int]:
    """Lines and columns from 1; the end column stands behind the last character."""
    region = {"startLine": one.where.line}
    if one.where.column:
        lines = source.splitlines()
        end = one.where.column + max(one.width, 1)
        if one.where.line <= len(lines):
            end = min(end, max(len(lines[one.where.line - 1]) + 1, one.where.column + 1))
        region |= {"startColumn": one.where.column, "endColumn": end}
    return region
