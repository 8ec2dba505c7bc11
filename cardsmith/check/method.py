"""The method as a cook hears it: sentence by sentence, each with its place in the step."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from cardsmith.language.spans import Measured, Purpose
from cardsmith.measure.units import Dimension
from cardsmith.recipe.mentions import visible
from cardsmith.recipe.model import Recipe, Step, Text
from cardsmith.regex import regex
from cardsmith.remember import remembered

STOP = regex(r"[.!?](?:[”’\"')\]]*)(?=\s|$)|;")
ABBREVIATED = regex(r"\b(?:approx|min|mins|max|no|ca|vol|tbsp|tsp|oz|lb|in|cm|hr|hrs)\.$", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sentence:
    """One sentence of the method. ``number`` counts steps from 1 through all parts, as the card does."""

    part: int
    number: int
    step: Step
    text: str  # as it is read
    start: int  # its place in the step's visible text
    measures: tuple[tuple[int, Measured], ...]  # each with its place in this sentence

    def quantities(self, dimension: Dimension) -> tuple[tuple[int, Measured], ...]:
        """The measures of one dimension, with their places."""
        return tuple(one for one in self.measures if one[1].quantity.dimension is dimension)

    @property
    def oven(self) -> Measured | None:
        """The first setting of an oven."""
        return next((one for _, one in self.measures if one.purpose is Purpose.OVEN), None)

    @property
    def seconds(self) -> Fraction:
        """The longest time it names, at its shorter end; 0 where it names none."""
        times = [one.quantity.low for _, one in self.quantities(Dimension.DURATION)]
        return max(times, default=Fraction(0))

    def spot(self, start: int, end: int) -> Text:
        """The place of some of its words in the author's file; the whole step where marks break them up."""
        words = self.text[start:end]
        offset = self.step.text.find(words, min(self.start + start, len(self.step.text)))
        if offset < 0:
            offset = self.step.text.find(words)
        if offset < 0 or "\n" in self.step.text[:offset]:
            return Text(text=self.step.text, where=self.step.where)
        return Text(text=words, where=self.step.where.at(offset))


@remembered  # several checks ask about the same recipe in turn
def sentences(recipe: Recipe) -> tuple[Sentence, ...]:
    """Every sentence of every step, in order."""
    found: list[Sentence] = []
    number = 0
    for place, part in enumerate(recipe.parts):
        for step in part.steps:
            number += 1
            found.extend(_of_step(place, number, step))
    return tuple(found)


def _of_step(part: int, number: int, step: Step) -> Iterator[Sentence]:
    text = visible(step.spans)
    places: list[tuple[int, Measured]] = []
    at = 0
    for span in step.spans:
        if isinstance(span, Measured):
            places.append((at, span))
        at += len(span.text)
    for start, end in cut(text):
        inside = tuple((place - start, one) for place, one in places if start <= place < end)
        yield Sentence(
            part=part, number=number, step=step, text=text[start:end], start=start, measures=inside
        )


def cut(text: str) -> Iterator[tuple[int, int]]:
    """Where each sentence of ``text`` begins and ends."""
    start = 0
    for stop in STOP.finditer(text):
        if ABBREVIATED.search(text[start : stop.start() + 1]):
            continue
        if text[start : stop.end()].strip():
            yield start + len(text[start:]) - len(text[start:].lstrip()), stop.end()
        start = stop.end()
    if text[start:].strip():
        yield start + len(text[start:]) - len(text[start:].lstrip()), len(text)
