"""Blocks of text cut into ingredient lines and steps: a recipe needs no dashes of YAML."""

from __future__ import annotations

import re

from cardsmith.finding import Finding, Severity
from cardsmith.recipe import traps
from cardsmith.recipe.schema import Field, Lines
from cardsmith.recipe.tree import Scalar

_BULLET = re.compile(r"[-*•–]\s+")
_NUMBER = re.compile(r"(?P<number>\d{1,3})[.)]\s+")
_SENTENCE_END = re.compile(r"[.!?]['\"”’)]*$")


def cut(text: Scalar, kind: Lines, field: Field) -> tuple[tuple[Scalar, ...], tuple[Finding, ...]]:
    """The items of a list that was written as one text, each with its own place in the file."""
    rows = text.lines()
    if not text.style and text.text.startswith("-") and "\n" not in text.text:
        item = text.piece(1, len(text.text))
        what = "the dash that begins a line needs a space after it"
        return _named((item,), field), (_error("yaml-dash", text, what, f"write: - {item.text}"),)
    if not kind.block:
        what = f"{field.name} takes a list of {kind.noun}s, not one text"
        instead = (
            f"write: {field.name}: [{traps.in_list(text.text)}]"
            if len(rows) == 1
            else f"write: {field.example}"
        )
        return _named((text,), field), (_error("wrong-type", text, what, instead),)
    findings = []
    if text.style != "|" and len(rows) > 1 and "\n" not in text.text:
        what = f"YAML joins these {len(rows)} lines into one"
        findings.append(_error("yaml-block", text, what, f"begin with a bar: {field.name}: |"))
    if kind.noun == "step":
        items, found = _steps(text, rows)
        return _named(items, field), (*findings, *found)
    return _named(tuple(_unbulleted(row) for row in rows), field), tuple(findings)


def _steps(text: Scalar, rows: tuple[Scalar, ...]) -> tuple[tuple[Scalar, ...], tuple[Finding, ...]]:
    """Steps of a numbered or bulleted list, else of paragraphs."""
    offsets = _offsets(text)
    heads = [_NUMBER.match(row.text) or _BULLET.match(row.text) for row in rows]
    if any(heads):
        starts = [at for at, head in zip(offsets, heads, strict=True) if head]
        starts = starts if heads[0] else [offsets[0], *starts]
    else:
        starts = [
            at
            for at in offsets
            if at == offsets[0]
            or not text.text[:at].rstrip(" ").endswith("\n")
            or re.search(r"\n\s*\n\s*$", text.text[:at])
        ]
    ends = [*starts[1:], len(text.text)]
    items = []
    for start, end in zip(starts, ends, strict=True):
        head = _NUMBER.match(text.text, start) or _BULLET.match(text.text, start)
        begin = head.end() if head else start
        items.append(text.piece(begin, begin + len(text.text[begin:end].rstrip())))
    found = []
    if len(items) == 1 and len(rows) > 1 and all(_SENTENCE_END.search(row.text) for row in rows):
        what = f"these {len(rows)} lines are read as one step"
        instead = "number the steps (1. 2. 3.) or leave a blank line between them"
        found.append(_error("steps-joined", rows[0], what, instead, Severity.WARNING))
    return tuple(items), tuple(found)


def _offsets(text: Scalar) -> list[int]:
    """Where in the text each of its lines begins, blank ones left out."""
    starts = [spot[0] for spot in text.spots] or [0]
    return [
        at for at, end in zip(starts, [*starts[1:], len(text.text)], strict=True) if text.text[at:end].strip()
    ]


def _unbulleted(row: Scalar) -> Scalar:
    bullet = _BULLET.match(row.text)
    return row.piece(bullet.end(), len(row.text)) if bullet else row


def _named(items: tuple[Scalar, ...], field: Field) -> tuple[Scalar, ...]:
    """The items with their own place in the recipe: ingredients[2]."""
    return tuple(
        item.piece(0, len(item.text), f"{item.where.field}[{number}]") for number, item in enumerate(items)
    )


def _error(name: str, text: Scalar, what: str, instead: str, severity: Severity = Severity.ERROR) -> Finding:
    width = max(1, len(text.text.split("\n")[0]))
    return Finding(name=name, severity=severity, where=text.where, what=what, instead=instead, width=width)
