"""The formula history as a page shows it: tables as wide as a page, effects, the tree."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.bench.history.text import (
    LIMIT,
    TRUE_HEAT,
    cell_text,
    condition_heads,
    condition_rows,
    measured_rows,
)
from cardsmith.bench.history.trials import Effect, TrialHistory
from cardsmith.frozen import frozen

COLUMNS = 8  # trials side by side that a page holds


@frozen
class Table:
    """A block of the history: the trials that stand in it, its heads, then a label and its cells a row."""

    trials: tuple[int, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


@frozen
class HistoryView:
    """All that a template needs of the history."""

    title: str
    basis: str
    tables: tuple[Table, ...]
    under: Table
    true_heat: str  # how it is worked out
    counts_from: str  # the least differences that repeats don't show, in a sentence; empty without repeats
    remarks: tuple[str, ...]
    effects: tuple[Effect, ...]
    tree: tuple[tuple[int, str], ...]  # how deep, and the trial


def history_view(past: TrialHistory, title: str) -> HistoryView:
    """The history of a recipe of this title."""
    counts = "; ".join(past.counts_from)
    return HistoryView(
        title=title,
        basis=past.basis,
        tables=tuple(_tables(past)),
        under=_under(past),
        true_heat=f"{TRUE_HEAT[0].upper()}{TRUE_HEAT[1:]}.",
        counts_from=f"Makes of one formula differ by ({LIMIT}): {counts}." if counts else "",
        remarks=past.remarks,
        effects=past.effects,
        tree=tuple(_levels(past)),
    )


def _tables(past: TrialHistory) -> Iterator[Table]:
    rows = [(row.item, tuple(map(cell_text, row.cells))) for row in past.rows]
    rows += list(measured_rows(past))
    rows.append(("verdict", tuple(trial.call for trial in past.trials)))
    blocks = -(-len(past.trials) // COLUMNS)
    width = -(-len(past.trials) // blocks)  # even blocks: nine trials become five and four
    for start in range(0, len(past.trials), width):
        chosen = slice(start, start + width)
        yield Table(
            trials=tuple(trial.number for trial in past.trials[chosen]),
            heads=tuple(f"Trial {trial.number}" for trial in past.trials[chosen]),
            rows=tuple((label, cells[chosen]) for label, cells in rows),
        )


def _under(past: TrialHistory) -> Table:
    numbers = tuple(trial.number for trial in past.trials)
    rows = tuple(zip(map(str, numbers), condition_rows(past), strict=True))
    return Table(trials=numbers, heads=condition_heads(past), rows=rows)


def _levels(past: TrialHistory) -> Iterator[tuple[int, str]]:
    """The family tree as levels, for paper: not every font has box-drawing characters."""
    for line in past.tree:
        text = line.lstrip("│├└─ ")
        yield (len(line) - len(text)) // 3, text
