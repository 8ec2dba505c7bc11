"""Times that no kitchen works in: onions browned in three minutes, a cake that bakes for three hours."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache, lru_cache

from cardsmith.check.formula.likely import likely_kinds, presumed_kind
from cardsmith.check.method.clock import MINUTE, TimeInStep, all_times, spoken
from cardsmith.check.method.signs import signs
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.foods.roles import ANIMAL
from cardsmith.facts.method.dish import dish
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Food
from cardsmith.measure.patterns import is_of
from cardsmith.reference import table
from cardsmith.regex import regex

# Another heat, another pace.
ELSEHOW = regex(r"\b(?:pressure|microwave|slow[- ]cooker|air[- ]fr|sous[- ]vide|dehydrator)", re.IGNORECASE)
PASSIVE = (
    "cool",
    "rest",
    "leave",
    "stand",
    "soak",
    "refrigerate",
    "chill",
    "freeze",
    "rise",
    "knead",
    "whisk",
)


@frozen
class Technique:
    """What a technique takes, in seconds: of one sentence, of a kind of recipe, or of a food in all."""

    scope: str  # sentence, kind, food
    told: str
    foods: tuple[str, ...]
    kinds: frozenset[str]
    words: Phrases | None
    verbs: frozenset[str]
    result: Phrases | None
    least: Fraction
    most: Fraction | None
    unless: Phrases | None


@cache
def techniques() -> tuple[Technique, ...]:
    """Every technique whose pace is judged; of the rows that fit, the first holds."""
    all_techniques = tuple(
        Technique(
            scope=row["scope"],
            told=row["told"],
            foods=tuple(filter(None, row["foods"].split("|"))),
            kinds=frozenset(filter(None, row["kinds"].split("|"))),
            words=phrases(row["words"]),
            verbs=frozenset(row["verbs"].split("|")),
            result=phrases(row["result"]),
            least=Fraction(row["least_minutes"]) * MINUTE,
            most=Fraction(row["most_minutes"]) * MINUTE if row["most_minutes"] else None,
            unless=phrases(row["unless"]),
        )
        for row in table("technique_times")
    )
    for technique in all_techniques:
        if technique.most is not None and technique.most <= technique.least:
            raise ValueError(f"technique_times.csv: {technique.told}: the figures are out of order")
        if technique.scope not in ("sentence", "kind", "food"):
            raise ValueError(f"technique_times.csv: {technique.told}: unknown scope {technique.scope!r}")
    return all_techniques


@cache
def _every_verb() -> re.Pattern[str]:
    """No noun: "over medium heat", "to a boil", "the rest"."""
    names = {verb for technique in techniques() for verb in technique.verbs} | set(PASSIVE)
    verbs = "|".join(sorted(names, key=len, reverse=True))
    return regex(
        rf"\b(?<!a )(?<!medium )(?<!high )(?<!low )(?<!lowest )(?<!the )(?:{verbs})\b", re.IGNORECASE
    )


def doing(time: TimeInStep) -> str:
    """The verb that a time belongs to: the last before it in its sentence."""
    return _last_verb(time.sentence[: time.place])


@lru_cache(maxsize=256)  # every rule asks about the same times
def _last_verb(words: str) -> str:
    verbs = _every_verb().findall(words)
    return verbs[-1].lower() if verbs else ""


@check(
    "time-unlikely",
    Severity.WARNING,
    why="A time that no kitchen works in makes readers late, or burns their supper.",
    source="technique_times.csv: " + PRACTICE,
    remedy="write the time that you measured",
)
def time_unlikely(subject: Subject) -> Iterator[Query]:
    """A time far outside what the technique takes: by what the sentence says, by kind, or by food."""
    dish = " ".join([subject.recipe.title, *(text.text for text in subject.recipe.equipment)])
    steps = " ".join(step.text for step in subject.steps)
    if ELSEHOW.search(f"{dish} {steps}"):
        return
    spent = [time for time in all_times(subject.recipe) if not time.moment]
    lines = " ".join(line.text for line in subject.recipe.ingredients)
    everything = f"{dish} {lines} {steps}"
    yield from _of_sentences(subject, spent)
    for rule in _of_kind(subject, everything):
        yield from _sum(rule, [time for time in spent if doing(time) in rule.verbs])
    yield from _of_foods(subject, spent, steps)


def _of_kind(subject: Subject, everything: str) -> tuple[Technique, ...]:
    """What its kind takes; where nobody says the kind, what any that its list may be takes."""
    kind = presumed_kind(subject)
    names = {kind} if kind else {likeness.kind for likeness in likely_kinds(subject)}
    rules = [rule for rule in techniques() if rule.scope == "kind" and rule.kinds & names]
    other = [rule for rule in rules if rule.unless and rule.unless.search(everything)]
    if kind:
        return tuple(rule for rule in rules if rule not in other)
    if other or not rules or not names <= frozenset().union(*(rule.kinds for rule in rules)):
        return ()
    least, most = min(rule.least for rule in rules), max(rule.most or FOREVER for rule in rules)
    limits = f"such a list bakes for {spoken(least)} at least, and for {spoken(most)} at most"
    verbs = frozenset().union(*(rule.verbs for rule in rules))
    return (replace(rules[0], told=limits, least=least, most=most, verbs=verbs),)


FOREVER = 7 * 24 * 60 * MINUTE


def _of_sentences(subject: Subject, spent: list[TimeInStep]) -> Iterator[Query]:
    recipe_signs = signs(subject.recipe, subject.larder)
    for time in spent:
        place, said = recipe_signs.clause_at(time.step, time.at), _said(time, spent)
        alone = (
            [recipe_signs.dish.foods[line].food for line in recipe_signs.lines(place)]
            if place is not None
            else []
        )
        for rule in techniques():
            if rule.scope != "sentence" or doing(time) not in rule.verbs:
                continue
            wanted = (rule.words, rule.result)
            if any(word.search(said) is None for word in wanted if word is not None):
                continue
            if rule.foods and any(not is_of(food, rule.foods) for food in alone):
                continue  # the leeks that soften in the butter
            if rule.unless is None or not rule.unless.search(time.sentence):
                yield from _sum(rule, [time])
                break


def _said(time: TimeInStep, spent: list[TimeInStep]) -> str:
    """The words of a time's sentence that are about it: from the time before it to the time behind it.

    In "soften the onions, 8 minutes, then the garlic for 1 minute" no onions are softened for a minute.
    """
    begins = time.at - time.place
    ends = begins + len(time.sentence)
    others = [other for other in spent if other.step == time.step and begins <= other.at < ends]
    first = max((other.at + len(other.span.text) for other in others if other.at < time.at), default=begins)
    last = min((other.at for other in others if other.at > time.at), default=ends)
    return time.sentence[first - begins : last - begins]


def _of_foods(subject: Subject, spent: list[TimeInStep], steps: str) -> Iterator[Query]:
    seen: set[str] = set()
    known = dish(subject.recipe, subject.larder)
    for place, line in enumerate(subject.recipe.ingredients):
        rule = _rule(line.food, subject.kind)
        if rule is None or rule.told in seen or line.for_use:
            continue
        if rule.unless and rule.unless.search(f"{line.text} {steps}"):
            continue
        seen.add(rule.told)
        starts: dict[int, int] = {}
        for event in known.history(place).events:
            starts[event.step] = min(event.start, starts.get(event.step, event.start))
        mine = [time for time in spent if time.step in starts and time.at >= starts[time.step]]
        times = [time for time in mine if doing(time) in rule.verbs]
        if rule.kinds and subject.kind not in rule.kinds:
            slow = {step.number - 1 for step in subject.steps if SLOWLY_DONE.search(step.text)}
            times = [time for time in times if time.step in slow]
        apart = any(time.high >= rule.least for time in spent if doing(time) in rule.verbs)
        short = sum((time.high for time in times), Fraction(0)) < rule.least
        steps_of = {time.step for time in times}
        beside = any(event.has_flesh and event.step in steps_of for event in known.history(place).events)
        if beside and not is_of(line.food, ANIMAL):
            rule = replace(rule, most=None)  # lentils that fall apart beside a shin take as long as it does
        if not (apart and short):  # the sauce that simmers for five minutes while the shoulder rests
            yield from _sum(rule, times)


SLOWLY_DONE = regex(r"\b(?:brais|stew|simmer)\w*", re.IGNORECASE)
SLOWLY = frozenset({"braise", "stew", "simmer"})  # verbs that give a cut's pace where no kind is given


def _rule(food: Food | None, kind: str) -> Technique | None:
    rules = (
        technique for technique in techniques() if technique.scope == "food" and is_of(food, technique.foods)
    )
    return next(
        (
            technique
            for technique in rules
            if not technique.kinds or kind in technique.kinds or technique.verbs & SLOWLY
        ),
        None,
    )


BURNT = 5  # times the most: hours where minutes were meant; common practice, no source


def _sum(rule: Technique, spent: list[TimeInStep]) -> Iterator[Query]:
    """The query where all of ``spent`` together is too short or too long."""
    if not spent:
        return
    low = sum((time.low for time in spent), Fraction(0))
    high = sum((time.high for time in spent), Fraction(0))
    if high < rule.least or (rule.most is not None and low > rule.most):
        raw = rule.verbs & SLOWLY and high < rule.least
        burnt = rule.most is not None and low > rule.most * BURNT
        longest = max(spent, key=lambda time: time.high)
        together = f", {spoken(high)} in all," if len(spent) > 1 else ""
        yield query(
            longest.span,
            f"“{longest.span.text}”{together} is unlikely: {rule.told}",
            severity=Severity.ERROR if rule.kinds and (raw or burnt) else None,
        )
