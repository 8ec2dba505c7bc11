"""A recipe in the words of another edition: names, sizes of eggs, spelling, quotes; no number of it changes.

Words change by table alone (`names.py`, `spelling.py`), each change is kept for the proof, and what no table
settles is asked: the edition carries a query until the recipe answers it under ``editions:``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import groupby

from cardsmith.edition.asks import asked
from cardsmith.edition.claims import claim_words, claims_asked
from cardsmith.edition.counts import counted_there
from cardsmith.edition.lines import Editing, LineThere, line_there
from cardsmith.edition.markets import Market
from cardsmith.edition.names import ASKED, BEATEN, IN_LIST, LISTED, OF_EQUIPMENT, always, beside, names
from cardsmith.edition.quotes import requoted
from cardsmith.edition.sold import unsold_pans
from cardsmith.edition.spelling import doubtful, doubts, kept_wording, spellings
from cardsmith.edition.vessels import SHORT, Vessels, vessels
from cardsmith.edition.words import Change, Edit, Wording, applied, listed
from cardsmith.finding import Finding, Severity
from cardsmith.frozen import frozen
from cardsmith.language.dates import in_form
from cardsmith.language.declension import many
from cardsmith.language.declension import one as one_of
from cardsmith.language.spans import Draw, Span, Words
from cardsmith.measure.larder import Larder, words
from cardsmith.recipe.model import EditionAnswer, Ingredient, Part, Recipe, Step, Text, Yield
from cardsmith.reference import Tables

EGG = Fraction(5, 100)  # of what a house lets governing foods stand off, where nobody says


@frozen
class Reworded:
    """A recipe in the words of an edition, what changed, and what is to be said of it."""

    recipe: Recipe
    changes: tuple[Change, ...] = ()
    findings: tuple[Finding, ...] = ()


def reworded(
    recipe: Recipe, larder: Larder, home: Market, market: Market, within: Fraction = EGG
) -> Reworded:
    """``recipe``, written in the edition ``home``, in the words of ``market``; eggs stand off ``within``."""
    return _Rewording(recipe, Editing(larder=larder, home=home, market=market, within=within)).result()


class _Rewording:
    """One recipe on its way into an edition; a class only to gather its changes and findings."""

    def __init__(self, recipe: Recipe, made_by: Editing) -> None:
        home, market, tables = made_by.home, made_by.market, recipe.tables
        self.source, self.home, self.market = recipe, home, market
        self.answers = answers_of(recipe, market.key)
        self.changes: list[Change] = []
        self.sources: list[str] = []  # as its author has them
        self.texts: list[str] = []  # as reworded
        self.vessels: tuple[Vessels, ...] = ()  # that go by a short word, once their names are known
        self.named: dict[str, list[str]] = {}  # by their whole names, in the steps of a part so far
        self.unclear: set[str] = set()  # the short words that may mean one or another
        self.there: dict[object, LineThere] = {
            line.where: line_there(line, self.answers, made_by) for line in recipe.ingredients
        }
        every = tuple(self.there.values())
        self.findings = [finding for line in every for finding in line.findings]
        self.findings += (
            *unsold_pans(recipe, market),
            *claims_asked(recipe, market, {answer.name.lower() for answer in self.answers}),
        )
        self.used = {line.answered for line in every}
        foods = {line.food.key for line in recipe.ingredients if line.food}
        self.own = Wording.of(
            (
                *self._word_answers(),
                *(pair for line in every for pair in line.renamed),
                *(beside(foods, BEATEN, home, market, tables) if _beats_sugar(recipe) else ()),
                *_of_others(recipe, home, market),
                *beside(foods, LISTED, home, market, tables),
            )
        )
        self.wording = self.own.before(_usual(home, market, tables))
        self.in_list = Wording.of(beside(foods, IN_LIST, home, market, tables)).before(self.wording)

    def result(self) -> Reworded:
        """The recipe reworded; a second time where a vessel's short name has changed with its whole one."""
        before = tuple(change for line in self.there.values() for change in line.changes)
        self.changes = list(before)
        recipe = self._recipe()
        sources = " ".join(self.sources)
        answered = {answer.name for answer in self.answers}
        found_here = vessels(self.source, self.changes, " ".join((sources, *self.texts)))
        self.vessels = tuple(vessel for vessel in found_here if vessel.short not in answered)
        if self.vessels:
            self.changes = list(before)
            recipe = self._recipe()
        self.findings += (self._asks_which(vessel) for vessel in self.vessels if vessel.short in self.unclear)
        findings = (*self.findings, *self._unsettled(sources), *self._unused(), *self._without_a_step(recipe))
        return Reworded(recipe=recipe, changes=tuple(listed(self.changes)), findings=findings)

    def _recipe(self) -> Recipe:
        source = self.source
        return replace(
            source,
            title=self.told(source.title),
            headnote=self.told(source.headnote),
            parts=tuple(self._part(part) for part in source.parts),
            yields=self._yields(source.yields) if source.yields else None,
            equipment=tuple(self._tool(text) for text in source.equipment),
            storage=self.told(source.storage),
            notes=self._texts(source.notes),
            cautions=self._texts(source.cautions),
            claims=self._texts(source.claims),
            keywords=self._texts(source.keywords),
            photo=replace(source.photo, alt=self.told(source.photo.alt)) if source.photo else None,
            corrections=tuple(
                replace(correction, what=self.told(correction.what)) for correction in source.corrections
            ),
        )

    def _asks_which(self, vessels: Vessels) -> Finding:
        short, choices = vessels.short, sorted({*vessels.names.values(), vessels.short})
        which = next(name for name in reversed(choices) if name != short)
        return asked(
            self.source.where,
            f"in the {self.market.name} “the {short}” may be the {' or the '.join(choices)}",
            f"which it is: editions: {{{self.market.key}: {{{short}: {which}}}}}",
        )

    def _by_vessel(self, text: str, wording: Wording, *, in_step: bool = False) -> Wording:
        """A wording with the word there of each vessel that a text calls by its short name."""
        for vessel in self.vessels:
            named = self.named.setdefault(vessel.short, [])
            meant = set(vessel.meant(text, named if in_step else vessel.names))
            if in_step:
                named += vessel.named_in(text)
            if ASKED in meant or len(meant) > 1:
                self.unclear.add(vessel.short)
            elif meant:
                kept = ((name, name) for name in SHORT[vessel.short])
                wording = wording.before(Wording.of((*kept, (vessel.short, meant.pop())), in_compounds=False))
        return wording

    def _unsettled(self, text: str) -> Iterator[Finding]:
        """Words that no table settles: of an ending spelled otherwise there, or of another meaning."""
        answered = {answer.name.lower() for answer in self.answers}
        for word, _, other in doubtful(text, self.home, self.market, self.source.tables):
            if word.lower() not in answered:
                yield asked(
                    self.source.where,
                    f"in the {self.market.name} “{word}” may have {other}, which no table settles",
                    f"how it is spelled there: editions: {{{self.market.key}: {{{word.lower()}: …}}}}",
                )
        why = {doubt.word.lower(): doubt.why for doubt in doubts(self.home, self.market)}
        settled = self.own.before(_doubting(self.home, self.market, self.source.tables))
        doubted = (edit.change[0].lower() for edit in settled.edits(text) if ASKED in edit.change[1])
        phrases = (" ".join(phrase.split()) for phrase in doubted)
        for word in dict.fromkeys(phrases):
            reason = why.get(word) or why[one_of(word)]
            yield asked(
                self.source.where,
                f"in the {self.market.name} “{word}” may mean another thing: {reason}",
                f"the word there, or the same one: editions: {{{self.market.key}: {{{word}: …}}}}",
            )

    def _word_answers(self) -> Iterator[Change]:
        """Answers that name no food of the list are words for words."""
        for answer in self.answers:
            if answer.name not in self.used:
                yield answer.name, answer.instead

    def _unused(self) -> Iterator[Finding]:
        """Answers that change nothing."""
        said = {words(old) for old, _ in self.changes}
        for answer in self.answers:
            same = answer.name.lower() == answer.instead.lower()  # it says that a word is right
            if answer.name not in self.used and words(answer.name) not in said and not same:
                yield asked(
                    answer.where,
                    f"editions: “{answer.name}” stands nowhere in the recipe",
                    "the words as the recipe has them, or take it out",
                    name="edition-answer-unused",
                    severity=Severity.NOTE,
                )

    def _without_a_step(self, recipe: Recipe) -> Iterator[Finding]:
        """What an answer adds, where neither a step nor the line before it says what becomes of it."""
        steps = " ".join(span.text for step in recipe.steps for span in step.spans if isinstance(span, Words))
        key, name = self.market.key, self.market.name
        for first, *more in (there.lines for there in self.there.values()):
            named = {*words(steps), *words(first.item), *words(first.prep)}
            for line in more:
                if line.item and words(line.item)[-1] not in named:
                    yield asked(
                        line.where,
                        f"in the {name} no step uses “{line.item}”, which an answer adds",
                        f"the words of its step: editions: {{{key}: {{the cream: the cream and milk}}}}",
                    )

    # --- the words ---

    def told(self, text: str, wording: Wording | None = None, *, in_list: bool = False) -> str:
        if not text:
            return text
        wording = self._by_vessel(text, wording or (self.in_list if in_list else self.wording))
        new, changes = wording.told(self._dated(self._quoted(text)), begins=not in_list)
        self.changes += changes
        self.sources.append(text)
        self.texts.append(new)
        return new

    def _text(self, text: Text, wording: Wording | None = None) -> Text:
        new = self.told(text.text, wording)
        return text if new == text.text else replace(text, text=new)

    def _texts(self, texts: Iterable[Text]) -> tuple[Text, ...]:
        return tuple(self._text(text) for text in texts)

    def _tool(self, text: Text) -> Text:
        """What is wanted, with the size of what goes by no name there."""
        sized = Wording.of(beside((), OF_EQUIPMENT, self.home, self.market, self.source.tables))
        return self._text(text, sized.before(self.wording))

    def _part(self, part: Part) -> Part:
        self.named = {}
        return replace(
            part,
            name=self.told(part.name),
            ingredients=tuple(
                self._line(line) for old in part.ingredients for line in self.there[old.where].lines
            ),
            steps=tuple(self._step(step) for step in part.steps),
        )

    def _line(self, line: Ingredient) -> Ingredient:
        item = self.told(line.item, in_list=True)
        return replace(
            counted_there(line, self.home, self.market),
            item=_as_many(line, item) if item != line.item else item,
            prep=self.told(line.prep, in_list=True),
            for_use=self.told(line.for_use, in_list=True),
            alternatives=tuple(self.told(alternative, in_list=True) for alternative in line.alternatives),
            extras=tuple(
                replace(extra, use=self.told(extra.use), text=self.told(extra.text)) for extra in line.extras
            ),
        )

    def _step(self, step: Step) -> Step:
        text = "".join(span.text for span in step.spans)
        wording = self._by_vessel(text, self.wording, in_step=True)
        return replace(step, spans=tuple(self._spans(self._requoted(step.spans), wording)))

    def _requoted(self, spans: tuple[Span, ...]) -> tuple[Span, ...]:
        """The quotes of a whole step; each mark stands in for one, so every span keeps its length."""
        text = "".join(span.text if isinstance(span, Words) else "x" for span in spans)
        if (quoted := self._quoted(text)) == text:
            return spans
        requoted_spans: list[Span] = []
        at = 0
        for span in spans:
            size = len(span.text) if isinstance(span, Words) else 1
            requoted_spans.append(
                replace(span, text=quoted[at : at + size]) if isinstance(span, Words) else span
            )
            at += size
        return tuple(requoted_spans)

    def _dated(self, text: str) -> str:
        """Days as the edition writes them: 31 October."""
        if self.home.dates == self.market.dates:
            return text
        parts = text.split("`")  # what stands between two of them is as it is
        dated = "`".join(
            part if at % 2 else in_form(part, self.market.dates) for at, part in enumerate(parts)
        )
        if dated != text:
            self.changes.append((f"{self.home.dates} dates", f"{self.market.dates} dates"))
        return dated

    def _quoted(self, text: str) -> str:
        quoted = requoted(text, self.home.quotes, self.market.quotes)
        if quoted != text:
            self.changes.append((f"{self.home.quotes} quotes", f"{self.market.quotes} quotes"))
        return quoted

    def _spans(self, spans: tuple[Span, ...], wording: Wording) -> Iterator[Span]:
        """Words next to each other are read as one text: a phrase may hold a number (half-sheet pan)."""
        for is_words, group in groupby(spans, lambda span: isinstance(span, Words)):
            if is_words:
                some = [span for span in group if isinstance(span, Words)]
                text = "".join(span.text for span in some)
                self.sources.append(text)
                edits = wording.edits(text)
                self.changes += [edit.change for edit in edits]
                edited = tuple(_edited(some, edits)) if edits else tuple(some)
                self.texts.append("".join(edited_span.text for edited_span in edited))
                yield from edited
            else:
                yield from (self._drawn(span) if isinstance(span, Draw) else span for span in group)

    def _drawn(self, span: Draw) -> Draw:
        return replace(span, text=self.told(span.text))

    def _yields(self, yields: Yield) -> Yield:
        makes = self._text(yields.makes) if yields.makes else None
        serves = self._text(yields.serves) if yields.serves else None
        return replace(yields, makes=makes, serves=serves, makes_item=self.told(yields.makes_item))


def _as_many(line: Ingredient, item: str) -> str:
    """What is counted, in the plural where its new name has one and its old one had none: 2 courgettes."""
    quantities = (
        quantity for quantity in (line.amount, *line.stated) if quantity and quantity.unit.name == "one"
    )
    if not any(quantity.high > 1 for quantity in quantities):
        return item
    old, (*before, last) = line.item.split()[-1], item.split()
    return " ".join((*before, many(last))) if old != last and one_of(old) == old else item


def _beats_sugar(recipe: Recipe) -> bool:
    """Whether a sentence beats sugar into butter or eggs."""
    sentences = (
        sentence
        for step in recipe.steps
        for sentence in "".join(s.text for s in step.spans).lower().split(". ")
    )
    return any(
        _BEATING.intersection(sentence_words)
        and _INTO.intersection(sentence_words)
        and "sugar" in sentence_words
        for sentence_words in map(words, sentences)
    )


_BEATING = frozenset("beat cream whip whisk".split())
_INTO = frozenset("butter egg white yolk margarine meringue".split())


def _of_others(recipe: Recipe, home: Market, market: Market) -> Iterator[Change]:
    """Names that mean another food here: beside pomegranate molasses, *the molasses* is no treacle."""
    there = {line.food.key for line in recipe.ingredients if line.food}
    items = [words(line.item) for line in recipe.ingredients]
    phrases = {
        item[at:end] for item in items for at in range(len(item)) for end in range(at + 1, len(item) + 1)
    }
    for said, phrase, foods in _named(home, market, recipe.tables):
        if phrase in phrases and not there & foods:
            yield said, said


@cache
def _named(
    home: Market, market: Market, tables: Tables
) -> tuple[tuple[str, tuple[str, ...], frozenset[str]], ...]:
    """Each name of a food that changes wherever it stands, its words, and the foods that it means."""
    plain = (
        name for name in names(home, market, tables) if name.foods and name.instead != ASKED and not name.when
    )
    return tuple((said, words(said), frozenset(name.foods)) for name in plain for said in name.said)


@cache
def _usual(home: Market, market: Market, tables: Tables) -> Wording:
    """What changes in every recipe from one edition to the other."""
    return kept_wording(
        "wording",
        home,
        market,
        tables,
        lambda: (*always(home, market, tables), *claim_words(market), *spellings(home, market, tables)),
    )


@cache
def _doubting(home: Market, market: Market, tables: Tables) -> Wording:
    """The same, and `ASKED` for each word that may mean another thing."""
    doubted = tuple(doubts(home, market))
    same = ((phrase, phrase) for doubt in doubted for phrase in doubt.same)
    asking = Wording.of((*((doubt.word, ASKED) for doubt in doubted), *same), in_compounds=False)
    return _usual(home, market, tables).before(asking)


def _edited(spans: Iterable[Words], edits: tuple[Edit, ...]) -> Iterator[Words]:
    """Spans of one text with its edits made, each in the span it begins in; what it covers gives way."""
    start = 0
    for span in spans:
        end = start + len(span.text)
        covered = max((edit.end for edit in edits if edit.start < start), default=start)
        here = [
            replace(edit, start=edit.start - start, end=min(edit.end, end) - start)
            for edit in edits
            if start <= edit.start < end
        ]
        text = applied(span.text, here)[max(covered - start, 0) :] if covered < end else ""
        if text == span.text:
            yield span
        elif text:
            yield Words(text=text, emphasis=span.emphasis)
        start = end


def answers_of(recipe: Recipe, key: str) -> tuple[EditionAnswer, ...]:
    """What a recipe says of an edition."""
    return next((edition.answers for edition in recipe.editions if edition.key == key), ())
