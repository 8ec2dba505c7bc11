"""How the steps speak of one line outside any link, and how much of it they say they take."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction

from cardsmith.check.fields import Field, steps
from cardsmith.check.line_facts import sizes
from cardsmith.check.subject import Subject
from cardsmith.frozen import frozen
from cardsmith.language.spans import Kind
from cardsmith.last_result import remembered
from cardsmith.measure.larder import words
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import WEIGHED
from cardsmith.recipe.mentions.mentions import How, Mention, Mentions
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.recipe.weighed import weigh
from cardsmith.regex import regex

PARTLY = regex(
    r"\b(?:half|thirds?|quarters?|some|most|all but|bit|little|few|part|portion|pinch|spoonfuls?|handful|dash"
    r"|splash|drizzle|film|sprinkling|another|each|additions?|batch|batches"
    r"|thinly|at a time|lightly|divided?|scant|enough|first|piece|pieces|knob|much|pairs)\b",
    re.IGNORECASE,
)


@frozen
class Taken:
    """A step speaks of a line, with what stands around its name."""

    mention: Mention
    step: Field
    begins: int  # where its sentence begins in the step
    ends: int
    amount: Quantity | None  # the measure of it: 30 g of the sugar

    @property
    def number(self) -> int:
        """The step's number on the card."""
        return self.step.number

    @property
    def name(self) -> str:
        """What the step calls it."""
        return self.step.text[self.mention.start : self.mention.end]

    @property
    def before(self) -> str:
        """The sentence up to the mention."""
        return self.step.text[self.begins : self.mention.start]

    @property
    def after(self) -> str:
        """The sentence from the end of the mention on."""
        return self.step.text[self.mention.end : self.ends]

    @property
    def is_part(self) -> bool:
        """Whether the sentence says how much of it goes in."""
        if self.amount is not None or PARTLY.search(self.before) or PARTLY.search(self.after):
            return True
        return self.step.says_how_much(self.begins, self.ends)


def taken(subject: Subject, place: int) -> tuple[Taken, ...]:
    """How the steps speak of the line at ``place``, in order; cues only where there is nothing else."""
    return _all_taken(subject.recipe, subject.mentions).get(place, ())


@remembered  # five checks ask about every line
def _all_taken(recipe: Recipe, mentions: Mentions) -> dict[int, tuple[Taken, ...]]:
    by_place: dict[int, tuple[Taken, ...]] = {}
    texts = steps(recipe)
    spoken: dict[tuple[int, int, int], Taken] = {}  # one word may speak of many lines: the vegetables
    for place, mine in mentions.by_line.items():
        used = [other for other in mine if other.how is not How.CUE] or mine
        for mention in used:
            if (spot := (mention.step, mention.start, mention.end)) not in spoken:
                spoken[spot] = _taken(texts[mention.step], mention)
        uses = (replace(spoken[other.step, other.start, other.end], mention=other) for other in used)
        by_place[place] = tuple(sorted(uses, key=lambda use: (use.mention.step, use.mention.start)))
    return by_place


def _taken(step: Field, mention: Mention) -> Taken:
    begins, ends = step.sentence_at(mention.start)
    return Taken(mention=mention, step=step, begins=begins, ends=ends, amount=_amount_beside(step, mention))


def _amount_beside(step: Field, mention: Mention) -> Quantity | None:
    """The weight or volume right before a word, or after it in brackets: ``the milk (240 g)``."""
    for at, span in step.measures(Kind.AMOUNT):
        end = at + len(span.text)
        measured = span.quantity.dimension in WEIGHED and not span.adjective
        behind = step.text[mention.end : at] == " (" and step.text[end : end + 1] == ")"
        if measured and (behind or (end <= mention.start and _joins(step.text[end : mention.start]))):
            return span.quantity
    return None


def _joins(between: str) -> bool:
    """Whether only small words and descriptions stand between an amount and its food."""
    small = descriptors() | {"of", "the", "your", "this"}
    return set(words(between)) <= small and not re.search(r"[,.;:()]", between)


def in_line(line: Ingredient, amount: Quantity) -> tuple[Fraction, Fraction] | None:
    """An amount and the whole line in one measure; None where they cannot be compared."""
    for size in sizes(line):
        if size.dimension is amount.dimension and not size.is_vague:
            return amount.middle, size.middle
    if line.amount is None:
        return None
    part, whole = weigh(line, amount), weigh(line, line.amount)
    return (part.grams, whole.grams) if part and whole else None


def is_single(subject: Subject, use: Taken) -> bool:
    """Whether the words name one line only, and no list holds its food twice."""
    times = _times_listed(subject.recipe)[_food_of(subject.recipe.ingredients[use.mention.line])]
    return times == 1 and len(_lines_at(subject.mentions)[use.mention.step, use.mention.start]) == 1


@remembered
def _lines_at(mentions: Mentions) -> dict[tuple[int, int], set[int]]:
    """The lines that the word at each place of a step speaks of."""
    by_place: dict[tuple[int, int], set[int]] = {}
    for mention in mentions.found:
        by_place.setdefault((mention.step, mention.start), set()).add(mention.line)
    return by_place


@remembered
def _times_listed(recipe: Recipe) -> Counter[str]:
    """How many lines hold each food."""
    return Counter(map(_food_of, recipe.ingredients))


def _food_of(line: Ingredient) -> str:
    return line.food.key if line.food else line.item
