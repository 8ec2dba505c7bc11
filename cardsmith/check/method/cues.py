"""A time without a sign to know it by, and a sign without a time to plan by."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from cardsmith.check.method.clock import MINUTE, TimeInStep, all_times
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.reference import table
from cardsmith.regex import regex

CUE = regex(
    r"\b(?:until|till|when|once (?=the |it |they |this |you |all )|as soon as|so that|if (?:it|they)|or to"
    r"|to (?:a|an|the) \w+ (?:crumb|stage)"
    r"|reads?|reach(?:es)?|it(?:'s| is)? (?:done|ready)|should (?:be|feel|look|read|reach|come|have)"
    r"|before it|by then|al dente|medium[- ]rare|golden|springy|thickened|doubled)\b",
    re.IGNORECASE,
)
THERMOMETER = regex(r"\b(?:reads?|reach(?:es)?|registers?)", re.IGNORECASE)
# Times that are the point themselves: a rolling boil against a toxin, a marinade, a brine, a night.
ITSELF = regex(
    r"\b(?:boil(?:ing)? (?:hard|rapidly|fast|briskly)|hard boil|rolling boil|sterili[sz]|marinat|brin"
    r"|soak|infus|steep|overnight|sous[- ]vide|pressure|process|packet|package)",
    re.IGNORECASE,
)
COOLS = regex(r"\s*(?:then )?(?:(?:let|leave)(?: \w+){1,2} )?(?:to )?(?:cool|rest|stand)\b", re.IGNORECASE)
UNTIMED_CUE = regex(r"\b(?:until|till)\b", re.IGNORECASE)


@cache
def _verbs(*, long: bool) -> re.Pattern[str]:
    """A verb where an imperative stands: at the head of a clause, or after "leave to"."""
    names = [
        name for row in table("timed_verbs") if row["long"] or not long for name in row["verb"].split("|")
    ]
    return regex(
        rf"(?:^|[,:]\s+|\b(?:and|then|or|to|let|dough|it|them)\s+)(?:\w+ly\s+|then\s+|again\s+)?(?:{'|'.join(names)})\b"
        r"(?! (?:in|into) (?:the|a) (?:egg|flour|sugar|milk|cream|butter))",
        re.IGNORECASE,
    )


@check(
    "time-without-cue",
    Severity.WARNING,
    why="No two ovens, pans or kitchens agree; without a sign the cook has only the clock to go by.",
    source=PRACTICE,
    remedy="say what to look for: bake for 28 to 32 minutes, until the edges are deep gold",
)
def time_without_cue(subject: Subject) -> Iterator[Query]:
    """A step that heats, chills, raises or whips for a time and does not say what to look for."""
    for one in all_times(subject.recipe):
        if one.moment or one.low <= MINUTE or ITSELF.search(one.sentence):
            continue
        spent = _spent(one)
        following = "" if COOLS.match(one.following) else one.following  # whose sign is another's
        if spent and not CUE.search(f"{spent}. {following}"):
            yield query(one.span, f"“{one.span.text}”, and no sign of when it is done")


def _spent(one: TimeInStep) -> str:
    """The sentence from the verb on that takes the time; empty where it is none of the table's."""
    verbs = [match.start() for match in _verbs(long=False).finditer(one.sentence[: one.place])]
    return one.sentence[verbs[-1] :] if verbs else ""


@check(
    "cue-without-time",
    Severity.WARNING,
    why="Without a time nobody can plan the meal, or tell that something has gone wrong.",
    source=PRACTICE,
    remedy="write how long it took: bake for 28 to 32 minutes, until the edges are deep gold",
)
def cue_without_time(subject: Subject) -> Iterator[Query]:
    """A step that bakes, simmers, chills or raises until something, and does not say about how long."""
    timed = {(one.step, one.at - one.place) for one in all_times(subject.recipe)}
    for place, step in enumerate(subject.steps):
        for begins, ends, stops in step.cuts:
            cue = UNTIMED_CUE.search(step.text, begins, ends)
            verb = _verbs(long=True).search(step.text[begins:ends])
            if cue is None or verb is None or begins + verb.start() > cue.start() or (place, begins) in timed:
                continue
            after, _ = step.sentence_at(stops)
            told = (place, after) in timed and FOLLOWS.match(step.text, after)
            measured = step.temperatures(cue.end(), ends) or THERMOMETER.search(step.text, cue.end(), ends)
            if not (told or measured or step.is_unread(begins, ends)):
                words = step.text[begins + verb.start() : ends].lstrip(" ,:")
                yield query(step.spot(words, begins), f"“{_short(words)}”: about how long does it take?")


FOLLOWS = regex(r"(?:this|it|they|allow|about)\b", re.IGNORECASE)


def _short(words: str) -> str:
    """The first words of a clause, for evidence."""
    told = words.split()
    return " ".join(told[:9]) + (" …" if len(told) > 9 else "")
