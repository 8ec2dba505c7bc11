"""The next trial: what the trials so far tell of the aim, which trials would tell most, what one should give.

What was expected of a trial is worked out from the trials before it alone, so that expected against got is
an honest test of the line.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import replace
from fractions import Fraction

from cardsmith.bench.formula.balance import balance
from cardsmith.bench.formula.changes import read_change, read_method
from cardsmith.bench.formula.start import start_of
from cardsmith.bench.log import MINUTE, measured_in
from cardsmith.bench.model import Factor, FactorKind, Trial, TrialChange, Trials
from cardsmith.bench.next.design import Plan, lacking, plan, point_at
from cardsmith.bench.next.factors import HEAT, TIME, changed_foods, is_only_heat, setting
from cardsmith.bench.next.fit import Expectation, Fit, expected, fit
from cardsmith.bench.repeats import Value
from cardsmith.bench.wording import LABELS
from cardsmith.finding import CardsmithError, Where
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import Dimension
from cardsmith.recipe.file.tree import Scalar
from cardsmith.recipe.model import Text

MOISTURE = "moisture"
MOST_CHECKED = 20  # trials whose expectation is told, the latest


@frozen
class Proposal:
    """A change that is thought of, and what it should give; None where no trial tells."""

    changes: tuple[TrialChange, ...]
    expectation: Expectation | None


@frozen
class Outturn:
    """What the trials before one gave reason to expect of it, and what it gave."""

    trial: Trial
    expectation: Expectation
    got: Fraction

    @property
    def is_inside(self) -> bool:
        """Whether it came out within the interval that was expected."""
        return abs(float(self.got) - self.expectation.value) <= self.expectation.half


@frozen
class NextTrial:
    """All that the trials tell of the next one."""

    measure: str  # its name in bench_measures.csv
    by_weighing: bool  # a moisture that no trial dried for, but weighings tell
    target: Fraction | None
    start: Trial
    fit: Fit
    lacking: int  # trials that it takes for all effects to be told; 0 where there are enough
    plan: Plan | None
    unknown: tuple[str, ...]  # factors of which the trial that the next one starts from tells no value
    guesses: tuple[Expectation | None, ...]  # of the trials of the plan
    asked: Proposal | None
    checked: tuple[Outturn, ...]


def aimed_at(trials: Trials) -> str:
    """The measure that the trials are to move; empty where they don't say."""
    return trials.plotted or (MOISTURE if trials.moisture_aim is not None else "")


def next_trial(
    trials: Trials,
    larder: Larder,
    *,
    parent: int | None = None,
    changes: Sequence[str] = (),
    method: Sequence[str] = (),
) -> NextTrial:
    """The next trial, from the latest kept or from ``parent``, perhaps with a change that is thought of.

    Raises:
        CardsmithError: no measure is aimed at, no such trial, or a change that fits nothing.
    """
    measure = aimed_at(trials)
    if not measure:
        raise CardsmithError(
            f"trials.yaml doesn't say what is aimed at; add aim: {{measure: …}}, one of {', '.join(LABELS)}"
        )
    start = start_of(trials, parent)
    assert start is not None  # there is a trial
    value, by_weighing = _value(trials, measure)
    factors = factors_of(trials, start)
    fitted = fit(trials, factors, value, start)
    here = setting(trials, start, factors, start)
    now = tuple(map(float, here.known)) if here.known is not None else None
    planned = plan(fitted, here.alike, now) if now is not None else None
    points = [point_at(fitted, now, point) for point in planned.points] if planned and now else []
    return NextTrial(
        measure=measure,
        by_weighing=by_weighing,
        target=trials.target if trials.target is not None or measure != MOISTURE else trials.moisture_aim,
        start=start,
        fit=fitted,
        lacking=lacking(fitted, here.alike),
        plan=planned,
        unknown=tuple(
            factor.name for factor, value in zip(factors, here.values, strict=True) if value is None
        ),
        guesses=tuple(expected(fitted, here.alike, point) for point in points),
        asked=_asked(trials, fitted, start, changes, method, larder) if changes or method else None,
        checked=tuple(_checked(trials, value, start)),
    )


def _value(trials: Trials, measure: str) -> tuple[Value, bool]:
    """The measure of a trial; moisture by the weighings where no trial was dried for it."""
    measured = any(trial.value(measure) is not None for trial in trials.trials)
    if measured or measure != MOISTURE:
        return lambda trial: trial.value(measure), False
    return _weighed_moisture, True


def _weighed_moisture(trial: Trial) -> Fraction | None:
    ends = balance(trial).moisture
    return ends[0] if ends is not None and ends[0] == ends[1] else None


def factors_of(trials: Trials, start: Trial) -> tuple[Factor, ...]:
    """What the cook allows, else each food that a trial gave another amount; heat and time if they vary."""
    named = trials.allowed or changed_foods(trials)
    kinds = {factor.kind for factor in named}
    both = (*named, *(factor for factor in (HEAT, TIME) if factor.kind not in kinds))
    alike: dict[Hashable, list[tuple[Fraction | None, ...]]] = {}
    for trial in trials.trials:
        at = setting(trials, trial, both, start)
        alike.setdefault(at.alike, []).append(at.values)
    varied = {
        both[at].kind
        for rows in alike.values()
        for at in range(len(named), len(both))
        if len({row[at] for row in rows if row[at] is not None}) > 1
    }
    return tuple(factor for at, factor in enumerate(both) if at < len(named) or factor.kind in varied)


def _asked(
    trials: Trials, fit: Fit, start: Trial, changes: Sequence[str], method: Sequence[str], larder: Larder
) -> Proposal:
    """What a change of the formula, or of heat and time, should give."""
    parts, made = start.parts, []
    for text in changes:
        scalar = Scalar(text=text, where=Where(file="--change", line=1, column=1))
        parts, change, faults = read_change(scalar, parts, start.number, larder)
        if change is None:
            raise CardsmithError(f"--change {text!r}: {faults[0].what}; {faults[0].instead}")
        made.append(change)
    ways = [read_method(Text(text=text, where=Where(file="--method"))) for text in method]
    every_change: tuple[TrialChange, ...] = (*made, *ways)
    kinds = {factor.kind for factor in fit.factors}
    heat, lasts = _heating(start, method)
    silent = any(not is_only_heat(text) for text in method)
    unheard = (heat is not None and FactorKind.HEAT not in kinds) or (
        lasts is not None and FactorKind.TIME not in kinds
    )
    at = setting(trials, replace(start, parts=parts), fit.factors, start)
    values = [
        heat if factor.kind is FactorKind.HEAT and heat is not None else
        lasts if factor.kind is FactorKind.TIME and lasts is not None else value
        for factor, value in zip(fit.factors, at.values, strict=True)
    ]  # fmt: skip
    known = [float(value) for value in values if value is not None]
    if silent or unheard or len(known) < len(values):
        return Proposal(changes=every_change, expectation=None)
    return Proposal(changes=every_change, expectation=expected(fit, at.alike, known))


def _heating(start: Trial, method: Sequence[str]) -> tuple[Fraction | None, Fraction | None]:
    """The true heat and the minutes in it that a change of method says, in the oven of ``start``."""
    heat = lasts = None
    for text in method:
        for span in measured_in(text, Dimension.TEMPERATURE):
            heat = span.quantity.middle + (start.oven.offset or 0)
        for span in measured_in(text, Dimension.DURATION):
            lasts = span.quantity.middle / MINUTE
    return heat, lasts


def _checked(trials: Trials, value: Value, start: Trial) -> list[Outturn]:
    options = []
    for place, trial in list(enumerate(trials.trials))[-MOST_CHECKED:]:
        got = value(trial)
        before = replace(trials, trials=trials.trials[:place])
        if got is None or not place:
            continue
        line = fit(before, factors_of(before, start), value, start)
        at = setting(trials, trial, line.factors, start)
        guess = expected(line, at.alike, tuple(map(float, at.known))) if at.known is not None else None
        if guess is not None:
            options.append(Outturn(trial=trial, expectation=guess, got=got))
    return options
