"""The words of one step, and what the words around one make of it: a verb, a cue, an aside."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property
from operator import itemgetter

from cardsmith.measure.larder import words
from cardsmith.recipe.naming import Token, descriptors, kitchen
from cardsmith.regex import regex

COOKS_DO = frozenset(words("butter oil flour salt sugar pepper cream sauce"))  # as verbs
_CLAUSE = regex(r"[,.;:]|\bthen\b")
_UNTIL = regex(r"\b(?:until|till|without|when)\b", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class StepWords:
    """One step as words."""

    step: int
    part: int
    text: str
    told: tuple[Token, ...]
    foods: frozenset[int]  # places in ``told`` of words that belong to a larder name
    amounts: frozenset[int] = frozenset()  # where each weight or volume ends in ``text``

    def word(self, at: int) -> str:
        """The word at a place; empty beyond the ends."""
        return self.told[at].word if 0 <= at < len(self.told) else ""

    def sentence(self, at: int, *also: str) -> list[str]:
        """The words of the sentence before the one at ``at``; marks of ``also`` begin one too."""
        marks = (". ", "; ", ": ", "! ", *also)
        start = max(self.text.rfind(mark, 0, self.told[at].start) for mark in marks)
        return [token.word for token in self.told[:at] if token.start > start]

    def is_cue(self, at: int) -> bool:
        """Whether the word stands in a clause that begins with until."""
        start = self.told[at].start
        clause, until = self._clauses, self._untils
        begins = clause[bisect_right(clause, start) - 1]
        last = bisect_right(until, start, key=itemgetter(1)) - 1
        return last >= 0 and until[last][0] >= begins

    @cached_property
    def _clauses(self) -> tuple[int, ...]:
        """Where each clause begins."""
        return (0, *(match.end() for match in _CLAUSE.finditer(self.text)))

    @cached_property
    def _untils(self) -> tuple[tuple[int, int], ...]:
        """Where words such as until begin and end."""
        return tuple(match.span() for match in _UNTIL.finditer(self.text))

    def is_verb(self, at: int, end: int) -> bool:
        """Whether the word is what a cook does: "butter the tin", "salt a pan of water"."""
        if end - at != 1 or self.word(end) not in ("the", "a", "an", "your", "each", "two", "and"):
            return False
        joined = self.word(end) != "and" and self.word(at - 1) in ("and", "then", "lightly", "generously")
        return (joined or not self.sentence(at)) and self.word(at) in COOKS_DO

    def is_plural(self, at: int) -> bool:
        """Whether the word was written with a plural s."""
        return self.text[self.told[at].end - 1].lower() == "s" and self.told[at].word[-1] != "s"

    def is_no_food(self, at: int, end: int) -> bool:
        """Whether a word that may be a food is none here: its juices, it leaves a trail, the green part."""
        word = self.word(at)
        pan = word == "juice" and self.is_plural(at)
        trail = word == "leaf" and self.word(end) in ("a", "an", "the", "no", "behind", "some")
        return end - at == 1 and (pan or trail or (word == "green" and not self.is_plural(at)))

    def is_aside(self, at: int, end: int) -> bool:
        """Whether a food is no ingredient here: ice-cream machine, size of a pea, until the oil shines."""
        if self.is_cue(at) or self.is_verb(at, end) or self.word(end) == "from":
            return True
        after = self.word(end) if end < len(self.told) and self.told[end].joined else ""
        before = self.sentence(at)
        return bool(
            after in kitchen("tool") | kitchen("likeness")
            or set(self.sentence(at, ", ")[-4:]) & kitchen("likeness")
            or set(before) & kitchen("serving")
        )

    def is_added(self, at: int) -> bool:
        """Whether the sentence adds the food: ``add``, or a verb with ``in``, ``with`` just before it."""
        before = self.sentence(at)
        adds = bool(set(before) & kitchen("adding")) and before[-1:] in (["in"], ["with"], ["over"])
        return adds or before[-1:] == ["add"]

    def is_measured(self, at: int) -> bool:
        """Whether a weight or a volume stands before the food: two teaspoons of cornflour."""
        for place in range(at - 1, -2, -1):
            end = self.told[place].end if place >= 0 else 0
            if any(end <= one <= self.told[place + 1].start for one in self.amounts):
                return True
            if self.word(place) not in descriptors() | {"of"}:
                return False
        return False

    def has_determiner(self, at: int) -> bool:
        """Whether "the" stands before the food, or before the foods it is named with."""
        for place in range(at - 1, -1, -1):
            word = self.word(place)
            if word in kitchen("determiner"):
                return True
            if place not in self.foods and word not in descriptors() | {"and", "or"}:
                return False
        return False
