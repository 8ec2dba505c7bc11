"""Times in the steps: each with its sentence, and the least that all of them take together."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from itertools import groupby

from cardsmith.check.fields import Field, steps
from cardsmith.check.wording import number
from cardsmith.frozen import frozen
from cardsmith.language.prose.time_use import spending
from cardsmith.language.spans import Kind, Measured
from cardsmith.last_result import remembered
from cardsmith.measure.larder import words
from cardsmith.measure.quantity import Bound
from cardsmith.recipe.model import Recipe
from cardsmith.regex import regex

MINUTE = Fraction(60)
HOUR = Fraction(3600)
MEANWHILE = regex(r"(?:meanwhile|in the meantime|at the same time|while)\b", re.IGNORECASE)  # the whole step
_BESIDE = regex(r"\b(?:while|as) [^,.;]*[,.;]", re.IGNORECASE)  # "While the syrup cools, …" waits for none
# Jars that stand till their seals are looked at are done: published processes count no such night.
SEALING = regex(
    r"\b(?:stand|cool|leave|left)\b[^.;]*\b(?:undisturbed|(?:check|test)\w* the (?:seals|lids))\b"
    r"|\bjars?\b[^.;]*\b(?:stand|cool|leave them)\b",
    re.IGNORECASE,
)
_BATCHES = frozenset({"batch", "batches"})


@frozen
class TimeInStep:
    """One time in a step, in seconds, as often as the sentence says it is spent."""

    step: int  # its place in ``recipe.steps``
    low: Fraction
    high: Fraction
    span: Measured
    at: int  # where it stands in the step as it is read
    sentence: str
    place: int  # and in its sentence
    following: str  # the sentence after
    overlaps: bool  # something else is done meanwhile
    moment: bool  # a point inside another time: "fold after 30 minutes"


def times(step: Field) -> Iterator[TimeInStep]:
    """Every time that a step names."""
    meanwhile = MEANWHILE.match(step.text) is not None
    for at, span in step.times():
        begins, ends = step.sentence_at(at)
        sentence = step.text[begins:ends]
        spent = spending(sentence, at - begins, at - begins + len(span.text))
        often = (spent.is_each and _batches(step, begins, ends)) or spent.sides
        yield TimeInStep(
            step=step.number - 1,
            low=span.quantity.low * often,
            high=span.quantity.high * often,
            span=span,
            at=at,
            sentence=sentence,
            place=at - begins,
            following=step.sentence_after(at),
            overlaps=spent.is_beside or meanwhile,
            moment=spent.is_moment or span.adjective or span.quantity.bound is Bound.AT_MOST,
        )


def _batches(step: Field, begins: int, ends: int) -> int:
    """How many batches a sentence names: "in two batches for 8 minutes each"; 0 where it names none."""
    counts = step.told(Kind.COUNT, begins, ends)
    return next((int(figure.high) for _, figure in counts if _BATCHES & set(figure.noun.split())), 0)


@remembered  # several checks ask about the same recipe in turn
def all_times(recipe: Recipe) -> tuple[TimeInStep, ...]:
    """The times of all steps, in order."""
    return tuple(time for step in steps(recipe) for time in times(step))


@frozen
class Path:
    """How long the steps take: ``least`` where parts that can run side by side do, ``most`` in a row."""

    least: Fraction
    most: Fraction
    longest: tuple[TimeInStep, ...]  # the times on the way that takes the least, in order


def critical_path(recipe: Recipe) -> Path:
    """The steps of a part follow each other; a step that names another part waits until that is ready."""
    ends: list[tuple[Fraction, tuple[TimeInStep, ...]]] = []
    most = Fraction(0)
    place = 0
    texts = steps(recipe)
    timed = {
        step: list(step_times) for step, step_times in groupby(all_times(recipe), key=lambda time: time.step)
    }
    for part in recipe.parts:
        end: tuple[Fraction, tuple[TimeInStep, ...]] = (Fraction(0), ())
        for step in texts[place : place + len(part.steps)]:
            step_words = set(words(_BESIDE.sub(" ", step.text))) if ends else set()
            for before, other in enumerate(recipe.parts[: len(ends)]):
                if _nouns(other.name) & step_words:
                    end = max(end, ends[before], key=lambda entry: entry[0])
            lasting = [time for time in timed.get(place, ()) if not time.moment]
            spent = [time for time in lasting if not (time.overlaps or SEALING.search(time.sentence))]
            end = (end[0] + sum((time.low for time in spent), Fraction(0)), (*end[1], *spent))
            most += sum((time.high for time in lasting), Fraction(0))
            place += 1
        ends.append(end)
    longest = max(ends, key=lambda entry: entry[0], default=(Fraction(0), ()))
    return Path(least=longest[0], most=max(most, longest[0]), longest=longest[1])


def _nouns(name: str) -> frozenset[str]:
    """The words of a part's name that a step may call it by."""
    return frozenset(word for word in words(name) if word not in _SMALL)


_SMALL = frozenset(words("a an and or the of for with to in on serve"))


def spoken(seconds: Fraction) -> str:
    """``1 h 15 min``, ``45 min``, ``3 days``."""
    if seconds < MINUTE:
        return f"{number(seconds)} s"
    days, rest = divmod(seconds, 24 * HOUR)
    hours, rest = divmod(rest, HOUR)
    minutes = rest / MINUTE
    texts = [
        f"{days} day{'' if days == 1 else 's'}" if days else "",
        f"{hours} h" if hours else "",
        f"{number(minutes)} min" if minutes else "",
    ]
    return " ".join(filter(None, texts))
