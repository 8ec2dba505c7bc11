"""The results of a tasting, checked against what was served, and what may be said of them in words.

The words never claim more than the numbers allow: a test that shows nothing shows no sameness either, a
panel of colleagues is no readership, and where more tasters would settle it, it says about how many.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from cardsmith.bench.model import Result, Tasting
from cardsmith.bench.statistics import (
    HALF,
    LEVEL,
    TRIANGLE,
    Interval,
    Penalty,
    paired,
    penalties,
    smallest,
    smallest_two_sided,
    t_interval,
    tail,
    tasters_for_difference,
    tasters_for_share,
    two_sided,
)
from cardsmith.bench.tasting.serving import REFERENCE, Serving, right_code, servings
from cardsmith.bench.wording import figure, sample, samples, several, share, signed
from cardsmith.finding import Finding, error
from cardsmith.frozen import frozen

# From here on a liking test may speak of more people than it asked: Mammasse and Schlich, Food Quality and
# Preference 31 (2014) 124-128.
LIKING_PANEL = 50
# ASTM MNL63 (memory): an attribute is worth acting on when so many say so and like it so much less.
PENALTY_SHARE, PENALTY_DROP = Fraction(1, 5), Fraction(1)
NOTICED_BY = HALF  # share of people who notice the difference, assumed in the advice on how many should taste
NO_PREFERENCE = "none"


@frozen
class Liking:
    """One trial's scores on the nine-point scale."""

    trial: int
    code: str
    interval: Interval
    penalties: tuple[Penalty, ...]


@frozen
class Comparison:
    """Two trials scored by the same people: the mean of the first minus the second."""

    first: int
    second: int
    interval: Interval


@frozen
class TastingOutcome:
    """The outcome of a tasting. ``p`` is exact; None where the test has none."""

    tasting: Tasting
    answers: int
    right: int = 0  # right, or for the first trial
    p: Fraction | None = None
    needed: int | None = None
    likings: tuple[Liking, ...] = ()
    comparisons: tuple[Comparison, ...] = ()
    words: tuple[tuple[int | None, str, str], ...] = ()  # trial (None: of the whole test), code, said
    conclusion: tuple[str, ...] = ()


def faults(tasting: Tasting) -> tuple[Finding, ...]:
    """Results that can't have come from the ballots as served."""
    findings: list[Finding] = []
    served = {serving.taster: serving for serving in servings(tasting)}
    seen: set[tuple[int, str]] = set()
    for result in tasting.results:
        serving = served.get(result.taster)
        if serving is None:
            findings.append(
                _fault(result, f"taster {result.taster} was not served", f"1 to {tasting.tasters}")
            )
            continue
        code = result.picked if tasting.test != "liking" else result.code
        codes = [cup.code for cup in serving.cups if cup.code != REFERENCE]
        allowed = [*codes, NO_PREFERENCE] if tasting.test == "preference" else codes
        if code not in allowed:
            key = "picked" if tasting.test != "liking" else "code"
            what = f"taster {result.taster} was not served “{code}”" if code else f"{key} is missing"
            findings.append(_fault(result, what, f"one of {', '.join(allowed)}"))
        if (result.taster, result.code) in seen:
            findings.append(_fault(result, f"taster {result.taster} stands here twice", "each ballot once"))
        seen.add((result.taster, result.code))
    return tuple(findings)


def _fault(result: Result, what: str, instead: str) -> Finding:
    return error("ballot-not-served", result.where, what, instead)


def outcome(tasting: Tasting) -> TastingOutcome:
    """The tasting evaluated. Ballots that were not served are left out; `faults` reports them."""
    bad = {fault.where for fault in faults(tasting)}
    results = tuple(result for result in tasting.results if result.where not in bad)
    served = {serving.taster: serving for serving in servings(tasting)}
    match tasting.test:
        case "liking":
            return _liking(tasting, results, served)
        case "preference":
            return _preference(tasting, results, served)
        case _:
            return _difference(tasting, results, served)


def _difference(tasting: Tasting, results: tuple[Result, ...], served: dict[int, Serving]) -> TastingOutcome:
    chance = TRIANGLE if tasting.test == "triangle" else HALF
    right = sum(result.picked == right_code(tasting, served[result.taster]) for result in results)
    count = len(results)
    p = tail(count, chance, right) if count else None
    needed = smallest(count, chance)
    return TastingOutcome(
        tasting=tasting,
        answers=count,
        right=right,
        p=p,
        needed=needed,
        words=tuple((None, result.picked, result.words) for result in results if result.words),
        conclusion=tuple(_of_difference(tasting, count, right, p, needed, chance)),
    )


def _of_difference(
    tasting: Tasting, count: int, right: int, p: Fraction | None, needed: int | None, chance: Fraction
) -> Iterator[str]:
    first, second = tasting.trials
    pair = samples((first, second))
    if p is None:
        yield "No ballots yet."
        return
    yield f"{right} of {several(count, 'taster')} were right; guessing gives {figure(count * chance)}."
    if p <= LEVEL:
        yield f"These tasters can tell {pair} apart (exact p = {_p(p)})."
        yield "It does not say which is better liked."
        return
    planned = tasters_for_share(chance, NOTICED_BY)
    if needed is None:
        yield f"{several(count, 'taster')}: too few to show any difference, even had all been right."
    else:
        yield f"Not shown to differ (exact p = {_p(p)}; {needed} right would have shown it)."
    yield "That is no proof that they are the same."
    if planned is not None and planned > count:
        more = planned - count
        yield f"Were the difference noticed by half of people, {more} more tasters would likely show it."
    else:
        yield "Had half of people noticed a difference, a test of this size would likely have shown it."


def _preference(tasting: Tasting, results: tuple[Result, ...], served: dict[int, Serving]) -> TastingOutcome:
    first, second = tasting.trials
    picks = [
        served[result.taster].trial_of(result.picked) for result in results if result.picked != NO_PREFERENCE
    ]
    undecided = len(results) - len(picks)
    count, for_first = len(picks), picks.count(first)
    p = two_sided(count, for_first) if count else None
    needed = smallest_two_sided(count)
    lines: list[str] = []
    if p is None:
        lines.append("No preferences yet.")
    else:
        both = f"{for_first} of {several(count, 'taster')} prefer {sample(first)}"
        lines.append(f"{both}, {count - for_first} {sample(second)}.")
        if undecided:
            lines.append(f"{several(undecided, 'taster')} without a preference left out.")
        if p <= LEVEL:
            winner = first if for_first * 2 > count else second
            lines.append(f"These tasters prefer {sample(winner)} (exact two-sided p = {_p(p)}).")
            lines.append("A bench panel speaks for itself, not for readers.")
        elif needed is None:
            lines.append(f"{several(count, 'taster')}: too few to claim a preference, even had all agreed.")
        else:
            lines.append(f"No preference shown (exact two-sided p = {_p(p)}; {needed} would have shown one).")
        if p > LEVEL:
            planned = tasters_for_share(HALF, NOTICED_BY, sides=2)
            if planned is not None and planned > count:
                more = planned - count
                lines.append(f"If three in four prefer one, {more} more tasters would likely show it.")
    return TastingOutcome(
        tasting=tasting,
        answers=len(results),
        right=for_first,
        p=p,
        needed=needed,
        words=tuple(
            (served[result.taster].trial_of(result.picked), result.picked, result.words)
            for result in results
            if result.words
        ),
        conclusion=tuple(lines),
    )


def _liking(tasting: Tasting, results: tuple[Result, ...], served: dict[int, Serving]) -> TastingOutcome:
    scores: dict[int, dict[int, int]] = {trial: {} for trial in tasting.trials}
    codes: dict[int, str] = {}
    words = []
    for result in results:
        trial = served[result.taster].trial_of(result.code)
        if trial is None:
            continue
        codes[trial] = result.code
        if result.liking is not None:
            scores[trial][result.taster] = result.liking
        if result.words:
            words.append((trial, result.code, result.words))
    likings = tuple(
        Liking(
            trial=trial,
            code=codes[trial],
            interval=t_interval(tuple(given.values())),
            penalties=tuple(_penalties(tasting, results, codes[trial])),
        )
        for trial, given in scores.items()
        if given
    )
    pairs = list(combinations([liking.trial for liking in likings], 2))
    confidence = 1 - LEVEL / max(len(pairs), 1)  # Bonferroni: several comparisons share one error of 5 %
    comparisons = tuple(
        Comparison(first=first, second=second, interval=t_interval(both, confidence))
        for first, second in pairs
        if (both := paired(scores[first], scores[second]))
    )
    return TastingOutcome(
        tasting=tasting,
        answers=len({result.taster for result in results}),
        likings=likings,
        comparisons=comparisons,
        words=tuple(words),
        conclusion=tuple(_of_liking(likings, comparisons)),
    )


def _penalties(tasting: Tasting, results: tuple[Result, ...], code: str) -> Iterator[Penalty]:
    for attribute in tasting.attributes:
        scored = [
            (result.just_right[attribute], result.liking)
            for result in results
            if result.code == code and attribute in result.just_right and result.liking is not None
        ]
        if scored:
            yield from penalties(attribute, scored)


def _of_liking(likings: tuple[Liking, ...], comparisons: tuple[Comparison, ...]) -> Iterator[str]:
    if not likings:
        yield "No scores yet."
    for liking in likings:
        who = several(liking.interval.count, "taster")
        yield f"{_head(liking.trial)}: {interval_text(liking.interval)} of 9, {who}."
    for pair in comparisons:
        yield from _of_comparison(pair)
    for liking in likings:
        for penalty in liking.penalties:
            if penalty.drop is not None and penalty.share >= PENALTY_SHARE and penalty.drop >= PENALTY_DROP:
                who = f"{penalty.tasters} of {several(penalty.of, 'taster')}"
                what = f"{penalty.attribute} {penalty.side} for {who}"
                points = "point" if penalty.drop == 1 else "points"
                less = f"who like it {figure(penalty.drop)} {points} less"
                yield f"{_head(liking.trial)}: {what}, {less}. Worth a trial; so few don't prove it."
    if likings and min(liking.interval.count for liking in likings) < LIKING_PANEL:
        yield f"Fewer than {LIKING_PANEL} tasters screen; they don't speak for readers."


def _of_comparison(pair: Comparison) -> Iterator[str]:
    interval = pair.interval
    interval_words = interval_text(interval, difference=True)
    both = f"{sample(pair.first)} over {sample(pair.second)} {interval_words}"
    if interval.shows_a_difference:
        better = pair.first if interval.mean > 0 else pair.second
        yield f"These tasters like {sample(better)} better: {both}."
        return
    yield f"{several(interval.count, 'taster')}: too few to claim a difference; {both}."
    planned = tasters_for_difference(interval.deviation)
    if planned is not None and planned > interval.count:
        more = planned - interval.count
        yield f"About {more} more tasters would settle a difference of one point, four times in five."
    elif planned is not None:
        yield "A difference of one point would likely have shown; a smaller one may still be there."


def _head(trial: int) -> str:
    name = sample(trial)
    return f"{name[0].upper()}{name[1:]}"


def interval_text(interval: Interval, *, difference: bool = False) -> str:
    """``6.8 (95 % interval 5.6 to 8)``."""
    number = signed if difference else figure
    mean = number(interval.mean)
    if interval.low is None or interval.high is None:
        return f"{mean} (one score, no interval)"
    if not interval.deviation:
        return f"{mean} (all alike, no interval)"
    ends = f"{number(interval.low)} to {number(interval.high)}"
    return f"{mean} ({share(interval.confidence)} interval {ends})"


def _p(value: Fraction) -> str:
    """To three decimals, never rounded down: 0.0504 must not become 0.05."""
    return "under 0.001" if value < Fraction(1, 1000) else figure(Fraction(math.ceil(value * 1000), 1000), 3)
