"""The words of one step, and what the words around one make of it: a verb, a cue, an aside."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import field
from functools import cache, cached_property
from operator import itemgetter

from cardsmith.frozen import frozen
from cardsmith.language.spans import Kind, Measured, Told
from cardsmith.language.stops import stops
from cardsmith.measure.larder import Food, words
from cardsmith.measure.units import WEIGHED
from cardsmith.recipe.mentions.naming import StepWord, descriptors, kitchen, measures
from cardsmith.recipe.model import Step
from cardsmith.reference import table
from cardsmith.regex import regex

PARTICLES = frozenset(words("back over through up down off on round around aside together away"))
_PUT = frozenset({"with", "in", "over"})  # "top with feta", "stir in the oats", "grate over"
_SMALL = frozenset(words("few another its both all"))
_ENDS = frozenset(  # of what descriptors.csv has, what stands before a noun phrase
    words("for from in into on to with without then at as if after before down no not like boil pan such run")
)
ORGANS = frozenset(words("seed pod leaf stem stalk stick root skin peel core flower frond"))  # of a plant
_OBJECTS = frozenset(words("the a an them it each"))
_FOLLOW = frozenset(  # what may follow the last word of a noun phrase
    words("a an all and are as aside at away back by dry for from if in into is lightly on one onto or over")
    + words("rest so then through to together under until up well while with")
)
_LEFT = frozenset(words("rest left remaining else"))
_BUT = frozenset(words("but except excepting save bar apart aside minus without"))
_BUT_FOR = frozenset(words("for from"))  # "except for", "apart from"
_ALSO = frozenset(words("and or nor"))
COOKS_DO = frozenset(words("butter oil flour salt sugar pepper cream sauce"))  # as verbs
_CLAUSE = regex(r"[,.;:]|\bthen\b")
_OBJECT_ENDS = regex(r"[,.;:]|\b(?:and|then)\b")
_UNTIL = regex(r"\b(?:until|till|without|when)\b", re.IGNORECASE)


@frozen(slots=False)
class StepWords:
    """One step as words."""

    step: int
    part: int
    text: str
    told: tuple[StepWord, ...]
    foods: frozenset[int]  # places in ``told`` of words that belong to a larder name
    named: Mapping[int, tuple[tuple[str, ...], Food]] = field(default_factory=dict)  # that begin there
    amounts: frozenset[int] = frozenset()  # where each weight or volume ends in ``text``

    def word(self, at: int) -> str:
        """The word at a place; empty beyond the ends."""
        return self.told[at].word if 0 <= at < len(self.told) else ""

    def sentence(self, at: int, *also: str) -> list[str]:
        """The words of the sentence before the one at ``at``; marks of ``also`` begin one too."""
        place = self.told[at].start
        stop = bisect_right(self._stops, place)
        marks = (self.text.rfind(mark, 0, place) for mark in (": ", *also))
        start = max(self._stops[stop - 1] if stop else 0, *marks)
        return [token.word for token in self.told[:at] if token.start >= start]

    @cached_property
    def _stops(self) -> tuple[int, ...]:
        """Where each sentence ends."""
        return tuple(end for _, end in stops(self.text))

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

    def is_cut(self, at: int) -> bool:
        """Whether a word is what a knife leaves: the rings, the crumbs; never half of it, nor a piece."""
        return self.is_plural(at) or (self.word(at) not in measures() and self.has_determiner(at))

    def is_whole_list(self, at: int) -> bool:
        """Whether a word means all that is listed: everything, the ingredients, the rest of the list."""
        word = self.word(at)
        if word == "list":
            before = set(self.sentence(at))
            return bool(before & _LEFT) and not before & {"dry", "wet"}
        if word == "all":
            return self._exception(at) is not None
        return word == "everything" or (word == "ingredient" and self.word(at - 1) not in ("dry", "wet"))

    @cached_property
    def left_out(self) -> tuple[tuple[int, int, int], ...]:
        """What is left out of a list, in characters: where the word for the list begins, and the exception.

        "mix everything but the cherries"
        """
        exceptions = (
            (self.told[at].start, self._exception(at))
            for at in range(len(self.told))
            if self.is_whole_list(at)
        )
        return tuple((start, *ends) for start, ends in exceptions if ends is not None)

    def is_left_out(self, start: int) -> bool:
        """Whether the word that begins at a character is mentioned only as left out."""
        return any(first <= start < end for _, first, end in self.left_out)

    def _exception(self, at: int) -> tuple[int, int] | None:
        """What the list named at a place leaves out; None for a part: "all but half of the sugar"."""
        place = at + 1 + (self.word(at + 1) == "else")
        if self.word(place) not in _BUT or set(".;:!?") & set(self._gap(place - 1)):
            return None
        first = place = place + 1 + (self.word(place + 1) in _BUT_FOR)
        while place < len(self.told) and (self._is_of_phrase(place) or self.word(place) in _ALSO):
            place += 1
            if self._is_apart(place - 1):
                break
        part = any(self.word(index) == "of" and index - 1 not in self.foods for index in range(first, place))
        if part or self.foods.isdisjoint(range(first, place)):
            return None
        return self.told[first].start, self.told[place - 1].end

    def is_no_food(self, at: int, end: int) -> bool:
        """Whether a word for a food is not one here: its juices, it leaves a trail, a heavy skillet."""
        word = self.word(at)
        pan = word == "juice" and self.is_plural(at)
        trail = word == "leaf" and self.word(end) in ("a", "an", "the", "no", "behind", "some")
        adjective = word == "heavy" or (word == "green" and not self.is_plural(at))
        return end - at == 1 and (pan or trail or adjective)

    def is_no_class(self, at: int) -> bool:
        """Whether a word for a class is not one here: vanilla seeds, seed the melon, check the seasoning."""
        word, plural = self.word(at), self.is_plural(at)
        verb = not plural and self.word(at + 1) in _OBJECTS
        organ = word in ORGANS and self.told[at].joined and at - 1 in self.foods
        return verb or organ or (word == "seasoning" and not plural)

    def ends_phrase(self, at: int) -> bool:
        """Whether no noun goes on from the word before ``at``: the lamb, not the lamb fat."""
        return at >= len(self.told) or not self.told[at].joined or self.word(at) in _FOLLOW

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
        """Whether the cook puts the food in: "add feta", "top with diced feta", "stir in oats and feta"."""
        before = self._before(at)
        if before < 0 or self._is_apart(before):
            return False
        if self.word(before) in kitchen("adding"):
            return True
        if self.word(before) == "on":  # "spoon on the filling"
            return self.word(before - 1) in kitchen("adding")
        adds = bool(set(self.sentence(at)) & kitchen("adding"))
        return adds and self.word(before) in _PUT

    def is_object_of(self, at: int, verbs: frozenset[str]) -> bool:
        """Whether one of ``verbs`` takes the thing that ends at a place: "whisk the tahini dressing"."""
        before = self._before(at)
        return before >= 0 and not self._is_apart(before) and self.word(before) in verbs

    def object_after(self, at: int) -> list[str]:
        """The words after one, up to the next comma, full stop or and."""
        end = _OBJECT_ENDS.search(self.text, self.told[at].end)
        stop = end.start() if end else len(self.text)
        return [token.word for token in self.told[at + 1 :] if token.start < stop]

    def is_made_here(self, at: int) -> bool:
        """Whether the food is what something turns into: "shape into 12 sausages"."""
        return self.word(self._before(at)) == "into" and not self.has_determiner(at)

    def is_measured(self, at: int) -> bool:
        """Whether an amount stands before the food: two teaspoons of cornflour, 1 egg."""
        for place in range(at - 1, -2, -1):
            end = self.told[place].end if place >= 0 else 0
            if any(end <= amount_end <= self.told[place + 1].start for amount_end in self.amounts):
                return True
            if self.word(place) not in descriptors() | {"of"}:
                return False
        return False

    def has_determiner(self, at: int) -> bool:
        """Whether "the" stands before the food, or before the foods it is named with."""
        return any(self.word(place) in kitchen("determiner") for place in range(self._before(at) + 1, at))

    def _before(self, at: int) -> int:
        """The last word before a food that is neither of its own phrase nor of foods named with it."""
        place = at - 1
        while place >= 0 and not self._is_apart(place) and self._is_of_phrase(place):
            place -= 1
        return place

    def _is_apart(self, place: int) -> bool:
        """Whether a sentence ends, or a bracket begins, between a word and the next."""
        return any(mark in self._gap(place) for mark in ".;:!?(")

    def _gap(self, place: int) -> str:
        """What stands between a word and the next."""
        after = self.told[place + 1].start if place + 1 < len(self.told) else len(self.text)
        return self.text[self.told[place].end : after]

    def _is_of_phrase(self, place: int) -> bool:
        """Whether a word may stand inside a noun phrase: another food, a description, an amount."""
        word = self.word(place)
        if word in kitchen("adding") and (place not in self.foods or not self.sentence(place)):
            return False  # "heat butter", "cream butter and sugar"
        if place in self.foods or word in _phrase_words() or word.isnumeric():
            return True
        if word in mixtures() and (self.word(place + 1) == "and" or not self.told[place + 1].joined):
            return True  # "stir in the butter mixture, oats and nuts"
        return any(self.told[place].start < end <= self.told[place].end for end in self.amounts)


@cache
def mixtures() -> frozenset[str]:
    """Words for what is mixed on the way: dough, glaze, mixture."""
    return frozenset(words(row["word"])[0] for row in table("step_nouns") if row["kind"] == "mixture")


@cache
def _phrase_words() -> frozenset[str]:
    small = _SMALL | kitchen("determiner") | kitchen("form")
    return (descriptors() | measures() | small) - _ENDS


def amounts(step: Step) -> frozenset[int]:
    """Where each weight, volume or count of a step ends."""
    ends, end = set(), 0
    for span in step.spans:
        end += len(span.text)
        counts = isinstance(span, Told) and span.kind is Kind.COUNT
        weighs = isinstance(span, Measured) and span.kind is Kind.AMOUNT and not span.adjective
        if counts or (weighs and isinstance(span, Measured) and span.quantity.dimension in WEIGHED):
            ends.add(end)
    return frozenset(ends)
