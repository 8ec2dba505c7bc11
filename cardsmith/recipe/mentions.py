"""Which step speaks of which ingredient: by link, by name, by its head noun, or by a word for its class."""

from __future__ import annotations

import enum
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import TypeVar

from cardsmith.language.spans import Draw, Kind, Measured, Span
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Food, Larder, words
from cardsmith.measure.units import Dimension
from cardsmith.recipe.made import is_made
from cardsmith.recipe.model import Recipe, Step
from cardsmith.recipe.naming import (
    CONNECTING,
    DRY,
    VERBS,
    Name,
    Token,
    classes,
    derived,
    descriptors,
    kitchen,
    tokens,
)
from cardsmith.recipe.results import results
from cardsmith.recipe.step_words import StepWords

K = TypeVar("K")
V = TypeVar("V")
LONGEST_PHRASE = 7  # words of one name
POURED = ("liquid", "paste")
SERVED = frozenset(words("hot warm cold chilled"))
RESULTS = frozenset(map(words, ("sauce", "dressing", "syrup", "milk")))
WEIGHED = (Dimension.MASS, Dimension.VOLUME)
MADE_OF = frozenset(words("vinegar stock broth wine"))  # "the cider" is never the cider vinegar


@enum.unique
class How(enum.StrEnum):
    """How sure it is that a step means an ingredient."""

    LINK = "link"  # the author tied the words to its key
    NAME = "name"  # its name, or the noun of its name
    PART = "part"  # what is got from it: the zest of a lemon, the yolk of an egg
    CLASS = "class"  # "the vegetables", "the dry ingredients"
    CUE = "cue"  # "until the sugar has dissolved": spoken of, hardly used


@dataclass(frozen=True, slots=True, kw_only=True)
class Mention:
    """One step speaks of one line; both by their place in ``recipe.steps`` and ``recipe.ingredients``."""

    step: int
    line: int
    how: How
    start: int  # in the step's visible text
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Stranger:
    """A step speaks of a food of the larder that no line holds."""

    step: int
    food: Food
    text: str
    start: int
    end: int
    certain: bool  # "the butter", rather than "butter" after a verb


@dataclass(frozen=True, kw_only=True)
class Mentions:
    """All that the steps of one recipe speak of."""

    found: tuple[Mention, ...]
    strangers: tuple[Stranger, ...]

    @cached_property
    def by_line(self) -> Mapping[int, tuple[Mention, ...]]:
        """The mentions of each line that has any."""
        return _grouped((one.line, one) for one in self.found)

    @cached_property
    def by_step(self) -> Mapping[int, tuple[Mention, ...]]:
        """The mentions in each step that has any."""
        return _grouped((one.step, one) for one in self.found)

    def steps_of(self, line: int, *, by_name: bool = False) -> tuple[int, ...]:
        """The steps that use a line, in order; those that only name it as a cue where there are no others.

        With ``by_name`` a word for its class does not count.
        """
        mine = [one for one in self.by_line.get(line, ()) if not (by_name and one.how is How.CLASS)]
        used = [one for one in mine if one.how is not How.CUE] or mine
        return tuple(sorted({one.step for one in used}))

    def lines_of(self, step: int) -> tuple[int, ...]:
        """The lines a step uses, in the order of the list."""
        return tuple(sorted({one.line for one in self.by_step.get(step, ()) if one.how is not How.CUE}))


def _grouped(pairs: Iterable[tuple[K, V]]) -> Mapping[K, tuple[V, ...]]:
    """Values by their key, in order."""
    found: dict[K, list[V]] = {}
    for key, value in pairs:
        found.setdefault(key, []).append(value)
    return {key: tuple(values) for key, values in found.items()}


def visible(spans: Iterable[Span]) -> str:
    """The text of a step as it is read."""
    return "".join(span.text for span in spans)


Lexicon = Mapping[str, tuple[tuple[tuple[str, ...], Food], ...]]


@remembered
def _lexicon(larder: Larder) -> Lexicon:
    """Every larder name by its first word, the longest first."""
    found: dict[str, list[tuple[tuple[str, ...], Food]]] = {}
    for food in larder.foods.values():
        for name in {words(name) for name in (food.name, food.uk_name, *food.aliases, *food.generic)}:
            if name:
                found.setdefault(name[0], []).append((name, food))
    return {
        first: tuple(sorted(names, key=lambda one: (-len(one[0]), one[1].key)))
        for first, names in found.items()
    }


@remembered  # the card and the checks ask about the same recipe in turn
def read_mentions(recipe: Recipe, larder: Larder) -> Mentions:
    """What every step of ``recipe`` speaks of. Generous with listed lines, sparing with strangers."""
    names = tuple(
        Name(place=place, part=part, line=line)
        for place, (part, line) in enumerate(
            (number, line) for number, part in enumerate(recipe.parts) for line in part.ingredients
        )
    )
    reader = _Reader(names=names, lexicon=_lexicon(larder), results=results(recipe, larder))
    found: list[Mention] = []
    strangers: list[Stranger] = []
    place = 0
    for number, part in enumerate(recipe.parts):
        for step in part.steps:
            for one in reader.step(place, number, step):
                if isinstance(one, Mention):
                    found.append(one)
                else:
                    strangers.append(one)
            place += 1
    return Mentions(found=tuple(dict.fromkeys(found)), strangers=tuple(strangers))


@dataclass(frozen=True, kw_only=True)
class _Reader:
    """Walks over the steps with the names of the list and of the larder at hand."""

    names: tuple[Name, ...]
    lexicon: Lexicon
    results: frozenset[str]

    def step(self, place: int, part: int, step: Step) -> Iterator[Mention | Stranger]:
        start = 0
        for span in step.spans:
            end = start + len(span.text)
            if isinstance(span, Draw):
                tied = [name.place for name in self.names if name.line.key == span.key]
                yield from (Mention(step=place, line=one, how=How.LINK, start=start, end=end) for one in tied)
            start = end
        text = visible(step.spans)
        told = tokens(text)
        named = [self._in_larder(told, at) for at in range(len(told))]
        foods: set[int] = {at for at, token in enumerate(told) if token.word in self.vocabulary}
        for at, known in enumerate(named):
            foods.update(range(at, at + len(known[0])) if known else ())
        passage = StepWords(
            step=place, part=part, text=text, told=told, foods=frozenset(foods), amounts=_amounts(step)
        )
        yield from self._words(passage, named)

    def _words(
        self, passage: StepWords, named: Sequence[tuple[tuple[str, ...], Food] | None]
    ) -> Iterator[Mention | Stranger]:
        """What a step speaks of; ``named`` holds the larder's name that begins at each word."""
        at = 0
        while at < len(passage.told):
            length = max(self._listed(passage.told, at), 1)
            strange = named[at]
            longer = strange is not None and len(strange[0]) > length
            means = [] if longer else self._means(passage, at, at + length)
            if strange is not None and not means:
                length = len(strange[0])
                yield from self._strange(passage, at, *strange)
            elif passage.word(at + length) != "mixture":
                run = passage.told[at : at + length]
                cue = passage.is_cue(at) or passage.is_verb(at, at + length)
                for name, how in means:
                    yield _mention(passage.step, name, How.CUE if cue else how, run)
            at += length

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """Every word of every name of the list."""
        return frozenset().union(*(name.vocabulary for name in self.names))

    @cached_property
    def _foods(self) -> tuple[Food, ...]:
        return tuple(name.line.food for name in self.names if name.line.food is not None)

    @cached_property
    def _by_word(self) -> Mapping[str, tuple[Name, ...]]:
        """The names that hold a word, in the order of the list."""
        pairs = ((word, name) for name in self.names for word in name.vocabulary)
        return _grouped(pairs)

    @cached_property
    def _ranks(self) -> dict[tuple[str, ...], list[tuple[int, Name]]]:
        return {}

    def _ranked(self, phrase: tuple[str, ...]) -> list[tuple[int, Name]]:
        """The names that a phrase fits, with how well, in the order of the list."""
        if phrase not in self._ranks:
            ranks = ((name.rank(phrase), name) for name in self._by_word.get(phrase[0], ()))
            self._ranks[phrase] = [(rank, name) for rank, name in ranks if rank]
        return self._ranks[phrase]

    def _listed(self, told: tuple[Token, ...], at: int) -> int:
        """How many words from ``at`` on name a line of the list."""
        if told[at].word not in self.vocabulary:
            return 0
        run: list[str] = []
        for token in told[at : at + LONGEST_PHRASE]:
            if token.word not in self.vocabulary or (run and not token.joined):
                break
            run.append(token.word)
        for length in range(len(run), 0, -1):
            phrase = tuple(run[:length])
            ranked = self._ranked(phrase)
            whole = not {phrase[0], phrase[-1]} & CONNECTING  # "thighs", not "thighs in"
            if ranked and (whole or any(rank == 3 for rank, _ in ranked)):
                return length
        return 0

    def _in_larder(self, told: tuple[Token, ...], at: int) -> tuple[tuple[str, ...], Food] | None:
        """The longest larder name that begins at ``at``."""
        for name, food in self.lexicon.get(told[at].word, ()):
            if len(name) == 1:
                return name, food
            run = told[at : at + len(name)]
            if tuple(token.word for token in run) == name and all(token.joined for token in run[1:]):
                return name, food
        return None

    def _means(self, passage: StepWords, at: int, end: int) -> list[tuple[Name, How]]:
        """The lines a phrase names: the best fitting, those of the same part before others."""
        phrase = tuple(token.word for token in passage.told[at:end])
        if passage.is_no_food(at, end):
            return []
        if phrase[0] in self.vocabulary and phrase not in VERBS:
            ranked = self._ranked(phrase)
            best = max((rank for rank, _ in ranked), default=0)
            if len(phrase) == 1 and best == 3 and passage.is_plural(at):
                best = 2  # "both sugars": the granulated and the brown
            fitting = [name for rank, name in ranked if rank and rank >= best]
            if best == 1:  # "the beef" is the meat rather than the beef stock
                known = phrase in (name for name, _ in self.lexicon.get(phrase[0], ()))
                fitting = [name for name in fitting if not name.heads <= kitchen("form")] or [
                    name for name in fitting if not (known and name.heads <= MADE_OF)
                ]
            if fitting:
                return [(name, How.NAME) for name in _nearest(fitting, passage.part)]
        return self._class(passage, at)

    def _class(self, passage: StepWords, at: int) -> list[tuple[Name, How]]:
        """The lines that one word stands for without naming them."""
        word, part = passage.word(at), passage.part
        if word == "everything" or (word == "ingredient" and passage.word(at - 1) not in ("dry", "wet")):
            return [(name, How.CLASS) for name in self.names if name.part == part]
        if word in ("dry", "wet") and passage.word(at + 1) == "ingredient":
            dry = self._acting(DRY, part)
            wet = [name for name in self.names if name.part == part and name not in dry]
            return [(name, How.CLASS) for name in (dry if word == "dry" else wet)]
        if (word,) in VERBS:
            return []
        aside = [name for name in self.names if word in name.asides]
        if aside:
            return [(name, How.PART) for name in _nearest(aside, part)]
        counted = [name for name in self.names if name.counted == word]
        if counted and passage.word(at - 1) == "the":
            return [(name, How.PART) for name in _nearest(counted, part)]
        if word == "season":
            return [
                (name, How.CLASS) for name in self.names if name.line.amount is None and not name.line.for_use
            ]
        members = self._acting(classes().get(word, frozenset()), part)
        if word == "sugar":  # never the syrup beside it
            members = [name for name in members if name.line.food and name.line.food.state not in POURED]
        return [(name, How.NAME if len(members) == 1 else How.CLASS) for name in members]

    def _acting(self, roles: frozenset[str], part: int) -> list[Name]:
        if not roles:
            return []
        return _nearest([name for name in self.names if _acts(name.line.food, roles)], part)

    def _strange(
        self, passage: StepWords, at: int, phrase: tuple[str, ...], food: Food
    ) -> Iterator[Mention | Stranger]:
        """A larder name that is no line's: the same food, what comes from a listed one, or a stranger."""
        run = passage.told[at : at + len(phrase)]
        same = [name for name in self.names if name.line.food is not None and name.line.food.key == food.key]
        source = [name for name in self.names if _comes_from(phrase, name) and not name.heads <= MADE_OF]
        if same or source:
            for name in _nearest(same or source, passage.part):
                yield _mention(passage.step, name, How.NAME if same else How.PART, run)
        elif len(phrase) > 1 and phrase[0] in SERVED and phrase[1:] in RESULTS:
            return  # the hot sauce is what became of the list, and no bottle
        elif not (
            self._is_result(phrase)
            or passage.is_aside(at, at + len(phrase))
            or (passage.has_determiner(at) and is_made(food, self._foods))
        ):
            certain = passage.has_determiner(at) or passage.is_measured(at)
            if certain or passage.is_added(at):
                start, end = run[0].start, run[-1].end
                yield Stranger(
                    step=passage.step,
                    food=food,
                    text=passage.text[start:end],
                    start=start,
                    end=end,
                    certain=certain,
                )

    def _is_result(self, phrase: tuple[str, ...]) -> bool:
        """Whether a phrase names the dish: the curd, but not the baking soda of a soda bread."""
        known = self.results | self.vocabulary | descriptors()
        return bool(set(phrase) & self.results) and set(phrase) <= known


def _amounts(step: Step) -> frozenset[int]:
    """Where each weight or volume of a step ends."""
    found, end = set(), 0
    for span in step.spans:
        end += len(span.text)
        if isinstance(span, Measured) and span.kind is Kind.AMOUNT and not span.adjective:
            found |= {end} if span.quantity.dimension in WEIGHED else set()
    return frozenset(found)


def _comes_from(phrase: tuple[str, ...], name: Name) -> bool:
    """Whether a phrase names what a cook gets from a listed line: the zest of lemons, brown butter."""
    form = kitchen("form")
    return bool(
        (name.heads - form) & set(phrase)
        or phrase[-1] in name.telling - form
        or (phrase in derived() and phrase[-1] in name.heads)
    )


def _mention(step: int, name: Name, how: How, run: tuple[Token, ...]) -> Mention:
    return Mention(step=step, line=name.place, how=how, start=run[0].start, end=run[-1].end)


def _acts(food: Food | None, roles: frozenset[str]) -> bool:
    """Whether a food mainly acts in one of the roles."""
    return food is not None and any(food.share(role) > Fraction(1, 2) for role in roles)


def _nearest(names: list[Name], part: int) -> list[Name]:
    """Those of the same part where there are any."""
    return [name for name in names if name.part == part] or names
