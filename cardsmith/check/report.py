"""Findings as people read them (the line, a caret under the fault) and as programs do."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from itertools import groupby

from cardsmith.finding import Finding, Severity, in_order

MANY = 10  # recipes checked at a time, from which on a summary ends the report
WORST = 10  # files it names


def counted(findings: Iterable[Finding]) -> str:
    """``2 errors, 1 warning``; "nothing found" for none."""
    numbers = zip(_by_severity(findings), Severity, strict=True)
    counts = [f"{number} {word.value}{'' if number == 1 else 's'}" for number, word in numbers if number]
    return ", ".join(counts) or "nothing found"


def _excerpt(finding: Finding, source: str) -> list[str]:
    """The line of the file with the fault underlined; nothing where the place is unknown."""
    lines = source.splitlines()
    if not 0 < finding.where.line <= len(lines):
        return []
    line = lines[finding.where.line - 1]
    shown = line.expandtabs(1)
    gutter = f"{finding.where.line:>5} | "
    rows = [f"{gutter}{shown}"]
    start = finding.where.column - 1
    if 0 <= start <= len(line):
        width = max(min(finding.width, len(line) - start), 1)
        rows.append(f"{' ' * (len(gutter) - 2)}| {' ' * start}{'^' * width}")
    return rows


def as_text(findings: Iterable[Finding], sources: Mapping[str, str]) -> str:
    """Findings grouped by file, each with its line; ``sources`` holds the text of each file."""
    blocks: list[str] = []
    for file, group in groupby(in_order(list(findings)), key=lambda finding: finding.where.file):
        of_file = list(group)
        blocks.append(f"{file}: {counted(of_file)}")
        for finding in of_file:
            blocks.append(
                "\n".join(
                    [
                        f"{finding.where}: {finding.severity}: {finding.what} [{finding.name}]",
                        *_excerpt(finding, sources.get(file, "")),
                        f"      → {finding.instead}",
                    ]
                )
            )
    return "\n\n".join(blocks) + "\n" if blocks else ""


def totals(findings: Iterable[Finding]) -> str:
    """How often each check spoke, the gravest first, and the files with most to mend; empty for nothing."""
    in_sequence = in_order(list(findings))
    if not in_sequence:
        return ""
    checks = Counter((finding.severity.rank, finding.name) for finding in in_sequence)
    names = sorted(checks, key=lambda each: (each[0], -checks[each], each[1]))
    files: dict[str, list[Finding]] = {}
    for finding in in_sequence:
        files.setdefault(finding.where.file, []).append(finding)
    grave = [
        file
        for file, of_file in files.items()
        if any(finding.severity is not Severity.NOTE for finding in of_file)
    ]
    worst = sorted(grave, key=lambda file: ([-number for number in _by_severity(files[file])], file))[:WORST]
    width = len(str(max(checks.values())))
    lines = [f"  {checks[rank, name]:>{width}}  {name} ({list(Severity)[rank]})" for rank, name in names]
    if worst:
        lines += ["Most to mend", *(f"  {file}: {counted(files[file])}" for file in worst)]
    return "\n".join(["By check", *lines]) + "\n\n"


def _by_severity(findings: Iterable[Finding]) -> list[int]:
    """How many errors, warnings and notes."""
    numbers = Counter(finding.severity for finding in findings)
    return [numbers[severity] for severity in Severity]


def as_records(findings: Iterable[Finding]) -> list[dict[str, str | int]]:
    """Findings as plain values that JSON can hold."""
    return [
        {
            "file": finding.where.file,
            "line": finding.where.line,
            "column": finding.where.column,
            "width": finding.width,
            "field": finding.where.field,
            "severity": finding.severity.value,
            "name": finding.name,
            "what": finding.what,
            "instead": finding.instead,
        }
        for finding in in_order(list(findings))
    ]
