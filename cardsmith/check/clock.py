"""Times in the steps: each with its sentence, and the least that all of them take together."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from cardsmith.check.heat import sentence_at
from cardsmith.check.wording import number
from cardsmith.language.spans import Measured
from cardsmith.measure.larder import words
from cardsmith.measure.quantity import Bound
from cardsmith.measure.units import Dimension
from cardsmith.recipe.mentions import visible
from cardsmith.recipe.model import Recipe, Step
from cardsmith.recipe.numbers import WHOLES
from cardsmith.regex import regex
from cardsmith.remember import remembered

MINUTE = Fraction(60)
HOUR = Fraction(3600)
# "Fold after 30 minutes", "every 20 minutes": a moment inside a time that is counted already.
_MOMENT = regex(
    r"\b(?:after|every|(?:for |in )?the (?:first|last|final)|within|ahead|up to|another|at|of|by)\s*"
    r"(?:about |the )?$",
    re.IGNORECASE,
)
_EARLIER = regex(r"\s*(?:before|ahead|earlier|ago|in advance|old|apart|per|long\b|to go)", re.IGNORECASE)
_OVERLAPS = regex(r"\b(?:meanwhile|while|at the same time|as soon as)\b", re.IGNORECASE)
_BATCHES = regex(rf"\bin ({'|'.join(WHOLES[1:])}|\d+) batches\b", re.IGNORECASE)
_SIDES = regex(r"\b(?:each side|per side|a side|both sides)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """One time in a step, in seconds, as often as the sentence says it is spent."""

    step: int  # its place in ``recipe.steps``
    low: Fraction
    high: Fraction
    span: Measured
    at: int  # where it stands in the step as it is read
    sentence: str
    following: str  # the sentence after
    overlaps: bool  # something else is done meanwhile
    moment: bool  # a point inside another time: "fold after 30 minutes"


def times(place: int, step: Step) -> Iterator[Timed]:
    """Every time that a step names."""
    text = visible(step.spans)
    at = 0
    for span in step.spans:
        if isinstance(span, Measured) and span.quantity.dimension is Dimension.DURATION:
            begins, ends = sentence_at(text, at)
            after = sentence_at(text, min(ends + 2, len(text)))
            sentence = text[begins:ends].strip()
            often = _often(sentence, text[at + len(span.text) :])
            yield Timed(
                step=place,
                low=span.quantity.low * often,
                high=span.quantity.high * often,
                span=span,
                at=at,
                sentence=sentence,
                following=text[slice(*after)].strip(),
                overlaps=_OVERLAPS.search(sentence) is not None,
                moment=_is_moment(text[:at], text[at + len(span.text) :], span),
            )
        at += len(span.text)


def _is_moment(before: str, after: str, span: Measured) -> bool:
    if span.adjective or span.quantity.bound is Bound.AT_MOST:
        return True
    return _MOMENT.search(before) is not None or _EARLIER.match(after) is not None


def _often(sentence: str, after: str) -> int:
    """How many times over a time is spent: "in two batches for 8 minutes each", "3 minutes on each side"."""
    batches = _BATCHES.search(sentence)
    if batches is not None and re.match(r"\s*(?:for )?each\b", after):
        told = batches.group(1).lower()
        return int(told) if told.isdecimal() else WHOLES.index(told) + 1
    return 2 if _SIDES.search(re.split(r"[,.;]", after)[0]) else 1


@remembered  # several checks ask about the same recipe in turn
def all_times(recipe: Recipe) -> tuple[Timed, ...]:
    """The times of all steps, in order."""
    return tuple(one for place, step in enumerate(recipe.steps) for one in times(place, step))


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """How long the steps take: ``least`` where parts that can run side by side do, ``most`` in a row."""

    least: Fraction
    most: Fraction
    longest: tuple[Timed, ...]  # the times on the way that takes the least, in order


def critical_path(recipe: Recipe) -> Path:
    """The steps of a part follow each other; a step that names another part waits until that is ready."""
    ends: list[tuple[Fraction, tuple[Timed, ...]]] = []
    most = Fraction(0)
    place = 0
    for part in recipe.parts:
        end: tuple[Fraction, tuple[Timed, ...]] = (Fraction(0), ())
        for step in part.steps:
            told = set(words(visible(step.spans))) if ends else set()
            for before, other in enumerate(recipe.parts[: len(ends)]):
                if set(words(other.name)) & told:
                    end = max(end, ends[before], key=lambda one: one[0])
            found = [one for one in times(place, step) if not one.moment]
            spent = [one for one in found if not one.overlaps]
            end = (end[0] + sum((one.low for one in spent), Fraction(0)), (*end[1], *spent))
            most += sum((one.high for one in found), Fraction(0))
            place += 1
        ends.append(end)
    longest = max(ends, key=lambda one: one[0], default=(Fraction(0), ()))
    return Path(least=longest[0], most=max(most, longest[0]), longest=longest[1])


def spoken(seconds: Fraction) -> str:
    """``1 h 15 min``, ``45 min``, ``3 days``."""
    if seconds < MINUTE:
        return f"{number(seconds)} s"
    days, rest = divmod(seconds, 24 * HOUR)
    hours, rest = divmod(rest, HOUR)
    minutes = rest / MINUTE
    told = [
        f"{days} day{'' if days == 1 else 's'}" if days else "",
        f"{hours} h" if hours else "",
        f"{number(minutes)} min" if minutes else "",
    ]
    return " ".join(filter(None, told))
