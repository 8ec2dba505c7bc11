"""The next trial as text for a terminal and as plain values for a program; no more is said than is known."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any

from cardsmith.bench.conditions import degrees
from cardsmith.bench.formula.changes import change_in_words
from cardsmith.bench.model import Factor, FactorKind, Trial
from cardsmith.bench.next.design import Plan
from cardsmith.bench.next.factors import mass_of
from cardsmith.bench.next.fit import Expectation, Slope
from cardsmith.bench.next.trial import NextTrial
from cardsmith.bench.wording import LABELS, UNITS, figure, measured, samples, several, signed
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed

_STEPS = (1, 2, 5)
WHY = "One of the trials that together would tell most."


@frozen
class Point:
    """One line of what is told, and the command that makes its sheet."""

    text: str
    command: str = ""


@frozen
class Passage:
    """What is told under one head; ``heading`` is empty where the first line says it all."""

    heading: str
    points: tuple[Point, ...]


def text_of(advice: NextTrial, name: str) -> str:
    """All of it; ``name`` is the recipe's, for the commands that it names."""
    asked = (_asked(advice),) if advice.asked is not None else ()
    aim, known, *got = learnt(advice)
    passages = (aim, _passage("", _start(advice)), known, *asked, _planned(advice, name), *got)
    return "\n\n".join("\n".join(_lines(passage)) for passage in passages)


def _passage(heading: str, *lines: str) -> Passage:
    return Passage(heading=heading, points=tuple(Point(text=line) for line in lines))


def _lines(passage: Passage) -> Iterator[str]:
    indent = "  " if passage.heading else ""
    yield from [passage.heading] if passage.heading else []
    for point in passage.points:
        yield indent + point.text
        yield from [f"{indent}    {point.command}"] if point.command else []


def learnt(advice: NextTrial) -> tuple[Passage, ...]:
    """The aim, what moves it and how surely, and what was expected of each trial beside what it gave."""
    heading = "Expected by the trials before it, 19 times in 20, and got"
    got = (_passage(heading, *_looked_back(advice)),) if advice.checked else ()
    return (_aim(advice), _known(advice), *got)


def _aim(advice: NextTrial) -> Passage:
    label = LABELS[advice.measure]
    target = (
        f" {measured(advice.measure, advice.target)}" if advice.target is not None else ", without a target"
    )
    weighed = " By the weighings: no trial was dried for it." if advice.by_weighing else ""
    return _passage("", f"Aim: {label}{target}.{weighed}")


def _start(advice: NextTrial) -> str:
    got = next(
        (observation.measure for observation in advice.fit.observations if observation.trial is advice.start),
        None,
    )
    had = f", which had {measured(advice.measure, got)}" if got is not None else ""
    return f"The next trial starts from trial {advice.start.number}{had}."


def _known(advice: NextTrial) -> Passage:
    if not advice.fit.factors:
        nothing = (
            "No trial gave any food another amount, and none was hotter or longer: nothing is known yet."
        )
        return _passage("", nothing)
    return _passage(f"What moves {LABELS[advice.measure]}, all else alike", *_effects(advice))


def _effects(advice: NextTrial) -> Iterator[str]:
    fit = advice.fit
    names = [factor.name for factor in fit.factors]
    alike = f"{several(fit.compared, 'trial')} can be compared"
    if fit.is_enough:
        for slope in fit.slopes:
            yield _effect(advice, slope)
        yield (
            f"{alike}; one scatters by {_size(advice.measure, fit.deviation or 0)} about the lines "
            f"({several(fit.degrees, 'degree')} of freedom)."
        )
        yield "All intervals hold at once 19 times in 20, if the lines are straight as far as was tried."
    else:
        yield (
            f"Too few to say anything: {alike} for {listed(names)}. "
            f"It takes at least {several(max(advice.lacking, 1), 'more trial')} with all else alike."
        )
    alone = [seen.trial.number for seen in fit.observations if len(fit.blocks[seen.block]) == 1]
    if alone:
        yield f"Unlike all others in more than these, so no help: {samples(alone)}."
    lacking: dict[tuple[str, ...], list[int]] = {}
    for left in fit.left_out:
        lacking.setdefault(left.lacks or (LABELS[advice.measure],), []).append(left.trial.number)
    for lacks, numbers in lacking.items():
        yield f"Left out, without {listed(lacks, 'or')}: {samples(numbers)}."


def step_for(slope: Slope) -> Fraction:
    """The round amount that an effect is told for: about a quarter of what was tried."""
    low, high = slope.tried or (0.0, 0.0)
    quarter = (high - low) / 4 or 1.0
    power = Fraction(10) ** math.floor(math.log10(quarter))
    return power * max(step for step in _STEPS if float(power * step) <= quarter * 1.0001)


def _more(factor: Factor, step: Fraction) -> str:
    """``10 g more water``, ``10 °C more heat``."""
    what = {FactorKind.HEAT: "hotter", FactorKind.TIME: "longer in the heat"}.get(factor.kind)
    size = f"{figure(step, 3)} {factor.unit}"
    return f"{size} {what}" if what else f"{size} more {factor.name}"


def _effect(advice: NextTrial, slope: Slope) -> str:
    """What one factor does, with its interval, and no more than that shows."""
    name = slope.factor.name
    if slope.value is None and slope.tied:
        return f"{name}: changed only together with {listed(slope.tied)}, so they can't be told apart"
    if slope.value is None or slope.half is None or slope.tried is None:
        return f"{name}: never changed with all else alike, so nothing is known of it"
    step = step_for(slope)
    by, half = slope.value * float(step), slope.half * float(step)
    places = _places(advice.measure, half)
    low, high = (_number(advice.measure, end, places) for end in (by - half, by + half))
    tried = f"tried from {figure(slope.tried[0])} to {figure(slope.tried[1])} {slope.factor.unit}"
    size = _signed(advice.measure, by, places)
    said = f"{_more(slope.factor, step)}: {size} (interval {low} to {high}; {tried})"
    if abs(by) <= half:
        return f"{said}. Not shown to move it; that is no proof that it doesn't"
    return said


def _places(measure: str, half: float) -> int:
    """Decimals that show two figures of an interval's half."""
    size = abs(half) * _scale(measure)
    return min(max(1 - math.floor(math.log10(size)), 0), 4) if size else 1


def _scale(measure: str) -> int:
    return 100 if UNITS[measure] == "%" else 1


def _number(measure: str, value: float, places: int) -> str:
    return signed(value * _scale(measure), places)


def _signed(measure: str, value: float, places: int) -> str:
    """A difference of the measure with its unit: ``+0.24 points``."""
    unit = "points" if UNITS[measure] == "%" else UNITS[measure]
    return f"{_number(measure, value, places)} {unit}".strip()


def _size(measure: str, value: float) -> str:
    return _signed(measure, value, _places(measure, value)).lstrip("+±")


def _span(measure: str, guess: Expectation) -> str:
    """``3.6 % (3.3 to 3.9)``: the middle, and what one trial may give."""
    low, high = (guess.value - guess.half, guess.value + guess.half)
    places, scale = min(_places(measure, guess.half), 2), _scale(measure)
    ends = f"{figure(low * scale, places)} to {figure(high * scale, places)}"
    return f"{figure(guess.value * scale, places)} {UNITS[measure]}".strip() + f" ({ends})"


def _asked(advice: NextTrial) -> Passage:
    asked = advice.asked
    assert asked is not None
    what, guess = listed([change_in_words(change) for change in asked.changes]), asked.expectation
    if guess is None:
        return _passage("", f"Expected of {what}: no trial tells. Write down what you expect, and see.")
    said = f"Expected of {what}: {LABELS[advice.measure]} {_span(advice.measure, guess)}, 19 times in 20."
    if guess.beyond:
        beyond = listed([factor.name for factor in guess.beyond])
        said += f" That is beyond what was tried of {beyond}: the line may not go on so far."
    return _passage("", said)


def _planned(advice: NextTrial, name: str) -> Passage:
    plan, start = advice.plan, advice.start.number
    if plan is None:
        lacking = (
            f"Which trials would tell most: trial {start} must tell {listed(advice.unknown)} for that."
            if any(factor.is_allowed for factor in advice.fit.factors)
            else "Which trials would tell most: add to aim: what you would change and how far, such as "
            "levers: [100 to 140 g water, {heat: 150 to 170 °C}]"
        )
        return _passage("", lacking)
    heading = f"The {len(plan.points)} trials that would tell most, in any order, each from trial {start}"
    return Passage(heading=heading, points=tuple(_plan(advice, plan, name)))


def _plan(advice: NextTrial, plan: Plan, name: str) -> Iterator[Point]:
    for point, guess in zip(plan.points, advice.guesses, strict=True):
        words, options = _point(advice.start, plan, point)
        span = _span(advice.measure, guess) if guess else ""
        beyond = ", beyond what was tried" if guess and guess.beyond else ""
        expect = f" --expect '{LABELS[advice.measure]} {span}'" if guess else ""
        sheet = f"cardsmith bench sheet {name} --from {advice.start.number} {options}"
        yield Point(
            text=listed(words) + (f": expected {span}{beyond}" if guess else ""),
            command=f"{sheet} --why '{WHY}'{expect}",
        )
    if plan.halves is not None:
        yield Point(text=f"After them, if trials scatter as now: {', '.join(_after(advice, plan))}.")
    elif not plan.more:
        yield Point(text="After them effects can be told.")
    else:
        yield Point(text=f"After them it takes {several(plan.more, 'more trial')}; fewer levers need fewer.")


def _after(advice: NextTrial, plan: Plan) -> Iterator[str]:
    slopes = {slope.factor.name: slope for slope in advice.fit.slopes}
    for factor, half in zip(plan.factors, plan.halves or (), strict=True):
        slope = slopes[factor.name]
        step = step_for(slope)
        now = f" (now ±{_size(advice.measure, slope.half * float(step))})" if slope.half is not None else ""
        yield f"{_more(factor, step)} ±{_size(advice.measure, half * float(step))}{now}"


def _point(start: Trial, plan: Plan, point: Sequence[Fraction]) -> tuple[list[str], str]:
    """One trial of the plan: in words, and as options of the sheet."""
    changes: list[str] = []
    heat: Fraction | None = None
    lasts: Fraction | None = None
    for factor, value in zip(plan.factors, point, strict=True):
        if factor.kind is FactorKind.HEAT and value != start.oven.heat:
            heat = value
        elif factor.kind is FactorKind.TIME:
            lasts = value
        elif factor.line is not None:
            changes += _amounts(start, factor, value)
    words = list(changes)
    ways = []
    if heat is not None:
        dial = heat - (start.oven.offset or 0)
        words.append(f"true heat {degrees(heat)} (dial {degrees(dial)})")
        ways.append(f"at {degrees(dial)}")
    if lasts is not None:
        words.append(f"{figure(lasts)} min in the heat")
        ways.append(f"for {figure(lasts)} minutes")
    options = [f'--change "{change}"' for change in changes]
    options += [f'--method "Bake {" ".join(ways)}."'] if ways else []
    return words, " ".join(options)


def _amounts(start: Trial, factor: Factor, value: Fraction) -> Iterator[str]:
    """The changes that bring a food to so many grams; of a swap, the other makes room."""
    assert factor.line is not None
    had = mass_of(start.ingredients, factor.line) or Fraction(0)
    yield from _amount(factor.line.item, had, value)
    if factor.instead is not None:
        room = mass_of(start.ingredients, factor.instead) or Fraction(0)
        yield from _amount(factor.instead.item, room, max(room + had - value, Fraction(0)))


def _amount(item: str, had: Fraction, value: Fraction) -> Iterator[str]:
    if value == had:
        return
    if not value:
        yield f"without {item}"
    elif had:
        yield f"{figure(value)} g {item}"
    else:
        yield f"add {figure(value)} g {item}"


def _looked_back(advice: NextTrial) -> Iterator[str]:
    for outturn in advice.checked:
        verdict = (
            "" if outturn.is_inside else ": outside, so something else changed or the line does not hold"
        )
        yield (
            f"trial {outturn.trial.number}: expected {_span(advice.measure, outturn.expectation)}, got "
            f"{measured(advice.measure, outturn.got)}{verdict}"
        )
    outside = sum(not outturn.is_inside for outturn in advice.checked)
    yield f"{outside} of {len(advice.checked)} outside; by chance it is 1 in 20."


def record_of(advice: NextTrial) -> dict[str, Any]:
    """The next trial as values that JSON can hold; the measure in its own unit, shares of one."""
    plan, asked = advice.plan, advice.asked
    return {
        "measure": advice.measure,
        "target": float(advice.target) if advice.target is not None else None,
        "from": advice.start.number,
        "compared": advice.fit.compared,
        "degrees_of_freedom": advice.fit.degrees,
        "deviation": advice.fit.deviation,
        "effects": [
            {
                "factor": slope.factor.name,
                "unit": slope.factor.unit,
                "each": slope.value if advice.fit.is_enough else None,
                "half_interval": slope.half,
                "tried": slope.tried,
                "not_told_apart_from": slope.tied,
            }
            for slope in advice.fit.slopes
        ],
        "plan": [
            {factor.name: float(value) for factor, value in zip(plan.factors, point, strict=True)}
            for point in plan.points
        ]
        if plan is not None
        else [],
        "asked": _guess(asked.expectation) if asked is not None else None,
        "checked": [
            {"trial": turn.trial.number, "got": float(turn.got)} | (_guess(turn.expectation) or {})
            for turn in advice.checked
        ],
    }  # fmt: skip


def _guess(guess: Expectation | None) -> dict[str, Any] | None:
    if guess is None:
        return None
    return {"expected": guess.value, "half_interval": guess.half} | {
        "beyond": [factor.name for factor in guess.beyond]
    }
