"""Blocks of text cut into ingredient lines and steps: a recipe needs no dashes of YAML."""

from __future__ import annotations

from dataclasses import replace

from cardsmith.finding import Finding, Severity
from cardsmith.recipe.file import yaml_traps
from cardsmith.recipe.file.tree import Scalar, run_together
from cardsmith.recipe.schema.kinds import Key, Lines
from cardsmith.regex import regex

_BULLET = regex(r"[-*•–]\s+")
_NUMBER = regex(r"(?P<number>\d{1,3})[.)]\s+")
_WORDS = regex(r"[^\s,](?:[^,]*[^\s,])?")
_LONGEST_WORDS = 30  # characters; a longer piece between commas is a sentence
_SENTENCE_END = regex(r"[.!?]['\"”’)]*$")


def cut(text: Scalar, kind: Lines, field: Key) -> tuple[tuple[Scalar, ...], tuple[Finding, ...]]:
    """The items of a list that was written as one text, each with its own place in the file."""
    rows = text.lines()
    if not text.style and text.text.startswith("-") and "\n" not in text.text:
        item = text.piece(1, len(text.text))
        what = "the dash that begins a line needs a space after it"
        return _named((item,)), (_error("yaml-dash", text, what, f"write: - {item.text}"),)
    if not kind.block:
        what = f"{field.name} takes a list of {kind.noun}s, not one text"
        if len(rows) > 1:
            items = tuple(_unbulleted(row) for row in rows)
            return _named(items), (_error("wrong-type", text, what, f"write: - {items[0].text}"),)
        words = [word.strip() for word in text.text.split(",")]
        items = rows if any(len(word) > _LONGEST_WORDS for word in words) else _between_commas(text)
        instead = f"write: {field.name}: [{', '.join(yaml_traps.in_list(item.text) for item in items)}]"
        return _named(items), (_error("wrong-type", text, what, instead),)
    findings = []
    if text.style != "|" and len(rows) > 1 and "\n" not in text.text:
        what = f"YAML joins these {len(rows)} lines into one"
        findings.append(_error("yaml-block", text, what, f"begin with a bar: {field.name}: |"))
    if kind.noun == "step":
        items, of_steps = _steps(rows)
        return _named(items), (*findings, *of_steps)
    return _named(tuple(_unbulleted(row) for row in rows)), tuple(findings)


def _steps(rows: tuple[Scalar, ...]) -> tuple[tuple[Scalar, ...], tuple[Finding, ...]]:
    """Steps of a numbered or bulleted list, else of paragraphs with a blank line between."""
    heads = [_NUMBER.match(row.text) or _BULLET.match(row.text) for row in rows]
    groups: list[list[Scalar]] = []
    for row, head, before in zip(rows, heads, (None, *rows), strict=False):
        gap = before is None or row.where.line - before.where.line > 1
        if not groups or (head if any(heads) else gap):
            groups.append([])
        groups[-1].append(row.piece(head.end(), len(row.text)) if head else row)
    findings = []
    if len(groups) == 1 and len(rows) > 1 and all(_SENTENCE_END.search(row.text) for row in rows):
        what = f"these {len(rows)} lines are read as one step"
        instead = "number the steps (1. 2. 3.) or leave a blank line between them"
        findings.append(_error("steps-joined", rows[0], what, instead, Severity.WARNING))
    return tuple(run_together(tuple(group)) for group in groups), tuple(findings)


def _between_commas(text: Scalar) -> tuple[Scalar, ...]:
    return tuple(text.piece(match.start(), match.end()) for match in _WORDS.finditer(text.text))


def _unbulleted(row: Scalar) -> Scalar:
    bullet = _BULLET.match(row.text)
    return row.piece(bullet.end(), len(row.text)) if bullet else row


def _named(items: tuple[Scalar, ...]) -> tuple[Scalar, ...]:
    """The items with their own place in the recipe: ingredients[2]."""
    return tuple(
        replace(item, where=replace(item.where, field=f"{item.where.field}[{number}]"))
        for number, item in enumerate(items)
    )


def _error(name: str, text: Scalar, what: str, instead: str, severity: Severity = Severity.ERROR) -> Finding:
    width = max(1, len(text.text.split("\n")[0]))
    return Finding(name=name, severity=severity, where=text.where, what=what, instead=instead, width=width)
