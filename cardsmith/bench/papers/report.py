"""The trial report of one recipe: everything learnt so far, as ready text and plots."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.bench.conditions import log_said
from cardsmith.bench.formula.balance import balance, balance_in_words, expected
from cardsmith.bench.formula.levers import suggestions
from cardsmith.bench.history.trials import BAKERS, TrialHistory, history, percents
from cardsmith.bench.history.view import HistoryView, history_view
from cardsmith.bench.model import Trial, Trials
from cardsmith.bench.next.text import Passage, learnt
from cardsmith.bench.next.trial import aimed_at, next_trial
from cardsmith.bench.papers.plot import Dot, Plot, dots, scatter
from cardsmith.bench.signoff import SignOffStanding, standing
from cardsmith.bench.tasting.panel import TastingOutcome, outcome
from cardsmith.bench.wording import LABELS, UNITS, figure, sample, samples, several, share
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.language.listing import listed
from cardsmith.measure.larder import Larder, words
from cardsmith.measure.units import COLUMN_NAMES
from cardsmith.reference import Tables


@frozen
class TrialEntry:
    """One trial: its head, and passages of what was done and said, each with what it is about."""

    number: int
    title: str
    passages: tuple[tuple[str, str], ...]


@frozen
class Tasted:
    """One tasting: its head, what it says, penalties, and the tasters' words by code."""

    title: str
    conclusion: tuple[str, ...]
    penalties: tuple[tuple[str, str, str, str], ...]  # trial, attribute, share, drop
    words: tuple[tuple[str, str], ...]  # code, said


@frozen
class Report:
    """All a template needs."""

    title: str
    house: str
    summary: tuple[str, ...]
    history: HistoryView
    trials: tuple[TrialEntry, ...]
    learnt: tuple[Passage, ...]  # of the aim; empty where nothing is aimed at
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
        history=history_view(past, title),
        trials=tuple(_entry(trial, kind, larder.tables) for trial in trials.trials),
        learnt=learnt(next_trial(trials, larder)) if aimed_at(trials) else (),
        tastings=tuple(_tasted(outcome) for outcome in outcomes),
        levers=tuple(_levers(trials, kind, larder.tables)),
        plots=tuple(_plots(trials, past, outcomes, larder)),
    )


def settled(trials: Trials) -> Trial | None:
    """The first trial of the formula that was last settled on; None while none was."""
    calls = [trial for trial in trials.trials if trial.call == "settle"]
    return trials.makes(calls[-1])[0] if calls else None


def _summary(trials: Trials, house: House) -> Iterator[str]:
    dropped = sum(trial.call == "drop" for trial in trials.trials)
    first, last = trials.trials[0].date, trials.trials[-1].date
    when = f"on {first}" if first == last else f"from {first} to {last}"
    dropped_too = f", {dropped} of them dropped" if dropped else ""
    yield f"{several(len(trials.trials), 'trial')} {when}{dropped_too}."
    trial = settled(trials)
    if trial is None:
        yield "No formula is settled yet."
        return
    held: SignOffStanding | None = standing(trials, trial.number, house)
    formula = f"The formula of {samples([make.number for make in trials.makes(trial)])} is"
    if held is not None and held.tested:
        yield f"{formula} tested: {held.text}."
    elif held is not None:
        lacking = listed(held.missing)
        yield f"{formula} settled, not tested; still missing: {lacking}."


def _entry(trial: Trial, kind: str, tables: Tables) -> TrialEntry:
    by = ", ".join(filter(None, (trial.date, trial.cook, trial.kitchen)))
    column = COLUMN_NAMES.get(trial.cooked_from, "")
    of = f" of card {trial.card}" if trial.card else ""
    weighed = balance(trial)
    weights = [*balance_in_words(weighed), expected(weighed, kind, tables)]
    passages = (
        ("Expected", trial.expect),
        ("Cooked from", f"the {column} column{of}" if column else ""),
        ("Why", trial.why),
        ("Done", f"{log_said(trial).rstrip('.')}." if trial.process else ""),
        ("Weights", " ".join(line for line in weights if line)),
        *trial.panel,
        ("Unclear", "; ".join(text.text for text in trial.unclear)),
        ("Verdict", f"{trial.call or 'open'}. {trial.verdict}".strip()),
        ("Next", trial.next),
    )
    return TrialEntry(
        number=trial.number,
        title=f"Trial {trial.number}: {by}",
        passages=tuple((about, said) for about, said in passages if said),
    )


def _tasted(outcome: TastingOutcome) -> Tasted:
    tasting = outcome.tasting
    penalties = tuple(
        (
            sample(liking.trial),
            f"{penalty.attribute} {penalty.side}",
            share(penalty.share, 0),
            figure(penalty.drop),
        )
        for liking in outcome.likings
        for penalty in liking.penalties
        if penalty.tasters and penalty.drop is not None
    )
    head = ", ".join(filter(None, (tasting.name, tasting.date, f"{tasting.test} test")))
    return Tasted(
        title=f"{head}: {tasting.question}" if tasting.question else head,
        conclusion=outcome.conclusion,
        penalties=penalties,
        words=tuple(
            (code if trial is None else f"{code} ({sample(trial)})", said)
            for trial, code, said in outcome.words
        ),
    )


def _levers(trials: Trials, kind: str, tables: Tables) -> Iterator[str]:
    """For the latest trial that names faults, if nothing was settled after it."""
    for trial in reversed(trials.trials):
        if trial.call == "settle":
            return
        if trial.faults:
            for suggestion in suggestions(trials, trial, kind, tables):
                yield f"{suggestion.lever.fault}: {suggestion.text}"
            return


def _plots(
    trials: Trials, past: TrialHistory, outcomes: tuple[TastingOutcome, ...], larder: Larder
) -> Iterator[Plot]:
    for tasted in outcomes:
        if tasted.likings:
            yield dots(
                f"Liking, {tasted.tasting.name}",
                "9-point scale, mean with 95 % interval",
                [
                    Dot(
                        label=sample(liking.trial),
                        value=float(liking.interval.mean),
                        low=liking.interval.low if liking.interval.deviation else None,
                        high=liking.interval.high if liking.interval.deviation else None,
                    )
                    for liking in tasted.likings
                ],
                (1.0, 9.0),
            )
    losses = [
        Dot(label=f"trial {trial.number}", value=float(balance.loss * 100))
        for trial, balance in zip(past.trials, past.balances, strict=True)
        if balance.loss is not None
    ]
    if len(losses) > 1:
        yield dots("Loss in the oven", "% of what went in", losses)
    lever = _plotted_against(trials)
    points = tuple(_points(trials, lever, past.basis, larder))
    if len(points) > 1:
        of = "flour" if past.basis == BAKERS else "total"
        unit = f", {UNITS[trials.plotted]}" if UNITS[trials.plotted] else ""
        name = LABELS[trials.plotted]
        title = f"{name[0].upper()}{name[1:]} against {lever}"
        yield scatter(title, f"{lever}, % of {of}", f"{name}{unit}", points)


def _plotted_against(trials: Trials) -> str:
    """The chosen ingredient, else the first that the cook would change."""
    return trials.lever or next(
        (factor.line.item for factor in trials.allowed if factor.line is not None), ""
    )


def _points(trials: Trials, lever: str, basis: str, larder: Larder) -> Iterator[tuple[float, float, str]]:
    """The chosen measure against an ingredient, trial by trial."""
    match = larder.find(lever) if lever else None
    if not trials.plotted or not lever:
        return
    scale = 100 if UNITS[trials.plotted] == "%" else 1
    for trial in trials.trials:
        value = trial.value(trials.plotted)
        for line, part in percents(trial, basis):
            same = line.food is not None and match is not None and line.food.key == match.food.key
            if (
                value is not None
                and part is not None
                and (same or set(words(line.item)) == set(words(lever)))
            ):
                yield float(part * 100), float(value * scale), f"T{trial.number}"
