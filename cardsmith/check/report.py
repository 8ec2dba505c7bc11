"""Findings as people read them (the line, a caret under the fault) and as programs do."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import groupby

from cardsmith.finding import Finding, Severity, in_order


def counted(findings: Iterable[Finding]) -> str:
    """``2 errors, 1 warning``; "nothing found" for none."""
    found = list(findings)
    numbers = [(sum(one.severity is severity for one in found), severity.value) for severity in Severity]
    told = [f"{number} {word}{'' if number == 1 else 's'}" for number, word in numbers if number]
    return ", ".join(told) or "nothing found"


def _excerpt(finding: Finding, source: str) -> list[str]:
    """The line of the file with the fault underlined; nothing where the place is unknown."""
    lines = source.splitlines()
    if not 0 < finding.where.line <= len(lines):
        return []
    line = lines[finding.where.line - 1]
    shown = line.expandtabs(1)
    gutter = f"{finding.where.line:>5} | "
    told = [f"{gutter}{shown}"]
    start = finding.where.column - 1
    if 0 <= start <= len(line):
        width = max(min(finding.width, len(line) - start), 1)
        told.append(f"{' ' * (len(gutter) - 2)}| {' ' * start}{'^' * width}")
    return told


def as_text(findings: Iterable[Finding], sources: Mapping[str, str]) -> str:
    """Findings grouped by file, each with its line; ``sources`` holds the text of each file."""
    blocks: list[str] = []
    for file, group in groupby(in_order(list(findings)), key=lambda one: one.where.file):
        found = list(group)
        blocks.append(f"{file}: {counted(found)}")
        for one in found:
            blocks.append(
                "\n".join(
                    [
                        f"{one.where}: {one.severity}: {one.what} [{one.name}]",
                        *_excerpt(one, sources.get(file, "")),
                        f"      → {one.instead}",
                    ]
                )
            )
    return "\n\n".join(blocks) + "\n" if blocks else ""


def as_records(findings: Iterable[Finding]) -> list[dict[str, str | int]]:
    """Findings as plain values that JSON can hold."""
    return [
        {
            "file": one.where.file,
            "line": one.where.line,
            "column": one.where.column,
            "width": one.width,
            "field": one.where.field,
            "severity": one.severity.value,
            "name": one.name,
            "what": one.what,
            "instead": one.instead,
        }
        for one in in_order(list(findings))
    ]
