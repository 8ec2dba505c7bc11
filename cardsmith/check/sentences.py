"""The method as a cook hears it: sentence by sentence, each with its place in the step."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.check.fields import Field, steps
from cardsmith.frozen import frozen
from cardsmith.language.spans import Kind, Measured, Purpose
from cardsmith.last_result import remembered
from cardsmith.recipe.model import Recipe, Text


@frozen
class Sentence:
    """One sentence of the method."""

    step: Field
    text: str  # as it is read
    start: int  # its place in the step
    measures: tuple[tuple[int, Measured], ...]  # each with its place in this sentence

    @property
    def number(self) -> int:
        """Its step's number, as the card counts."""
        return self.step.number

    @property
    def end(self) -> int:
        """Where it ends in the step."""
        return self.start + len(self.text)

    def of(self, kind: Kind) -> tuple[tuple[int, Measured], ...]:
        """The measures of one kind, with their places."""
        return tuple(measure for measure in self.measures if measure[1].kind is kind)

    @property
    def oven(self) -> Measured | None:
        """The first setting of an oven."""
        return next((measured for _, measured in self.measures if measured.purpose is Purpose.OVEN), None)

    @property
    def seconds(self) -> Fraction:
        """The longest time it names, at its shorter end; 0 where it names none."""
        return self.step.surely(self.start, self.end)

    def spot(self, start: int, end: int) -> Text:
        """The place of some of its words in the author's file; the whole step where marks break them up."""
        return self.step.spot(self.text[start:end], self.start + start)


@remembered  # several checks ask about the same recipe in turn
def sentences(recipe: Recipe) -> tuple[Sentence, ...]:
    """Every sentence of every step, in order."""
    return tuple(
        Sentence(
            step=step,
            text=step.text[start:end],
            start=start,
            measures=tuple(
                (at - start, span)
                for at, span in step.numerals
                if start <= at < end and isinstance(span, Measured)
            ),
        )
        for step in steps(recipe)
        for start, _, end in step.cuts
    )
