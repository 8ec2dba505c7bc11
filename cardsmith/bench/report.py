"""The trial report of one recipe: everything learnt so far, as ready text and plots."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cardsmith.bench.balance import balance, expected, told
from cardsmith.bench.history import BAKERS, Effect, TrialHistory, history, percents
from cardsmith.bench.history_text import (
    LIMIT,
    TRUE_HEAT,
    cell_text,
    condition_heads,
    condition_rows,
    measured_rows,
)
from cardsmith.bench.levers import suggestions
from cardsmith.bench.model import Trial, Trials
from cardsmith.bench.panel import Outcome, outcome
from cardsmith.bench.plot import Dot, Plot, dots, scatter
from cardsmith.bench.signoff import SignOffStanding, standing
from cardsmith.bench.words import LABELS, UNITS, figure, listed, share
from cardsmith.house.style import House
from cardsmith.measure.larder import Larder, words

COLUMNS = 8  # trials side by side that a page holds


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A block of the history: heads, then a label and its cells a row."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialEntry:
    """One trial: its head, and lines of what was done and said."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tasted:
    """One tasting: its head, what it says, penalties, and the tasters' words by code."""

    title: str
    conclusion: tuple[str, ...]
    penalties: tuple[tuple[str, str, str, str], ...]  # trial, attribute, share, drop
    words: tuple[tuple[str, str], ...]  # code, said


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """All a template needs."""

    title: str
    house: str
    summary: tuple[str, ...]
    basis: str
    tables: tuple[Table, ...]
    under: Table
    true_heat: str  # how it is worked out
    counts_from: str  # the least differences that repeats don't show, in a sentence; empty without repeats
    remarks: tuple[str, ...]
    effects: tuple[Effect, ...]
    tree: tuple[tuple[int, str], ...]  # how deep, and the trial
    trials: tuple[TrialEntry, ...]
    tastings: tuple[Tasted, ...]
    levers: tuple[str, ...]
    plots: tuple[Plot, ...]


def report(trials: Trials, title: str, kind: str, house: House, larder: Larder) -> Report:
    """The report; the recipe's ``kind`` (empty where unknown) adds what is usual for it."""
    past = history(trials)
    outcomes = tuple(outcome(tasting) for tasting in trials.tastings)
    return Report(
        title=title,
        house=house.name,
        summary=tuple(_summary(trials, house)),
        basis=past.basis,
        tables=tuple(_tables(past)),
        under=_under(past),
        true_heat=TRUE_HEAT,
        counts_from=f"Makes of one formula differ by ({LIMIT}): {'; '.join(past.counts_from)}."
        if past.counts_from
        else "",
        remarks=past.remarks,
        effects=past.effects,
        tree=tuple(_levels(past)),
        trials=tuple(_entry(trial, kind) for trial in trials.trials),
        tastings=tuple(_tasted(one) for one in outcomes),
        levers=tuple(_levers(trials, kind)),
        plots=tuple(_plots(trials, past, outcomes, larder)),
    )


def settled(trials: Trials) -> Trial | None:
    """The first trial of the formula that was last settled on; None while none was."""
    calls = [one for one in trials.trials if one.call == "settle"]
    return trials.makes(calls[-1])[0] if calls else None


def _summary(trials: Trials, house: House) -> Iterator[str]:
    dropped = sum(one.call == "drop" for one in trials.trials)
    first, last = trials.trials[0].date, trials.trials[-1].date
    yield f"{len(trials.trials)} trials from {first} to {last}, {dropped} of them dropped."
    trial = settled(trials)
    if trial is None:
        yield "No formula is settled yet."
        return
    held: SignOffStanding | None = standing(trials, trial.number, house.sign_off)
    if held is not None and held.tested:
        yield f"The formula of trial {trial.number} is tested: {held.text}."
    elif held is not None:
        lacking = listed(held.missing)
        yield f"The formula of trial {trial.number} is settled, not tested; still missing: {lacking}."


def _tables(past: TrialHistory) -> Iterator[Table]:
    rows = [(row.item, tuple(map(cell_text, row.cells))) for row in past.rows]
    rows += list(measured_rows(past))
    rows.append(("verdict", tuple(trial.call for trial in past.trials)))
    blocks = -(-len(past.trials) // COLUMNS)
    width = -(-len(past.trials) // blocks)  # even blocks: nine trials become five and four
    for start in range(0, len(past.trials), width):
        chosen = slice(start, start + width)
        yield Table(
            heads=tuple(f"Trial {trial.number}" for trial in past.trials[chosen]),
            rows=tuple((label, cells[chosen]) for label, cells in rows),
        )


def _under(past: TrialHistory) -> Table:
    rows = zip(past.trials, condition_rows(past), strict=True)
    return Table(heads=condition_heads(past), rows=tuple((str(trial.number), cells) for trial, cells in rows))


def _levels(past: TrialHistory) -> Iterator[tuple[int, str]]:
    """The family tree as levels, for paper: not every font has box-drawing characters."""
    for line in past.tree:
        text = line.lstrip("│├└─ ")
        yield (len(line) - len(text)) // 3, text


def _entry(trial: Trial, kind: str) -> TrialEntry:
    by = ", ".join(filter(None, (trial.date, trial.cook, trial.kitchen)))
    lines = [f"Expected: {trial.expect}"] if trial.expect else []
    lines += [f"Why: {trial.why}"] if trial.why else []
    found = balance(trial)
    lines += told(found)
    lines += [line for line in (expected(found, kind),) if line]
    lines += [f"{who}: {said}" for who, said in trial.panel]
    lines += [f"Verdict: {trial.call or 'open'}. {trial.verdict}".strip()]
    lines += [f"Next: {trial.next}"] if trial.next else []
    return TrialEntry(title=f"Trial {trial.number}: {by}", lines=tuple(lines))


def _tasted(found: Outcome) -> Tasted:
    tasting = found.tasting
    penalties = tuple(
        (
            f"trial {one.trial}",
            f"{penalty.attribute} {penalty.side}",
            share(penalty.share, 0),
            figure(penalty.drop),
        )
        for one in found.likings
        for penalty in one.penalties
        if penalty.tasters and penalty.drop is not None
    )
    head = ", ".join(filter(None, (tasting.name, tasting.date, f"{tasting.test} test")))
    return Tasted(
        title=f"{head}: {tasting.question}" if tasting.question else head,
        conclusion=found.conclusion,
        penalties=penalties,
        words=tuple(
            (f"{code} (trial {trial})" if trial else code, said) for trial, code, said in found.words
        ),
    )


def _levers(trials: Trials, kind: str) -> Iterator[str]:
    """For the latest trial that names faults, if nothing was settled after it."""
    for trial in reversed(trials.trials):
        if trial.call == "settle":
            return
        if trial.faults:
            for one in suggestions(trials, trial, kind):
                yield f"{one.lever.fault}: {one.text}"
            return


def _plots(
    trials: Trials, past: TrialHistory, outcomes: tuple[Outcome, ...], larder: Larder
) -> Iterator[Plot]:
    for found in outcomes:
        if found.likings:
            yield dots(
                f"Liking, {found.tasting.name}",
                "9-point scale, mean with 95 % interval",
                [
                    Dot(
                        label=f"trial {one.trial}",
                        value=float(one.interval.mean),
                        low=one.interval.low if one.interval.deviation else None,
                        high=one.interval.high if one.interval.deviation else None,
                    )
                    for one in found.likings
                ],
                (1.0, 9.0),
            )
    losses = [
        Dot(label=f"trial {trial.number}", value=float(found.loss * 100))
        for trial, found in zip(past.trials, past.balances, strict=True)
        if found.loss is not None
    ]
    if len(losses) > 1:
        yield dots("Loss in the oven", "% of what went in", losses)
    points = tuple(_points(trials, past.basis, larder))
    if len(points) > 1:
        of = "flour" if past.basis == BAKERS else "total"
        unit = f", {UNITS[trials.plotted]}" if UNITS[trials.plotted] else ""
        name = LABELS[trials.plotted]
        title = f"{name[0].upper()}{name[1:]} against {trials.lever}"
        yield scatter(title, f"{trials.lever}, % of {of}", f"{name}{unit}", points)


def _points(trials: Trials, basis: str, larder: Larder) -> Iterator[tuple[float, float, str]]:
    """The chosen measure against the chosen ingredient, trial by trial."""
    match = larder.find(trials.lever) if trials.lever else None
    if not trials.plotted or not trials.lever:
        return
    scale = 100 if UNITS[trials.plotted] == "%" else 1
    for trial in trials.trials:
        value = trial.value(trials.plotted)
        for line, part in percents(trial, basis):
            same = line.food is not None and match is not None and line.food.key == match.food.key
            if (
                value is not None
                and part is not None
                and (same or set(words(line.item)) == set(words(trials.lever)))
            ):
                yield float(part * 100), float(value * scale), f"T{trial.number}"
