"""The formula history as text for a terminal and as plain values for a program."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from cardsmith.bench.history import Cell, TrialHistory
from cardsmith.bench.words import LABELS, figure, measured, share

LOSS = "loss"


def cell_text(cell: Cell) -> str:
    """``62.5*`` where it was changed, ``–`` where it isn't in, ``?`` where it can't be weighed."""
    if cell.share is None:
        return "?"
    text = figure(cell.share * 100) if cell.share else "–"
    return f"{text}*" if cell.changed else text


def measured_rows(history: TrialHistory) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Every measure that any trial took, label first, with the calculated loss."""
    for name, label in LABELS.items():
        values = [trial.value(name) for trial in history.trials]
        if any(value is not None for value in values):
            yield label, tuple("" if value is None else measured(name, value) for value in values)
    losses = [found.loss for found in history.balances]
    if any(loss is not None for loss in losses):
        yield LOSS, tuple("" if loss is None else share(loss) for loss in losses)


def text_of(history: TrialHistory) -> str:
    """The whole history, for a terminal."""
    heads = [f"T{trial.number}" for trial in history.trials]
    rows = [(row.item, tuple(map(cell_text, row.cells))) for row in history.rows]
    below = list(measured_rows(history))
    calls = ("verdict", tuple(trial.call for trial in history.trials))
    table = [("", tuple(heads)), *rows, *below, calls]
    width = max(len(label) for label, _ in table)
    columns = [max(len(cells[at]) for _, cells in table) for at in range(len(heads))]
    lines = [f"Formulas in {history.basis}; * marks a change from the trial it comes from", ""]
    for label, cells in table:
        told = "  ".join(cell.rjust(size) for cell, size in zip(cells, columns, strict=True))
        lines.append(f"{label:<{width}}  {told}".rstrip())
    lines += ["", "Family tree", *history.tree, "", "What each change did"]
    for effect in history.effects:
        lines.append(f"  {effect.trial.number} (from {effect.parent.number}): {effect.text}")
        if effect.warning:
            lines.append(f"      warning: {effect.warning}")
    slips = [
        (trial.number, slip)
        for trial, found in zip(history.trials, history.balances, strict=True)
        for slip in found.slips
    ]
    if slips:
        lines += ["", "Weighings that don't add up", *(f"  {number}: {slip}" for number, slip in slips)]
    return "\n".join(lines)


def record_of(history: TrialHistory) -> dict[str, Any]:
    """The history as values that JSON can hold; shares as numbers of one."""
    return {
        "basis": history.basis,
        "trials": [
            {
                "trial": trial.number,
                "date": trial.date,
                "from": trial.parent,
                "changes": [change.text for change in trial.changes],
                "call": trial.call,
                "measured": {name: _number(reading.value) for name, reading in trial.measured.items()},
                "loss": _number(found.loss),
                "moisture": [_number(end) for end in found.moisture] if found.moisture else None,
                "slips": list(found.slips),
            }
            for trial, found in zip(history.trials, history.balances, strict=True)
        ],
        "formulas": [
            {"item": row.item, "shares": [_number(cell.share) for cell in row.cells]}
            | {"changed": [cell.changed for cell in row.cells]}
            for row in history.rows
        ],
        "effects": [
            {"trial": effect.trial.number, "from": effect.parent.number, "text": effect.text}
            | {"warning": effect.warning}
            for effect in history.effects
        ],
        "tree": list(history.tree),
    }


def _number(value: Fraction | None) -> float | None:
    return None if value is None else float(value)
