"""Which step speaks of which ingredient: by link, by name, by its head noun, or by a word for its class."""

from __future__ import annotations

import enum
from collections import Counter
from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import TypeVar

from cardsmith.frozen import frozen
from cardsmith.language.spans import Span
from cardsmith.measure.larder import Food
from cardsmith.recipe.mentions.step_words import StepWords

K = TypeVar("K")
V = TypeVar("V")


@enum.unique
class How(enum.StrEnum):
    """How sure it is that a step means an ingredient."""

    LINK = "link"  # the author tied the words to its key
    NAME = "name"  # its name, or the noun of its name
    PART = "part"  # what is got from it: the zest of a lemon, the yolk of an egg
    CLASS = "class"  # "the vegetables", "the dry ingredients"
    CUE = "cue"  # "until the sugar has dissolved": spoken of, hardly used


@frozen
class Mention:
    """One step speaks of one line; both by their place in ``recipe.steps`` and ``recipe.ingredients``."""

    step: int
    line: int
    how: How
    start: int  # in the step's visible text
    end: int
    added: bool = False  # of another part, and the step puts it in


@frozen
class Stranger:
    """A step speaks of a food of the larder that no line holds."""

    step: int
    food: Food
    text: str
    start: int
    end: int
    certain: bool  # "the butter", rather than "butter" after a verb


@frozen(slots=False)
class Mentions:
    """All that the steps of one recipe speak of."""

    found: tuple[Mention, ...]
    strangers: tuple[Stranger, ...]
    steps: tuple[StepWords, ...]  # the words that were read

    @cached_property
    def by_line(self) -> Mapping[int, tuple[Mention, ...]]:
        """The mentions of each line that has any."""
        return grouped((mention.line, mention) for mention in self.found)

    @cached_property
    def by_step(self) -> Mapping[int, tuple[Mention, ...]]:
        """The mentions in each step that has any."""
        return grouped((mention.step, mention) for mention in self.found)

    @cached_property
    def lines_at(self) -> Counter[tuple[int, int, int]]:
        """How many lines the same words of a step may mean, by the step and where they begin and end."""
        return Counter((mention.step, mention.start, mention.end) for mention in self.found)

    def steps_of(self, line: int, *, by_name: bool = False) -> tuple[int, ...]:
        """The steps that use a line, in order; those that only name it as a cue where there are no others.

        With ``by_name`` a word for its class does not count.
        """
        every = self.by_line.get(line, ())
        named = [mention for mention in every if not (by_name and mention.how is How.CLASS)]
        used = [mention for mention in named if mention.how is not How.CUE] or named
        return tuple(sorted({mention.step for mention in used}))

    def lines_of(self, step: int) -> tuple[int, ...]:
        """The lines a step uses, in the order of the list."""
        mentions = self.by_step.get(step, ())
        return tuple(sorted({mention.line for mention in mentions if mention.how is not How.CUE}))


def grouped(pairs: Iterable[tuple[K, V]]) -> Mapping[K, tuple[V, ...]]:
    """Values by their key, in order."""
    by_key: dict[K, list[V]] = {}
    for key, value in pairs:
        by_key.setdefault(key, []).append(value)
    return {key: tuple(values) for key, values in by_key.items()}


def visible(spans: Iterable[Span]) -> str:
    """The text of a step as it is read."""
    return "".join(span.text for span in spans)
