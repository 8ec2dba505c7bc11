"""The formula history as text for a terminal and as plain values for a program."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from cardsmith.bench.conditions import HEADS, UNKNOWN
from cardsmith.bench.formula.balance import Balance
from cardsmith.bench.history.trials import Cell, TrialHistory
from cardsmith.bench.wording import LABELS, figure, measured, share, span

LOSS = "loss"
LIMIT = "95 % of the differences of two such makes are smaller"
TRUE_HEAT = "true heat = dial + offset; + is hotter than the dial says"


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
    losses = [balance.loss for balance in history.balances]
    if any(loss is not None for loss in losses):
        yield LOSS, tuple("" if loss is None else share(loss) for loss in losses)


def condition_heads(history: TrialHistory) -> tuple[str, ...]:
    """The heads of what each trial was made under; the moisture stands beside the aim where there is one."""
    aim = history.moisture_aim
    off = (f"off the aim of {share(aim)}",) if aim is not None else ()
    return (*HEADS.values(), "moisture", "by weighing", *off)


def condition_rows(history: TrialHistory) -> Iterator[tuple[str, ...]]:
    """What each trial was made under, and the water it kept; a dash for what isn't recorded."""
    for under, balance in zip(history.conditions, history.balances, strict=True):
        weighed = span(balance.moisture) if balance.moisture else UNKNOWN
        moisture = balance.measured_moisture
        cells = (under.room, under.oven, under.dial, under.offset, under.heat, under.lasted)
        water = (share(moisture) if moisture is not None else UNKNOWN, weighed)
        off = (_off(history.moisture_aim, balance),) if history.moisture_aim is not None else ()
        yield (*cells, *water, *off)


def _off(aim: Fraction, balance: Balance) -> str:
    """How far the moisture is off the aim, as measured, else as the weighings leave it."""
    moisture = balance.measured_moisture
    low, high = (moisture, moisture) if moisture is not None else balance.moisture or (None, None)
    if low is None or high is None:
        return UNKNOWN
    ends = [measured("moisture", end - aim, difference=True) for end in (low, high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0].removesuffix(' points')} to {ends[1]}"


def _aligned(table: list[tuple[str, tuple[str, ...]]], *, right: bool) -> Iterator[str]:
    width = max(len(label) for label, _ in table)
    columns = [max(map(len, cells)) for cells in zip(*(cells for _, cells in table), strict=True)]
    for label, cells in table:
        lines = (
            cell.rjust(size) if right else cell.ljust(size) for cell, size in zip(cells, columns, strict=True)
        )
        yield f"{label:<{width}}  {'  '.join(lines)}".rstrip()


def text_of(history: TrialHistory) -> str:
    """The whole history, for a terminal."""
    heads = tuple(f"T{trial.number}" for trial in history.trials)
    rows = [(row.item, tuple(map(cell_text, row.cells))) for row in history.rows]
    below = list(measured_rows(history))
    calls = ("verdict", tuple(trial.call for trial in history.trials))
    lines = [f"Formulas in {history.basis}; * marks a change from the trial it comes from", ""]
    lines += _aligned([("", heads), *rows, *below, calls], right=True)
    under = [("", condition_heads(history)), *zip(heads, condition_rows(history), strict=True)]
    lines += ["", f"Made under ({TRUE_HEAT})", *_aligned(under, right=False)]
    lines += ["", "Family tree", *history.tree, "", "What each change did"]
    for effect in history.effects:
        lines.append(f"  {effect.trial.number} (from {effect.parent.number}): {effect.text}")
        if effect.warning:
            lines.append(f"      warning: {effect.warning}")
    if history.counts_from:
        lines += ["", f"What makes of one formula differ by ({LIMIT})"]
        lines += [f"  {counted}" for counted in history.counts_from]
    lines += ["", *history.remarks] if history.remarks else []
    slips = [
        (trial.number, slip)
        for trial, balance in zip(history.trials, history.balances, strict=True)
        for slip in balance.slips
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
                "loss": _number(balance.loss),
                "moisture": [_number(end) for end in balance.moisture] if balance.moisture else None,
                "true_heat": _number(trial.oven.heat),
                "under": dict(zip(condition_heads(history), under, strict=True)),
                "slips": list(balance.slips),
            }
            for trial, balance, under in zip(
                history.trials, history.balances, condition_rows(history), strict=True
            )
        ],
        "repeats": list(history.counts_from),
        "remarks": list(history.remarks),
        "formulas": [
            {"item": row.item, "shares": [_number(cell.share) for cell in row.cells]}
            | {"changed": [cell.changed for cell in row.cells]}
            for row in history.rows
        ],
        "effects": [
            {"trial": effect.trial.number, "from": effect.parent.number, "text": effect.text}
            | {"within": list(effect.within), "besides": list(effect.besides)}
            | {"unrecorded": list(effect.unsaid), "warning": effect.warning}
            for effect in history.effects
        ],
        "tree": list(history.tree),
    }


def _number(value: Fraction | None) -> float | None:
    return None if value is None else float(value)
