"""Every text that people write in a recipe, as it is read: its numerals with their places, its sentences."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property

from cardsmith.finding import Where
from cardsmith.language.spans import Kind, Measured, Purpose, Span, Told, Unread
from cardsmith.language.stops import stops
from cardsmith.last_result import remembered
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.recipe.mentions.mentions import visible
from cardsmith.recipe.model import Recipe, Text

Numeral = Measured | Told | Unread
AMOUNTS = frozenset({Kind.AMOUNT, Kind.COUNT, Kind.RATIO, Kind.PERCENT, Kind.TIMES})  # that say how much
REMARKS = frozenset({"title", "headnote", "notes"})  # nobody cooks by them


def numeral_kind(numeral: Numeral) -> Kind:
    """What a numeral is."""
    return Kind.UNREAD if isinstance(numeral, Unread) else numeral.kind


@dataclass(frozen=True, kw_only=True, eq=False)
class Field:
    """One text. Places are those of characters in ``text``; an ``end`` of None is that of the text."""

    recipe: Recipe = field(repr=False)
    name: str  # title, headnote, steps, ingredients, storage, notes, cautions, equipment or yield
    where: Where  # that of the whole recipe where the model keeps no place
    text: str  # as it is read
    spans: tuple[Span, ...] = field(repr=False)
    source: str = field(repr=False)  # with its marks
    number: int = 0  # of a step, from 1 through all parts, as the card counts

    @cached_property
    def numerals(self) -> tuple[tuple[int, Numeral], ...]:
        """Every numeral but those of links, in order."""
        numerals: list[tuple[int, Numeral]] = []
        at = 0
        for span in self.spans:
            if isinstance(span, Measured | Told | Unread):
                numerals.append((at, span))
            at += len(span.text)
        return tuple(numerals)

    def _between(self, start: int, end: int | None) -> Iterator[tuple[int, Numeral]]:
        return ((at, span) for at, span in self.numerals if at >= start and (end is None or at < end))

    def measures(self, *kinds: Kind, start: int = 0, end: int | None = None) -> list[tuple[int, Measured]]:
        """The measures of some kinds that begin between two places."""
        spans = self._between(start, end)
        return [(at, span) for at, span in spans if isinstance(span, Measured) and span.kind in kinds]

    def told(self, kind: Kind, start: int = 0, end: int | None = None) -> list[tuple[int, Told]]:
        """The numbers without a unit of one kind that begin between two places."""
        spans = self._between(start, end)
        return [(at, span) for at, span in spans if isinstance(span, Told) and span.kind is kind]

    def times(self, start: int = 0, end: int | None = None) -> list[tuple[int, Measured]]:
        """The durations that begin between two places."""
        return self.measures(Kind.DURATION, start=start, end=end)

    def longest(self, start: int = 0, end: int | None = None) -> Fraction:
        """The longest time between two places, at its upper end, in seconds; 0 where none is named."""
        return max((measured.quantity.high for _, measured in self.times(start, end)), default=Fraction(0))

    def surely(self, start: int = 0, end: int | None = None) -> Fraction:
        """The longest time between two places, at its lower end, in seconds; 0 where none is named."""
        return max((measured.quantity.low for _, measured in self.times(start, end)), default=Fraction(0))

    def temperatures(self, start: int = 0, end: int | None = None) -> list[tuple[int, Measured]]:
        """The temperatures with a scale that begin between two places."""
        return self.measures(Kind.TEMPERATURE, start=start, end=end)

    def is_inside(self, at: int) -> bool:
        """Whether a place lies within a numeral, behind its first character."""
        place = bisect_left(self.numerals, at, key=lambda pair: pair[0]) - 1
        return place >= 0 and at < self.numerals[place][0] + len(self.numerals[place][1].text)

    def is_unread(self, start: int = 0, end: int | None = None) -> bool:
        """Whether a number that nobody can read begins between two places; a finding asks about it."""
        return any(numeral_kind(span) is Kind.UNREAD for _, span in self._between(start, end))

    def says_how_much(self, start: int, end: int) -> bool:
        """Whether an amount, a count or a share begins between two places."""
        return any(numeral_kind(span) in AMOUNTS for _, span in self._between(start, end))

    @cached_property
    def cuts(self) -> tuple[tuple[int, int, int], ...]:
        """Each sentence: where it begins, where its words end, and where its stop does."""
        cuts: list[tuple[int, int, int]] = []
        begins = 0
        for stop, end in stops(self.text, self.is_inside):
            cuts.append((begins, stop, end))
            begins = end
        cuts.append((begins, len(self.text), len(self.text)))
        return tuple(
            (begins + len(words) - len(words.lstrip()), begins + len(words.rstrip()), stops)
            for begins, ends, stops in cuts
            if (words := self.text[begins:ends]).strip()
        )

    def _cut(self, at: int) -> tuple[int, int]:
        return (*self.cuts, (len(self.text),) * 3)[min(at, len(self.cuts))][:2]

    def _place(self, at: int) -> int:
        return bisect_right(self.cuts, at, key=lambda entry: entry[2] - 1)

    def sentence_at(self, at: int) -> tuple[int, int]:
        """Where the sentence around, or else after, a place begins, and where its words end."""
        return self._cut(self._place(at))

    def sentence(self, at: int) -> str:
        """The words of the sentence around, or else after, a place."""
        return self.text[slice(*self.sentence_at(at))]

    def sentence_after(self, at: int) -> str:
        """The words of the sentence after the one around a place; empty at the end."""
        return self.text[slice(*self._cut(self._place(at) + 1))]

    def before(self, at: int) -> str:
        """The words before a place in its sentence."""
        return self.text[self.sentence_at(at)[0] : at]

    def spot(self, phrase: str, start: int = 0) -> Text:
        """Where a phrase of it stands in the file, from ``start`` on; the field where marks part it."""
        if self.name in {"steps", "ingredients"}:
            offset = self.source.find(phrase, min(start, len(self.source)))
            offset = self.source.find(phrase) if offset < 0 else offset
            if offset < 0 or "\n" in self.source[:offset]:
                return Text(text=self.source, where=self.where)
            return Text(text=phrase, where=self.where.at(offset))
        return _found(self.recipe, self.name, phrase, self.place)

    @property
    def place(self) -> Where:
        """Where it begins in the author's file."""
        once = self.name in {"title", "headnote", "storage"}
        return place_of(self.recipe, self.name, self.text) if once else self.where


@remembered  # the card and every check ask about the same recipe in turn
def fields(recipe: Recipe) -> tuple[Field, ...]:
    """All texts of a recipe, its steps first."""
    return (*steps(recipe), *_others(recipe))


@remembered
def steps(recipe: Recipe) -> tuple[Field, ...]:
    """The steps, each at its place in ``recipe.steps``."""
    return tuple(
        Field(
            recipe=recipe,
            name="steps",
            where=step.where,
            text=visible(step.spans),
            spans=step.spans,
            source=step.text,
            number=number,
        )
        for number, step in enumerate(recipe.steps, 1)
    )


def oven_settings(texts: tuple[Field, ...]) -> Iterator[tuple[Field, int, Measured]]:
    """Every oven setting of some texts, with its text and place."""
    for text in texts:
        for at, span in text.temperatures():
            if span.purpose is Purpose.OVEN:
                yield text, at, span


def _others(recipe: Recipe) -> Iterator[Field]:
    top = recipe.where
    makes = recipe.yields.makes if recipe.yields else None
    texts = [
        ("title", recipe.title, top),
        ("headnote", recipe.headnote, top),
        ("storage", recipe.storage, top),
    ]
    texts += [("notes", note.text, note.where) for note in recipe.notes]
    texts += [("cautions", caution.text, caution.where) for caution in recipe.cautions]
    texts += [("equipment", tool.text, tool.where) for tool in recipe.equipment]
    texts += [("yield", makes.text, makes.where)] if makes else []
    for name, text, where in texts:
        yield read(recipe, name, text, where)
    for line in recipe.ingredients:
        if line.prep:
            yield replace(read(recipe, "ingredients", line.prep, line.where), source=line.text)


def read(recipe: Recipe, name: str, text: str, where: Where) -> Field:
    """One text of a recipe, read."""
    spans = spans_of(recipe, text, where)
    return Field(recipe=recipe, name=name, where=where, text=visible(spans), spans=spans, source=text)


def named(recipe: Recipe, name: str) -> Field:
    """The field of a name that every recipe has once: title, headnote or storage."""
    return next(text for text in fields(recipe) if text.name == name)


def place_of(recipe: Recipe, name: str, text: str) -> Where:
    """Where a top-level key's value begins, or its line; the recipe's where the file does not show it."""
    for number, line in enumerate(recipe.source.splitlines(), 1):
        match = re.match(rf"{name}[ \t]*:[ \t]*", line)
        if match:
            column = match.end() + 1 if line[match.end() :].startswith(text[:1]) else 1
            return Where(file=recipe.where.file, line=number, column=column, field=name)
    return recipe.where


def _found(recipe: Recipe, name: str, phrase: str, begins: Where) -> Text:
    """``phrase`` within a field that may run over several lines; where that begins if a line breaks it up."""
    lines = recipe.source.splitlines()
    for number in range(begins.line, len(lines) + 1 if begins.line else 0):
        line = lines[number - 1]
        if number > begins.line and line[:1].strip():
            break  # the next field
        column = line.find(phrase)
        if column >= 0:
            return Text(
                text=phrase, where=Where(file=begins.file, line=number, column=column + 1, field=name)
            )
    return Text(text=phrase, where=begins)
