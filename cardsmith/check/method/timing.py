"""The times at the head of a recipe against those of its steps, and against what the headnote promises."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardsmith.check.fields import Field
from cardsmith.check.method.clock import HOUR, MINUTE, TimeInStep, critical_path, spoken
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.language.spans import Measured
from cardsmith.regex import regex

ROUNDED = Fraction(19, 20)  # what rounding of a total to five minutes may take off a long one
PREPARATION = HOUR  # what weighing, cutting and washing up may add: common practice, no source
LOOSELY = Fraction(5, 4)  # times in steps may be kept short by as much; common practice, no source
UNTIMED = regex(
    r"\b(?:overnight|day before|next day|until (?:cold|cool|set))\b|\bfor (?:several|some)\b", re.I
)
LONG = 2 * HOUR  # a wait of hours, which an author may round up: common practice, no source
_MEAL = r"(?:dish|meal|recipe|supper|dinner|lunch|breakfast|brunch|pudding|dessert|main course)"
_PROMISE = regex(
    r"\b(?:on the table|start to finish|ready|made|done|finished|eating"
    r"|\w+ to (?:the )?(?:plate|table|fork))\b"
    r"[^.;,]{0,25}?\b(?:in|within|under|takes?)\s+(?:only |just |about |under |less than |barely )*$"
    r"|\bon the table (?:only |just |about |under |less than |barely )*$"
    rf"|\b(?:{_MEAL}|it all|all of it|the whole (?:thing|lot)|everything)\s+(?:takes?|in|within)"
    r"\s+(?:only |just |about |under |less than |barely )*$",
    re.IGNORECASE,
)
_WHOLE = regex(r",? (?:(?:is )?all (?:it takes|you need)|(?:from )?\w+ to (?:finish|plate|table|fork))")
_SUCH = regex(rf" (?:\w+ )?{_MEAL}\b", re.IGNORECASE)  # "a 30-minute supper"
# What is made before, or meanwhile, is no part of the promise.
_ASIDE = regex(r"\b(?:beforehand|ahead|in advance|the (?:day|night) before|not counting)\b", re.I)
# "On the table half an hour after you walk in".
_AT_ONCE = regex(r"\b(?:on the table|ready)\s+(?:only |just |about |barely |a mere )*$", re.IGNORECASE)
_AFTER = regex(r"\s+(?:after|from|later)\b", re.IGNORECASE)
_WORK = regex(r"\s+(?:of (?:work|effort)|hands[- ]on|active)", re.IGNORECASE)
# "The dough is ready in ten minutes" promises nothing of the whole.
_PART = regex(r"\bthe (?!(?:dish|meal|whole)\b)[\w-]+(?: [\w-]+)? (?:is|are|will be) (?:then )?$", re.I)


@check(
    "active-over-total",
    Severity.ERROR,
    why="Hands-on time, preparation and cooking are parts of the total.",
    source="the recipe's own figures",
    remedy="mend the one that is wrong; total counts from the start to eating",
)
def active_over_total(subject: Subject) -> Iterator[Query]:
    """More hands-on time, preparation or cooking than time in all."""
    time = subject.recipe.time
    if time is None or time.total is None:
        return
    for name in ("active", "prep", "cook"):
        part = getattr(time, name)
        if part is not None and part.low > time.total.high:
            yield query(time.where, f"{name} time is {part.written}, total time only {time.total.written}")
            return


@check(
    "total-time-wrong",
    Severity.WARNING,
    why="A cook plans by the total; chilling, rising or baking left out of it spoils a dinner.",
    source="the sum of the times in the steps, in order; what can be done meanwhile is not counted",
    remedy="add up every step, with chilling, rising, baking and cooling",
)
def total_time_wrong(subject: Subject) -> Iterator[Query]:
    """A total below the least time that the steps take, or far above the most."""
    time = subject.recipe.time
    if time is None or time.total is None:
        return
    path = critical_path(subject.recipe)
    if time.total.high < path.least * ROUNDED and WORK.search(time.total.written):
        return  # "20 minutes preparation" is the active time, and says so
    if time.total.high < path.least * ROUNDED:
        longest = sorted(path.longest, key=lambda time: -time.low)[:3]
        parts = ", ".join(
            f"{time.span.text} (step {time.step + 1})" for time in sorted(longest, key=lambda time: time.step)
        )
        yield query(
            time.where,
            f"total time is {time.total.written}; the steps take at least {spoken(path.least)}: {parts}",
            f"write at least {spoken(_up(path.least))}, and the time for preparation",
            Severity.ERROR if _is_far(path.longest, time.total.high) else None,
        )
        return
    active = time.active.high if time.active else PREPARATION / 2
    allowed = path.most * LOOSELY + active + PREPARATION
    if path.most and time.total.low > allowed and not _is_untimed(subject):
        yield query(
            time.where,
            f"total time is {time.total.written}; the times in the steps come to {spoken(path.most)} at most",
            "mend the total, or say in the steps where the time goes",
        )


def _is_far(path: Sequence[TimeInStep], total: Fraction) -> bool:
    """Whether one time alone, or all that cannot be done ahead, is far above a total that is no mere word."""
    sure = sum((time.low for time in path if not AHEAD.search(time.sentence)), Fraction(0))
    return (total >= TOLD and sure > 2 * total) or any(_is_apart(time, total) for time in path)


WORK = regex(r"\b(?:work|prep\w*|active|hands[- ]on)\b", re.IGNORECASE)  # which is no total
TOLD = HOUR / 2  # a shorter total is often that of the work alone: common practice, no source


def _is_apart(time: TimeInStep, total: Fraction) -> bool:
    """Whether one time alone is more than the total where it is over heat, or twice as much; what is done
    ahead is often left out.
    """
    most = total if COOKS.search(time.sentence) else 2 * total
    return time.low > most and not AHEAD.search(time.sentence)


COOKS = regex(r"\b(?:bak\w+|brais\w+|simmer\w*|roast\w*|boil\w*|cook\w*|oven|stew\w*)\b", re.IGNORECASE)


AHEAD = regex(
    r"\b(?:up to|ahead|keeps?|kept|stor\w*|if|or|can|may|before|optional\w*|soak\w*|brin\w*|marinat\w*"
    r"|uncovered|jars?|cold water|water bath)\b",
    re.IGNORECASE,
)


def _up(seconds: Fraction) -> Fraction:
    """The next five minutes."""
    return -(-seconds // (5 * MINUTE)) * 5 * MINUTE


def _is_untimed(subject: Subject) -> bool:
    """Whether a step waits for hours, or without a figure that can be read: overnight, until cold."""
    return any(
        UNTIMED.search(step.text) or step.longest() >= LONG or step.is_unread() for step in subject.steps
    )


@check(
    "headnote-promise-broken",
    Severity.WARNING,
    why="Readers choose a recipe by what its headnote promises, and feel lied to when it takes longer.",
    source=PRACTICE,
    remedy="promise the total time, or say what the shorter time is for",
)
def headnote_promise_broken(subject: Subject) -> Iterator[Query]:
    """A headnote or title that promises the dish in less time than the total, or than the steps take."""
    time = subject.recipe.time
    steps = _least(subject)
    total = time.total.low if time and time.total else steps
    said = f"total time is {time.total.written}" if time and time.total else f"the steps take {spoken(steps)}"
    text = subject.headnote
    for at, span in text.times():
        begins, after = text.sentence_at(at)[0], at + len(span.text)
        promise = _PROMISE.search(text.text, begins, at)
        if promise is None and _AFTER.match(text.text, after):
            promise = _AT_ONCE.search(text.text, begins, at)
        starts = promise.start() if promise else at
        if promise is None and not _is_of_all(text, span, after):
            continue
        if _PART.search(text.text[:starts]) or _ASIDE.search(
            f"{text.sentence(at)} {text.sentence_after(at)}"
        ):
            continue
        work = _WORK.match(text.text, after) is not None
        active = time.active if time else None
        real = total if not work else active.low if active else None
        if real and span.quantity.high < real * Fraction(17, 20):
            yield query(
                text.spot(span.text),
                f"the headnote promises “{text.text[starts:after]}”; "
                f"{f'active time is {active.written}' if work and active else said}",
            )
    title = next((field for field in subject.fields if field.name == "title"), None)
    for _, span in title.times() if title else ():
        promised = span.quantity.high
        if span.adjective and QUICK <= promised <= HOUR and max(total, steps) > promised * LOOSELY:
            yield query(subject.recipe.where, f"the title promises “{span.text}”; {said}")


def _least(subject: Subject) -> Fraction:
    """The least that the steps take, a night among them; 0 where they name no time."""
    nights = any(_NIGHT.search(_OR_SO.sub(" ", step.text)) for step in subject.steps)
    return critical_path(subject.recipe).least + (NIGHT if nights else 0)


_NIGHT = regex(
    r"\b(?:chill|refrigerat\w*|fridge|marinat\w*|soak|stand|rest|ferment|leave|rise|prove|drain|freeze)\b[^.;]*"
    r"\b(?:overnight|(?:until|till) (?:the )?(?:next|following) day|until (?:the )?morning)\b"
    r"|^[^.;]*\b(?:the (?:day|night) before|a day ahead)\b",
    re.I,
)
_OR_SO = regex(r"\bor (?:up to |even )?overnight\b", re.I)
NIGHT = 8 * HOUR  # common practice, no source
QUICK = 10 * MINUTE  # a six-minute egg says how long it boils


def _is_of_all(text: Field, span: Measured, after: int) -> bool:
    """Whether the words behind a time make it that of the whole: a 30-minute supper, from start to finish."""
    return bool((span.adjective and _SUCH.match(text.text, after)) or _WHOLE.match(text.text, after))
