"""A recipe in the words of another edition: names, sizes of eggs, spelling; no number of it changes.

Words change by table alone (`names.py`), each change is kept for the proof, and what no table settles is
asked: the edition carries a query until the recipe answers it under ``editions:``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import groupby

from cardsmith.edition.cans import unsold
from cardsmith.edition.markets import markets
from cardsmith.edition.names import ASKED, asked_of, size_in, swaps
from cardsmith.edition.swaps import swapped
from cardsmith.edition.words import Change, Edit, Wording, applied, listed
from cardsmith.finding import Finding, Severity
from cardsmith.frozen import frozen
from cardsmith.language.declension import one as one_of
from cardsmith.language.spans import Draw, Span, Words
from cardsmith.measure.larder import Larder, words
from cardsmith.recipe.model import EditionAnswer, Ingredient, Part, Recipe, Step, Text, Yield

# The word by which a vessel goes once it is known, and other vessels that go by it too.
SHORT = {
    "pan": ("frying pan", "saucepan", "sauté pan", "grill pan", "frypan", "skillet"),
    "plate": ("a plate", "plates", "hot plate", "serving plate"),
}


@frozen
class Reworded:
    """A recipe in the words of an edition, what changed, and what is to be said of it."""

    recipe: Recipe
    changes: tuple[Change, ...] = ()
    findings: tuple[Finding, ...] = ()


def reworded(recipe: Recipe, larder: Larder, home: str, key: str) -> Reworded:
    """``recipe``, written in the edition ``home``, in the words of the edition ``key``."""
    return _Rewording(recipe, larder, home, key).result()


class _Rewording:
    """One recipe on its way into an edition; a class only to gather its changes and findings."""

    def __init__(self, recipe: Recipe, larder: Larder, home: str, key: str) -> None:
        self.larder, self.home, self.key = larder, home, key
        self.source, self.market = recipe, markets()[key].name
        self.answers = answers_of(recipe, key)
        self.used: set[str] = set()
        self.findings: list[Finding] = []
        self.changes: list[Change] = []
        self.renamed: list[Change] = []
        self.texts: list[str] = []  # as reworded
        self.lines = {line.where: self._lines(line) for line in recipe.ingredients}
        foods = {line.food.key for line in recipe.ingredients if line.food}
        self.pairs = (*self._word_answers(), *self.renamed, *swaps(foods, home, key))
        self.wording = Wording.of(self.pairs)

    def result(self) -> Reworded:
        """The recipe reworded; a second time where a vessel's short name has changed with its whole one."""
        before = tuple(self.changes)
        recipe = self._recipe()
        short = tuple(self._short_names())
        if short:
            self.wording, self.changes = Wording.of((*self.pairs, *short)), list(before)
            recipe = self._recipe()
        found = (*self.findings, *self._unused())
        return Reworded(recipe=recipe, changes=tuple(listed(self.changes)), findings=found)

    def _recipe(self) -> Recipe:
        source = self.source
        return replace(
            source,
            title=self.told(source.title),
            headnote=self.told(source.headnote),
            parts=tuple(self._part(part) for part in source.parts),
            yields=self._yields(source.yields) if source.yields else None,
            equipment=self._texts(source.equipment),
            storage=self.told(source.storage),
            notes=self._texts(source.notes),
            cautions=self._texts(source.cautions),
        )

    def _short_names(self) -> Iterator[Change]:
        """What a vessel's last word stands for by itself: *the pan* after a cake pan is the tin.

        Asked where several vessels of the recipe may be meant.
        """
        text = " ".join(self.texts)
        for short, others in SHORT.items():
            told = {_last(new) for old, new in self.changes if _last(old) == short}
            bare = Wording.of((*((one, one) for one in others), (short, ASKED))).edits(text)
            if not told or not bare or any(one.name == short for one in self.answers):
                continue
            told |= {short for one in others if one in text}
            if len(told) == 1:
                yield from (*((one, one) for one in others), (short, told.pop()))
            else:
                self.findings.append(self._asks_which(short, sorted(told)))

    def _asks_which(self, short: str, told: list[str]) -> Finding:
        return Finding(
            name="edition-asks",
            severity=Severity.WARNING,
            where=self.source.where,
            what=f"in the {self.market} “the {short}” may be the {' or the '.join(told)}",
            instead=f"which it is: editions: {{{self.key}: {{{short}: {told[-1]}}}}}",
        )

    # --- what its author answered ---

    def _lines(self, line: Ingredient) -> tuple[Ingredient, ...]:
        """A line of the list, or those in its place; of what has no plain swap, a question."""
        asked = asked_of(line.food, self.home, self.key)
        answer = next((one for one in self.answers if _means(one, line, self.larder)), None)
        if answer is None:
            if asked:
                told = next((name for name in asked.said if name in line.item), line.item)
                self._ask(line, told, f"has no plain swap: {asked.why}")
            elif sold := unsold(line, self.key):
                self._ask(
                    line, line.item, f"is sold in cans of {sold}; say how many, and where the rest goes"
                )
            return (line,)
        self.used.add(answer.name)
        made = swapped(line, answer, self.larder, self.key)
        self.findings += made.findings
        first = made.lines[0]
        new = answer.instead if first.amount is line.amount else first.item
        old = dict.fromkeys((answer.name, *(asked.said if asked else ())))
        self.renamed += [(one, new) for one in old]
        if first.amount is not line.amount:
            self.changes.append((line.text, answer.instead))
        return made.lines

    def _word_answers(self) -> Iterator[Change]:
        """Answers that name no food of the list are words for words."""
        for one in self.answers:
            if one.name not in self.used:
                yield one.name, one.instead

    def _ask(self, line: Ingredient, told: str, why: str) -> None:
        self.findings.append(
            Finding(
                name="edition-asks",
                severity=Severity.WARNING,
                where=line.where,
                what=f"in the {self.market} “{told}” {why}",
                instead=f"what to buy there: editions: {{{self.key}: {{{told}: …}}}}, with its amount where "
                "that differs",
                width=max(1, len(line.text)),
            )
        )

    def _unused(self) -> Iterator[Finding]:
        """Answers that change nothing."""
        said = {words(one) for one, _ in self.changes}
        for one in self.answers:
            if one.name not in self.used and words(one.name) not in said:
                yield Finding(
                    name="edition-answer-unused",
                    severity=Severity.NOTE,
                    where=one.where,
                    what=f"editions: “{one.name}” stands nowhere in the recipe",
                    instead="the words as the recipe has them, or take it out",
                    width=1,
                )

    # --- the words ---

    def told(self, text: str) -> str:
        new, changes = self.wording.told(text) if text else (text, ())
        self.changes += changes
        self.texts.append(new)
        return new

    def _text(self, text: Text) -> Text:
        new = self.told(text.text)
        return text if new == text.text else replace(text, text=new)

    def _texts(self, texts: Iterable[Text]) -> tuple[Text, ...]:
        return tuple(self._text(one) for one in texts)

    def _part(self, part: Part) -> Part:
        return replace(
            part,
            name=self.told(part.name),
            ingredients=tuple(self._line(line) for old in part.ingredients for line in self.lines[old.where]),
            steps=tuple(self._step(step) for step in part.steps),
        )

    def _line(self, line: Ingredient) -> Ingredient:
        size = size_in(line.food, line.size, self.home, self.key) if line.size else ""
        item = self.told(line.item)
        if size != line.size:  # a word alone: what one weighs is still that of the author's
            self.changes.append((f"{line.size} {line.item}", f"{size} {item}"))
            item = f"{size} {item.removeprefix(line.size).lstrip()}"
        return replace(
            line,
            item=item,
            size="" if size != line.size else line.size,
            prep=self.told(line.prep),
            for_use=self.told(line.for_use),
            alternatives=tuple(self.told(one) for one in line.alternatives),
            extras=tuple(
                replace(one, use=self.told(one.use), text=self.told(one.text)) for one in line.extras
            ),
        )

    def _step(self, step: Step) -> Step:
        return replace(step, spans=tuple(self._spans(step.spans)))

    def _spans(self, spans: tuple[Span, ...]) -> Iterator[Span]:
        """Words next to each other are read as one text: a phrase may hold a number (half-sheet pan)."""
        for is_words, group in groupby(spans, lambda span: isinstance(span, Words)):
            if is_words:
                some = [span for span in group if isinstance(span, Words)]
                edits = self.wording.edits("".join(span.text for span in some))
                self.changes += [one.change for one in edits]
                edited = tuple(_edited(some, edits)) if edits else tuple(some)
                self.texts.append("".join(one.text for one in edited))
                yield from edited
            else:
                yield from (self._drawn(span) if isinstance(span, Draw) else span for span in group)

    def _drawn(self, span: Draw) -> Draw:
        return replace(span, text=self.told(span.text))

    def _yields(self, yields: Yield) -> Yield:
        makes = self._text(yields.makes) if yields.makes else None
        serves = self._text(yields.serves) if yields.serves else None
        return replace(yields, makes=makes, serves=serves, makes_item=self.told(yields.makes_item))


def _edited(spans: Iterable[Words], edits: tuple[Edit, ...]) -> Iterator[Words]:
    """Spans of one text with its edits made, each in the span it begins in; what it covers gives way."""
    start = 0
    for span in spans:
        end = start + len(span.text)
        covered = max((one.end for one in edits if one.start < start), default=start)
        here = [
            replace(one, start=one.start - start, end=min(one.end, end) - start)
            for one in edits
            if start <= one.start < end
        ]
        text = applied(span.text, here)[max(covered - start, 0) :] if covered < end else ""
        if text == span.text:
            yield span
        elif text:
            yield Words(text=text, emphasis=span.emphasis)
        start = end


def _last(phrase: str) -> str:
    """The last word of a phrase, in the singular."""
    return one_of(phrase.lower().split()[-1])


def answers_of(recipe: Recipe, key: str) -> tuple[EditionAnswer, ...]:
    """What a recipe says of an edition."""
    return next((one.answers for one in recipe.editions if one.key == key), ())


def _means(answer: EditionAnswer, line: Ingredient, larder: Larder) -> bool:
    """Whether an answer is about a line: it names its food, or its item."""
    told = words(answer.name)
    if told and told == words(line.item):
        return True
    found = larder.find(answer.name)
    return line.food is not None and found is not None and found.food.key == line.food.key
