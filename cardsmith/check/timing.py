"""The times at the head of a recipe against those of its steps, and against what the headnote promises."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.clock import HOUR, MINUTE, critical_path, spoken
from cardsmith.check.facts import PRACTICE
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.recipe.mentions import visible
from cardsmith.recipe.model import Recipe
from cardsmith.recipe.numbers import WHOLES
from cardsmith.regex import regex

ROUNDED = Fraction(97, 100)  # what rounding of a total to five minutes may take off a long one
PREPARATION = HOUR  # what weighing, cutting and washing up may add: common practice, no source
UNTIMED = regex(r"\b(?:overnight|day before|next day|days|weeks?|hours|until (?:cold|cool|set))\b", re.I)
_TENS = {"fifteen": 15, "twenty": 20, "thirty": 30, "forty": 40, "forty-five": 45, "fifty": 50, "sixty": 60}
_COUNT = rf"(?:\d+|an?|{'|'.join((*WHOLES, *_TENS))})"
_SPAN = (
    rf"(?P<span>half an hour|(?:a|three) quarters? of an hour|an hour and a (?:half|quarter)"
    rf"|{_COUNT}[- ](?:minutes?|mins?|hours?|h)\b)"
)
_PROMISE = regex(
    r"(?P<what>\b(?:on the table|start to finish|ready|made|table to plate|pot to plate)\b)[^.;,]{0,25}?"
    r"\b(?:in|within|under|takes?)\s+(?:only |just |about |under |less than |barely )*"
    rf"{_SPAN}(?P<after>[^.;,]*)",
    re.IGNORECASE,
)
# "The dough is ready in ten minutes" promises nothing of the whole.
_PART = regex(r"\bthe (?!(?:dish|meal|whole)\b)[\w-]+(?: [\w-]+)? (?:is|are|will be) (?:then )?$", re.I)


@check(
    "active-over-total",
    Severity.ERROR,
    why="Hands cannot be at work for longer than the whole takes.",
    source="the recipe's own figures",
    remedy="mend the one that is wrong; total counts from the start to eating",
)
def active_over_total(subject: Subject) -> Iterator[Query]:
    """More hands-on time than time in all."""
    told = subject.recipe.time
    if told is None or told.active is None or told.total is None:
        return
    if told.active.low > told.total.high:
        yield query(told.where, f"active time is {told.active.written}, total time only {told.total.written}")


@check(
    "total-time-wrong",
    Severity.WARNING,
    why="A cook plans by the total; chilling, rising or baking left out of it spoils a dinner.",
    source="the sum of the times in the steps, in order; what can be done meanwhile is not counted",
    remedy="add up every step, with chilling, rising, baking and cooling",
)
def total_time_wrong(subject: Subject) -> Iterator[Query]:
    """A total below what the steps take at the least, or far above what they take at the most."""
    told = subject.recipe.time
    if told is None or told.total is None:
        return
    path = critical_path(subject.recipe)
    if told.total.high < path.least * ROUNDED:
        longest = sorted(path.longest, key=lambda one: -one.low)[:3]
        parts = ", ".join(
            f"{one.span.text} (step {one.step + 1})" for one in sorted(longest, key=lambda one: one.step)
        )
        yield query(
            told.where,
            f"total time is {told.total.written}; the steps take at least {spoken(path.least)}: {parts}",
            f"write at least {spoken(_up(path.least))}, and the time for preparation",
        )
        return
    allowed = 2 * path.most + 2 * (told.active.high if told.active else PREPARATION / 2) + PREPARATION
    if path.most and told.total.low > allowed and not _is_untimed(subject.recipe):
        yield query(
            told.where,
            f"total time is {told.total.written}; the times in the steps come to {spoken(path.most)} at most",
            "mend the total, or say in the steps where the time goes",
        )


def _up(seconds: Fraction) -> Fraction:
    """The next five minutes."""
    return -(-seconds // (5 * MINUTE)) * 5 * MINUTE


def _is_untimed(recipe: Recipe) -> bool:
    """Whether a step waits without a figure: overnight, until cold."""
    return any(UNTIMED.search(visible(step.spans)) for step in recipe.steps)


@check(
    "headnote-promise-broken",
    Severity.WARNING,
    why="Readers choose a recipe by what its headnote promises, and feel lied to when it takes longer.",
    source=PRACTICE,
    remedy="promise the total time, or say what the shorter time is for",
)
def headnote_promise_broken(subject: Subject) -> Iterator[Query]:
    """A headnote that promises the dish in less time than the total."""
    told = subject.recipe.time
    if told is None or told.total is None:
        return
    for match in _PROMISE.finditer(subject.recipe.headnote):
        if _PART.search(subject.recipe.headnote[: match.start()]):
            continue
        work = re.match(r"\s+(?:of (?:work|effort)|hands[- ]on|active)", match.group("after"), re.IGNORECASE)
        real = told.active if work else told.total
        promised = _seconds(match.group("span"))
        if real is not None and promised < real.low * Fraction(9, 10):
            yield query(
                subject.recipe.where,
                f"the headnote promises “{' '.join(match.group().split())}”; "
                f"{'active' if work else 'total'} time is {real.written}",
            )


def _seconds(told: str) -> Fraction:
    """A time in words, in seconds: half an hour, twenty minutes, an hour and a half."""
    text = " ".join(told.lower().replace("-", " ").split())
    fixed = {
        "half an hour": Fraction(1, 2),
        "a quarter of an hour": Fraction(1, 4),
        "three quarters of an hour": Fraction(3, 4),
        "an hour and a half": Fraction(3, 2),
        "an hour and a quarter": Fraction(5, 4),
    }
    if text in fixed:
        return fixed[text] * HOUR
    word, _, unit = text.rpartition(" ")
    word = word.replace("forty five", "forty-five")
    if word.isdecimal():
        count = int(word)
    elif word in _TENS:
        count = _TENS[word]
    else:
        count = 1 if word in ("a", "an") else WHOLES.index(word) + 1
    return count * (HOUR if unit.startswith("h") else MINUTE)
