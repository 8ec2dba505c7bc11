"""Portions of lines and the pots that they lie in, as they change from clause to clause."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction

from cardsmith.facts.method.events import Event
from cardsmith.language.spans import Draw
from cardsmith.measure.larder import words
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.recipe.model import Recipe

EMPTY_WORDS = frozenset(words("for the to and of with a an top serve serving finish finishing"))


@dataclass(eq=False, slots=True)
class PartOfLine:
    """All of a line, or a part of it with a path of its own: the yolks, the rest of the butter."""

    line: int
    tag: str
    events: list[Event] = field(default_factory=list)


@dataclass(eq=False, slots=True)
class Pot:
    """Portions that lie together, in a bowl, a pan, a dough."""

    part: int
    portions: dict[PartOfLine, None] = field(default_factory=dict)
    names: set[str] = field(default_factory=set)
    is_on: bool = False  # over heat, or still hot from it
    is_aside: bool = False  # cooked, and put on a plate out of the pan
    celsius: Fraction | None = None  # of its syrup
    used: int = 0  # when last spoken of


def once(pots: Iterable[Pot]) -> list[Pot]:
    """Each pot once, in order."""
    return list(dict.fromkeys(pots))


def names(name: str) -> frozenset[str]:
    """The words by which a part is spoken of; its noun alone where several would do."""
    own_words = [word for word in words(name) if word not in EMPTY_WORDS | descriptors()]
    return frozenset(own_words[-1:])


def drawn(recipe: Recipe) -> dict[tuple[int, int], Draw]:
    """Every link of the steps, by its step and where it begins."""
    by_place: dict[tuple[int, int], Draw] = {}
    for number, step in enumerate(recipe.steps):
        at = 0
        for span in step.spans:
            if isinstance(span, Draw):
                by_place[number, at] = span
            at += len(span.text)
    return by_place
