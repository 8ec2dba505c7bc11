"""A time without a sign to know it by, and a sign without a time to plan by."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from cardsmith.check.clock import MINUTE, Timed, all_times
from cardsmith.check.facts import PRACTICE
from cardsmith.check.heat import sentence_at
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.recipe.mentions import visible
from cardsmith.recipe.model import Step
from cardsmith.reference import table
from cardsmith.regex import regex

CUE = regex(
    r"\b(?:until|till|when|once|as soon as|so that|if (?:it|they)|or to|to (?:a|an|the) \w+ (?:crumb|stage)"
    r"|reads?|reach(?:es)?|it(?:'s| is)? (?:done|ready)|should (?:be|feel|look|read|reach|come|have)"
    r"|before it|by then|al dente|medium[- ]rare|golden|springy|thickened|doubled)\b",
    re.IGNORECASE,
)
THERMOMETER = regex(r"\b(?:reads?|reach(?:es)?|registers?|°|degrees)", re.IGNORECASE)
# Times that are the point themselves: a rolling boil against a toxin, a marinade, a brine, a night.
ITSELF = regex(
    r"\b(?:boil(?:ing)? (?:hard|rapidly|fast|briskly)|hard boil|rolling boil|marinat|brin|soak|infus|steep"
    r"|overnight|sous[- ]vide|pressure|process|packet|package)",
    re.IGNORECASE,
)
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
        if spent and not CUE.search(f"{spent}. {one.following}"):
            yield query(one.span, f"“{one.span.text}”, and no sign of when it is done")


def _spent(one: Timed) -> str:
    """The sentence from the verb on that takes the time; empty where it is none of the table's."""
    place = one.sentence.find(one.span.text)
    verbs = [match.start() for match in _verbs(long=False).finditer(one.sentence[: max(place, 0)])]
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
    timed = {(one.step, one.sentence) for one in all_times(subject.recipe)}
    for place, step in enumerate(subject.recipe.steps):
        text = visible(step.spans)
        for start, sentence in _sentences(step):
            cue = UNTIMED_CUE.search(sentence)
            verb = _verbs(long=True).search(sentence)
            if cue is None or verb is None or verb.start() > cue.start() or (place, sentence) in timed:
                continue
            begins, ends = sentence_at(text, min(start + len(sentence) + 2, len(text)))
            following = text[begins:ends].strip()
            told = (place, following) in timed and re.match(
                r"(?:this|it|they|allow|about)\b", following, re.I
            )
            if not told and not THERMOMETER.search(sentence[cue.end() :]):
                yield query(
                    subject.spot(step, sentence[verb.start() :].lstrip(" ,:")),
                    f"“{_short(sentence[verb.start() :])}”: about how long does it take?",
                )


def _sentences(step: Step) -> Iterator[tuple[int, str]]:
    """The sentences of a step as it is read, each with its place."""
    text = visible(step.spans)
    at = 0
    while at < len(text):
        begins, ends = sentence_at(text, at)
        sentence = text[begins:ends].strip()
        if sentence:
            yield text.find(sentence, begins), sentence
        at = max(ends, at) + 1


def _short(words: str) -> str:
    """The first words of a clause, for evidence."""
    told = words.lstrip(" ,:").split()
    return " ".join(told[:9]) + (" …" if len(told) > 9 else "")
