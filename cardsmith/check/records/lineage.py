"""The printed recipe against the trial it rests on, and the word *tested* against the house's rule."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.bench.conditions import heat_said
from cardsmith.bench.formula.lineage import (
    FoodTotal,
    compared,
    judge_duration,
    judge_temperature,
)
from cardsmith.bench.log import RecordedHeat, durations, heats
from cardsmith.bench.model import Trial, Trials
from cardsmith.bench.signoff import standing
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.finding import Severity, Where
from cardsmith.language.listing import listed
from cardsmith.language.spans import Kind, Measured, Purpose
from cardsmith.measure.units import COLUMN_NAMES
from cardsmith.recipe.model import Text
from cardsmith.regex import regex

DEFINITION = "standardized recipe: Measuring Success with Standardized Recipes (USDA FNS and NFSMI, 2002)"
LINEAGE = "common practice, no source: errors enter between the bench and the page"
_TESTED = regex(r"\b(?:well[- ])?tested\b(?!\s+(?:for|with|by inserting))", re.IGNORECASE)


def _trial(subject: Subject) -> tuple[Trials, Trial] | None:
    """The trial that ``tested:`` names, with all others; None where it names none that is recorded."""
    tested, trials = subject.recipe.tested, subject.trials
    if tested is None or trials is None or not tested.trial.isdigit():
        return None
    trial = trials.get(int(tested.trial))
    return (trials, trial) if trial else None


def _place(subject: Subject) -> Where:
    tested = subject.recipe.tested
    return tested.where if tested else subject.recipe.where


@check(
    "trial-not-recorded",
    Severity.WARNING,
    why="A number without its record can't be looked up when a reader asks.",
    source=LINEAGE,
    remedy="record the trial in trials.yaml, or leave its number out",
)
def trial_not_recorded(subject: Subject) -> Iterator[Query]:
    """The trial that tested: names is in no trials.yaml beside the recipe."""
    tested = subject.recipe.tested
    if tested is None or not tested.trial or _trial(subject):
        return
    if subject.trials is None:
        yield query(tested.where, f"no trials.yaml beside the recipe records trial {tested.trial}")
        return
    known = listed([str(trial.number) for trial in subject.trials.trials], "or") or "none"
    yield query(tested.where, f"trials.yaml records no trial {tested.trial}; its trials are {known}")


@check(
    "trial-not-settled",
    Severity.WARNING,
    why="A formula that was dropped, or kept to work on, is not the one to print.",
    source=LINEAGE,
    remedy="name the trial that was settled on, or give this one its verdict",
)
def trial_not_settled(subject: Subject) -> Iterator[Query]:
    """The recipe rests on a formula that no verdict settles: not its trial's, nor that of another make."""
    trial = _trial(subject)
    if trial and all(make.call != "settle" for make in trial[0].makes(trial[1])):
        call = trial[1].call or "left open"
        yield query(_place(subject), f"the verdict on trial {trial[1].number} is “{call}”, not settle")


@check(
    "batch-not-tested",
    Severity.WARNING,
    why="Pans, times and leaveners don't scale; a batch of another size is another trial.",
    source="Measuring Success with Standardized Recipes (USDA FNS and NFSMI, 2002): adjust, then test again",
    remedy="make the printed batch once, or print the batch that was made",
)
def batch_not_tested(subject: Subject) -> Iterator[Query]:
    """The printed list is a multiple of the trial's."""
    trial = _trial(subject)
    if trial and (factor := compared(subject.recipe.ingredients, trial[1]).factor) != 1:
        times = number(factor, 2)
        yield query(_place(subject), f"the printed batch is {times} times that of trial {trial[1].number}")


@check(
    "amount-not-tested",
    Severity.WARNING,
    why="An amount edited after the last trial is a dish that nobody has tasted.",
    source=LINEAGE,
    remedy="print the amount that was tested, or record the trial that tried this one",
)
def amount_not_tested(subject: Subject) -> Iterator[Query]:
    """An amount that differs from that of the trial, at the same batch."""
    trial = _trial(subject)
    if trial is None:
        return
    held = compared(subject.recipe.ingredients, trial[1])
    for printed, tested in held.unlike:
        of = f" ({number(held.factor, 2)} times that is due)" if held.factor != 1 else ""
        what = (
            f"{printed.line.item}: {printed.text} is printed, trial {trial[1].number} had {tested.text}{of}"
        )
        yield query(printed.line, what)


@check(
    "ingredient-not-tested",
    Severity.WARNING,
    why="Nobody has tasted the dish with what went in, or came out, after the last trial.",
    source=LINEAGE,
    remedy="record the trial that has it, or make list and trial agree",
)
def ingredient_not_tested(subject: Subject) -> Iterator[Query]:
    """An ingredient that the trial did not have, or that the list has lost."""
    trial = _trial(subject)
    if trial is None:
        return
    held = compared(subject.recipe.ingredients, trial[1])
    for amount in held.untested:
        yield query(amount.line, f"trial {trial[1].number} had no {amount.line.item}")
    for amount in held.missing:
        what = f"trial {trial[1].number} had {_said(amount)}; the list has none"
        yield query(_place(subject), what)


def _said(amount: FoodTotal) -> str:
    return f"{amount.text} {amount.line.item}".strip()


def _makes(subject: Subject) -> tuple[Trial, ...]:
    trial = _trial(subject)
    return trial[0].makes(trial[1]) if trial else ()


@check(
    "time-not-tested",
    Severity.WARNING,
    why="A time that no make took is a guess, however round.",
    source=LINEAGE,
    remedy="print the times the makes took, as a range",
)
def time_not_tested(subject: Subject) -> Iterator[Query]:
    """A printed time that no make of the tested formula took."""
    makes = _makes(subject)
    witnesses = durations(makes)
    for place, span in _printed(subject, Kind.DURATION) if makes else ():
        verdict = judge_duration(subject.recipe.steps[place], span, witnesses)
        if not verdict.borne_out and verdict.seen:
            took = listed([_lasted(value) for value in verdict.seen[:4]], "or")
            yield query(
                subject.steps[place].spot(span.text),
                f"“{span.text}” is printed; in {_numbers(makes)} it took {took}",
            )


@check(
    "temperature-not-tested",
    Severity.WARNING,
    why="An oven seldom is as hot as its dial says; the reader's dish meets the heat that is printed.",
    source=LINEAGE,
    remedy="print the heat that the food met, not the dial; or record the make at this one",
)
def temperature_not_tested(subject: Subject) -> Iterator[Query]:
    """A printed oven temperature that the food met in no make of the tested formula."""
    makes = _makes(subject)
    read = heats(makes)
    for place, span in _printed(subject, Kind.TEMPERATURE) if read else ():
        if span.purpose is Purpose.OVEN:
            verdict = judge_temperature(span, read)
            if not verdict.borne_out:
                yield query(
                    subject.steps[place].spot(span.text),
                    f"“{span.text}” is printed; the food met {listed(_met(verdict.seen)[:4], 'or')}",
                )


def _met(seen: tuple[RecordedHeat, ...]) -> list[str]:
    """What the food met, each with the trials in which it did."""
    trials: dict[str, list[int]] = {}
    for heat in seen:
        numbers = trials.setdefault(heat_said(heat.dial, heat.offset) or f"{number(heat.met)} °C", [])
        numbers += [heat.trial] if heat.trial not in numbers else []
    return [f"{said} in {_trials(tuple(numbers))}" for said, numbers in trials.items()]


@check(
    "log-incomplete",
    Severity.NOTE,
    why="Nobody can hold the card against a time that the log leaves out.",
    source=LINEAGE,
    remedy="write it in process: at the next make, each entry with its clock time and its verb first",
)
def log_incomplete(subject: Subject) -> Iterator[Query]:
    """Printed times that no make of the tested formula recorded."""
    makes = _makes(subject)
    witnesses = durations(makes)
    steps = subject.recipe.steps
    spans = [
        span.text.strip()
        for place, span in _printed(subject, Kind.DURATION)
        if makes and not judge_duration(steps[place], span, witnesses).seen
    ]
    if spans:
        yield query(_place(subject), f"the log of {_numbers(makes)} says nothing of: {', '.join(spans)}")


def _printed(subject: Subject, kind: Kind) -> Iterator[tuple[int, Measured]]:
    """The measures of one kind that the steps print, each with its step's place."""
    return ((place, span) for place, step in enumerate(subject.steps) for _, span in step.measures(kind))


def _numbers(makes: tuple[Trial, ...]) -> str:
    return _trials(tuple(trial.number for trial in makes))


def _trials(numbers: tuple[int, ...]) -> str:
    return f"trial{'s' if len(numbers) > 1 else ''} {listed(list(map(str, numbers)), 'and')}"


def _lasted(seconds: Fraction) -> str:
    minutes = seconds / 60
    return f"{number(minutes)} min" if minutes < 120 else f"{number(minutes / 60, 2)} h"


@check(
    "column-not-cooked",
    Severity.WARNING,
    why="A column counts as tested only when somebody cooked from it.",
    source="common practice, no source",
    remedy="record the make from this column, or take it out of cooked_from",
)
def column_not_cooked(subject: Subject) -> Iterator[Query]:
    """A column named in cooked_from that no recorded make was cooked from."""
    makes, tested = _makes(subject), subject.recipe.tested
    cooked = {trial.cooked_from for trial in makes}
    for column in tested.cooked_from if tested and makes else ():
        if column not in cooked:
            name = COLUMN_NAMES.get(column, column)
            yield query(_place(subject), f"no make of {_numbers(makes)} was cooked from the {name} column")


@check(
    "tested-unearned",
    Severity.WARNING,
    why="The word promises a reader that it comes out the same every time.",
    source=DEFINITION,
    remedy="leave the word out until the house's rule is met (sign_off in house.yaml)",
)
def tested_unearned(subject: Subject) -> Iterator[Query]:
    """The card calls the recipe tested before the house's rule is met."""
    recipe, trial = subject.recipe, _trial(subject)
    held = standing(trial[0], trial[1].number, subject.house) if trial else None
    if held is not None and held.tested:
        return
    lacking = listed(held.missing, "and") if held else "a recorded trial"
    texts = [Text(text=recipe.headnote, where=recipe.where), Text(text=recipe.storage, where=recipe.where)]
    for text in (*texts, *recipe.notes):
        if _TESTED.search(text.text):
            yield query(text.where, f"the card says “tested”; still missing: {lacking}")


@check(
    "sign-off-open",
    Severity.NOTE,
    why="A recipe is signed off when it has come out the same often enough, elsewhere too.",
    source=DEFINITION,
    remedy="make it again as the rule asks; the card then says “tested”",
)
def sign_off_open(subject: Subject) -> Iterator[Query]:
    """What the house's rule still asks of the formula before its card may say tested."""
    trial = _trial(subject)
    held = standing(trial[0], trial[1].number, subject.house) if trial else None
    if held is not None and not held.tested:
        yield query(_place(subject), f"not yet tested by the house's rule: {listed(held.missing, 'and')}")
