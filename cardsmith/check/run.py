"""All checks in their order, and what an author's ``accepted:`` makes of their findings."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Set
from types import ModuleType

from cardsmith.bench.model import Trials
from cardsmith.check import shared_titles
from cardsmith.check.amounts import (
    filling,
    foods,
    grains,
    in_steps,
    leftovers,
    shared_out,
    units,
    usage,
    yields,
)
from cardsmith.check.formula import brines, doughs, freezing, leavening, oven_heats, ratios, slips
from cardsmith.check.heat import (
    baths,
    custards,
    doneness,
    hobs,
    ovens,
    stages,
    temperatures,
    tempering,
    unmeasured,
)
from cardsmith.check.method import (
    cues,
    headnote_only,
    left_out,
    living,
    making,
    pace,
    readiness,
    timing,
    uncooked,
    unused_mixtures,
)
from cardsmith.check.records import completeness, lineage, portion_masses, portions, published
from cardsmith.check.registry import Check
from cardsmith.check.safety import (
    chilling,
    contact,
    hazards,
    keeping,
    metals,
    pickles,
    preserving,
    processes,
    unsafe,
)
from cardsmith.check.subject import Subject
from cardsmith.check.words import ambiguous, claims, references, style, titles
from cardsmith.finding import Finding, Severity, in_order
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.recipe.model import Accepted, Recipe

FAMILIES: tuple[ModuleType, ...] = (
    foods,
    units,
    temperatures,
    ratios,
    doughs,
    leavening,
    freezing,
    brines,
    slips,
    grains,
    usage,
    shared_out,
    yields,
    portions,
    portion_masses,
    filling,
    timing,
    cues,
    pace,
    completeness,
    hazards,
    unmeasured,
    doneness,
    baths,
    custards,
    keeping,
    pickles,
    preserving,
    processes,
    unsafe,
    contact,
    metals,
    chilling,
    claims,
    lineage,
    published,
    ovens,
    oven_heats,
    hobs,
    stages,
    tempering,
    making,
    readiness,
    unused_mixtures,
    living,
    left_out,
    uncooked,
    headnote_only,
    leftovers,
    in_steps,
    references,
    ambiguous,
    titles,
    style,
)


def checks_of(family: ModuleType) -> tuple[Check, ...]:
    """The checks of a module, in the order they are written."""
    checks: list[Check] = []
    for value in vars(family).values():
        several = value if isinstance(value, tuple) else (value,)
        checks.extend(member for member in several if isinstance(member, Check))
    return tuple(checks)


CHECKS: tuple[Check, ...] = tuple(check for family in FAMILIES for check in checks_of(family))
BY_NAME = {check.name: check for check in CHECKS}


@frozen
class Verdict:
    """What is left to answer, and what the author has answered: each silenced finding with its reason."""

    findings: tuple[Finding, ...]
    silenced: tuple[tuple[Finding, Accepted], ...]


def judge(
    recipe: Recipe,
    larder: Larder,
    house: House,
    read: Iterable[Finding] = (),
    trials: Trials | None = None,
    printed: tuple[str, ...] = (),
    editions: tuple[tuple[str, tuple[str, ...]], ...] = (),
) -> Verdict:
    """Run every check; ``read`` holds what reading the file had to say, which may be accepted too.

    ``printed`` holds what the card prints of numbers and allergens, ``editions`` what further ones print.
    """
    subject = Subject(
        recipe=recipe, larder=larder, house=house, trials=trials, printed=printed, editions=editions
    )
    findings = in_order([*read, *(finding for check in CHECKS for finding in check(subject))])
    answers = {answer.check: answer for answer in recipe.accepted}
    left: list[Finding] = []
    silenced: list[tuple[Finding, Accepted]] = []
    for finding in findings:
        answer = answers.get(finding.name)
        if answer is not None and _may_silence(finding):
            silenced.append((finding, answer))
        else:
            left.append(finding)
    left.extend(
        _about_answers(
            recipe.accepted, {finding.name for finding in findings}, {finding.name for finding, _ in silenced}
        )
    )
    return Verdict(findings=in_order(left), silenced=tuple(silenced))


def _may_silence(finding: Finding) -> bool:
    known = BY_NAME.get(finding.name)
    if known is None:  # said while reading: an error there means that something could not be read
        return finding.severity is not Severity.ERROR
    return known.acceptable or finding.severity is not Severity.ERROR


def _about_answers(answers: Iterable[Accepted], fired: Set[str], silenced: Set[str]) -> Iterable[Finding]:
    """What is wrong with the answers themselves: to what fired, and to what of it they silenced."""
    for answer in answers:
        known = BY_NAME.get(answer.check)
        if not answer.reason.strip():
            remedy = "say in a sentence why the card is right as it is"
            yield _finding(answer, "accepted-without-reason", Severity.ERROR, "gives no reason", remedy)
        if answer.check == shared_titles.NAME:  # asked of many recipes together
            continue
        if known is None and answer.check not in fired:
            near = difflib.get_close_matches(answer.check, BY_NAME, 1, 0.5)
            remedy = f"did you mean {near[0]!r}?" if near else "`cardsmith explain` lists the checks"
            yield _finding(answer, "accepted-unknown", Severity.ERROR, "names no check", remedy)
        elif answer.check not in fired:
            remedy = "take it out of accepted"
            yield _finding(answer, "accepted-without-cause", Severity.NOTE, "finds nothing any more", remedy)
        elif answer.check not in silenced and known is not None and not known.acceptable:
            yield _finding(answer, "accepted-in-vain", Severity.ERROR, "cannot be accepted", known.remedy)


def _finding(answer: Accepted, name: str, severity: Severity, what: str, instead: str) -> Finding:
    return Finding(
        name=name,
        severity=severity,
        where=answer.where,
        what=f"accepted: {answer.check!r} {what}",
        instead=instead,
        width=len(answer.check),
    )
