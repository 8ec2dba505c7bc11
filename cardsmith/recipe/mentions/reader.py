"""Reads the steps: which of their words name which line of the list, and which a food that no list has."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property

from cardsmith.frozen import frozen
from cardsmith.language.figures import numbers
from cardsmith.language.spans import Draw
from cardsmith.language.word_classes import words_of
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Food, Larder, words
from cardsmith.measure.nearest import Nearest, nearest
from cardsmith.recipe.mentions.groups import Group, groups, in_hand
from cardsmith.recipe.mentions.kinship import (
    MADE_OF,
    acts,
    comes_from,
    is_dry,
    is_generic,
    is_kin,
    is_pantry,
    is_poured,
)
from cardsmith.recipe.mentions.lexicon import RAW, Lexicon, kind, lexicon, species
from cardsmith.recipe.mentions.made_foods import is_made
from cardsmith.recipe.mentions.mentions import How, Mention, Mentions, Stranger, grouped, visible
from cardsmith.recipe.mentions.naming import (
    CONNECTING,
    VERBS,
    Name,
    StepWord,
    classes,
    descriptors,
    kitchen,
    taker,
    tokens,
)
from cardsmith.recipe.mentions.result_words import results, shapes
from cardsmith.recipe.mentions.step_words import ORGANS, PARTICLES, StepWords, amounts
from cardsmith.recipe.mentions.unnamed import in_earnest, unnamed
from cardsmith.recipe.model import Recipe, Step
from cardsmith.regex import regex

LONGEST_PHRASE = 7  # words of one name
THINGS = frozenset(words("ingredient thing stuff item"))
NUMBERS = {"both": 2, **numbers.ONES}
ONES = frozenset(words("the each every"))  # of the sheets, of each sheet
MORE = frozenset(words("more extra"))
FLESH = frozenset((word,) for word in words("fish meat bird seafood shellfish fillet"))
SERVED = frozenset(words("hot warm cold chilled"))
RESULTS = frozenset(map(words, ("sauce", "dressing", "syrup", "milk")))
STRAINED = regex(r"\b(?:strain|skim|poach|cooking liquid)")


@remembered  # the card and the checks ask about the same recipe in turn
def read_mentions(recipe: Recipe, larder: Larder) -> Mentions:
    """What every step of ``recipe`` speaks of. Generous with listed lines, sparing with strangers."""
    names = tuple(
        Name(place=place, part=part, line=line)
        for place, (part, line) in enumerate(
            (number, line) for number, part in enumerate(recipe.parts) for line in part.ingredients
        )
    )
    water = larder.find("water")
    method = " ".join(step.text.lower() for step in recipe.steps)
    tap = "water" in method and STRAINED.search(method)  # what a stock is made with, and no list need have
    like = shapes(recipe)
    reader = _Reader(
        names=names,
        larder=larder,
        lexicon=lexicon(larder),
        species=species(larder),
        results=results(recipe, larder) | like,
        shapes=like,
        groups=groups(recipe),
        tap=(water.food,) if water and tap else (),
        taken_in=frozenset(at for at in range(len(names)) if taker(recipe.ingredients, at) is not None),
    )
    mentions: list[Mention] = []
    strangers: list[Stranger] = []
    passages: list[StepWords] = []
    for number, part in enumerate(recipe.parts):
        for step in part.steps:
            passages.append(reader.passage(len(passages), number, step))
            for named in reader.step(passages[-1], step):
                if isinstance(named, Mention):
                    mentions.append(named)
                else:
                    strangers.append(named)
    mentions = list(in_earnest(mentions, passages))
    lines = {mention.line for mention in mentions if mention.how is not How.CLASS}
    if any(name.line.food is None and name.place not in lines for name in names):
        # A chilli may be the Scotch bonnet.
        strangers = [stranger for stranger in strangers if not is_generic(stranger)]
    mentions.extend(unnamed(names, reader.groups, passages, mentions))
    return Mentions(found=tuple(dict.fromkeys(mentions)), strangers=tuple(strangers), steps=tuple(passages))


@frozen(slots=False)
class _Reader:
    """Walks over the steps with the names of the list and of the larder at hand."""

    names: tuple[Name, ...]
    larder: Larder
    lexicon: Lexicon
    species: Mapping[tuple[str, ...], Food]
    results: frozenset[str]
    shapes: frozenset[str]
    groups: tuple[Group, ...]
    tap: tuple[Food, ...]
    taken_in: frozenset[
        int
    ]  # lines that go into another before any step: the salt that garlic is crushed with

    def passage(self, place: int, part: int, step: Step) -> StepWords:
        """The words of one step, with those that belong to foods."""
        text = visible(step.spans)
        step_words = tokens(text)
        foods = {at for at, token in enumerate(step_words) if token.word in self.vocabulary}
        named = {at: known for at in range(len(step_words)) if (known := self._in_larder(step_words, at))}
        for at, (name, _) in named.items():
            foods.update(range(at, at + len(name)))
        return StepWords(
            step=place,
            part=part,
            text=text,
            told=step_words,
            named=named,
            foods=frozenset(foods),
            amounts=amounts(step),
        )

    def step(self, passage: StepWords, step: Step) -> Iterator[Mention | Stranger]:
        """What a step speaks of, less what it leaves out: "mix everything but the cherries"."""
        spoken = tuple(self._spoken(passage, step))
        for item in spoken:
            left = isinstance(item, Mention) and any(
                word == item.start and item.line == other.line
                for word, start, end in passage.left_out
                for other in spoken
                if isinstance(other, Mention) and start <= other.start < end
            )
            if not left and not passage.is_left_out(item.start):
                yield item

    def _spoken(self, passage: StepWords, step: Step) -> Iterator[Mention | Stranger]:
        start = 0
        for span in step.spans:
            end = start + len(span.text)
            if isinstance(span, Draw):
                tied = [name.place for name in self.names if name.line.key == span.key]
                yield from (
                    Mention(step=passage.step, line=line, how=How.LINK, start=start, end=end) for line in tied
                )
            start = end
        hands = in_hand(passage, self.groups)
        at = 0
        while at < len(passage.told):
            length = max(self._listed(passage.told, at), 1)
            strange = passage.named.get(at)
            longer = strange is not None and len(strange[0]) > length
            start = passage.told[at].start
            near = next((group.lines for begins, group in hands if begins <= start), frozenset())
            means = [] if longer else self._means(passage, at, at + length, near)
            if strange is not None and not means:
                length = len(strange[0])
                yield from self._strange(passage, at, *strange)
            elif not self._is_of_a_mixture(passage, at, at + length):
                run = passage.told[at : at + length]
                cue = passage.is_cue(at) or passage.is_verb(at, at + length)
                for name, how in means:
                    if not (cue and how is How.CLASS):  # "until everything is hot"
                        added = name.part != passage.part and passage.is_added(at)
                        yield _mention(passage.step, name, How.CUE if cue else how, run, added=added)
            at += length

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """Every word of every name of the list."""
        return frozenset().union(*(name.vocabulary for name in self.names))

    @cached_property
    def _foods(self) -> tuple[Food, ...]:
        known = (name.line.food for name in self.names if name.line.food is not None)
        guessed = (guess.food for name in self.names if (guess := self._guess(name)) is not None)
        return (*known, *guessed, *self.tap)

    def _guess(self, name: Name) -> Nearest | None:
        """What a line that the larder does not know is nearest to."""
        return nearest(name.line.item, self.larder) if name.line.food is None else None

    @cached_property
    def _by_word(self) -> Mapping[str, tuple[Name, ...]]:
        """The names that hold a word, in the order of the list."""
        pairs = ((word, name) for name in self.names for word in name.vocabulary)
        return grouped(pairs)

    @cached_property
    def _by_aside(self) -> Mapping[str, tuple[Name, ...]]:
        """The names by each word of their preparation."""
        return grouped((word, name) for name in self.names for word in name.asides)

    @cached_property
    def _by_piece(self) -> Mapping[str, tuple[Name, ...]]:
        """The names by what their preparation leaves."""
        return grouped((word, name) for name in self.names for word in name.pieces)

    @cached_property
    def _by_count(self) -> Mapping[str, tuple[Name, ...]]:
        """The names by what their amount counts."""
        return grouped((name.counted, name) for name in self.names if name.counted)

    @cached_property
    def _ranks(self) -> dict[tuple[str, ...], list[tuple[int, Name]]]:
        return {}

    def _ranked(self, phrase: tuple[str, ...]) -> list[tuple[int, Name]]:
        """The names that a phrase fits, with how well, in the order of the list."""
        if phrase not in self._ranks:
            ranks = ((name.rank(phrase), name) for name in self._by_word.get(phrase[0], ()))
            self._ranks[phrase] = [(rank, name) for rank, name in ranks if rank]
        return self._ranks[phrase]

    def _listed(self, step_words: tuple[StepWord, ...], at: int) -> int:
        """How many words from ``at`` on name a line of the list."""
        if step_words[at].word not in self.vocabulary:
            return 0
        run: list[str] = []
        for token in step_words[at : at + LONGEST_PHRASE]:
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

    def _in_larder(self, step_words: tuple[StepWord, ...], at: int) -> tuple[tuple[str, ...], Food] | None:
        """The longest larder name that begins at ``at``; "put the chicken back" names no chicken back."""
        for name, food in self.lexicon.get(step_words[at].word, ()):
            if name[-1] in PARTICLES and name[-1] not in self.vocabulary:
                continue
            if len(name) == 1:
                return name, food
            run = step_words[at : at + len(name)]
            if tuple(token.word for token in run) == name and all(token.joined for token in run[1:]):
                return name, food
        return None

    def _means(self, passage: StepWords, at: int, end: int, near: frozenset[int]) -> list[tuple[Name, How]]:
        """The lines a phrase names: the best fitting, and of these the nearest."""
        phrase = tuple(token.word for token in passage.told[at:end])
        if passage.is_no_food(at, end):
            return []
        if phrase[0] in self.vocabulary and phrase not in VERBS:
            if fitting := self._organs(passage, at, end):
                return [(name, How.PART) for name in _nearest(fitting, passage.part, near)]
            ranked = self._ranked(phrase)
            own = [pair for pair in ranked if pair[1].place not in self.taken_in]
            ranked = own if any(rank >= 2 for rank, _ in own) else ranked
            best = max((rank for rank, _ in ranked), default=0)
            if best == 3 and (
                (len(phrase) == 1 and passage.is_plural(at))
                or _has_own(ranked, passage.part, near)
                or all(name.line.for_use for rank, name in ranked if rank == best)
            ):
                best = 2  # "both sugars": the granulated and the brown; "the oil": not only that for the pan
            fitting = [name for rank, name in ranked if rank and rank >= best]
            loose = best == 1 and len(phrase) == 1 and phrase[0] in classes()
            if loose and (members := self._class(passage, at, near)):
                return members  # "the fruit" is the raisins too, not the candied fruit alone
            if best == 1:  # "the beef" is the meat rather than the beef stock
                known = phrase in (name for name, _ in self.lexicon.get(phrase[0], ()))
                fitting = [name for name in fitting if not name.heads <= kitchen("form")] or [
                    name for name in fitting if not (known and name.heads <= MADE_OF)
                ]
            if fitting:
                named = _nearest(fitting, passage.part, near)
                more = self._more(passage, at, ranked, named) if len(phrase) == 1 else ()
                return [(name, How.NAME) for name in named] + [(name, How.CLASS) for name in more]
        return self._class(passage, at, near)

    def _more(
        self, passage: StepWords, at: int, ranked: Sequence[tuple[int, Name]], named: Sequence[Name]
    ) -> Iterator[Name]:
        """What a plural stands for beside the lines of that name: linseed of "the seeds", a third bean."""
        if not passage.is_plural(at):
            return
        word, said = passage.word(at), NUMBERS.get(passage.word(at - 1), 0)
        several = said > len(named) and passage.word(at - 2) in ("all", "the", "both", "")
        members = self._acting(classes().get(word, frozenset()), passage.part) if several else ()
        compounds = [name for _, name in ranked if any(head.endswith(word) for head in name.heads)]
        for name in dict.fromkeys((*members, *compounds)):
            if name not in named:
                yield name

    def _is_of_a_mixture(self, passage: StepWords, at: int, end: int) -> bool:
        """Whether a name only says which mixture is meant: the flour mixture, the oat topping."""
        head, said = passage.word(end), {token.word for token in passage.told[at:end]}
        return head == "mixture" or any(
            head == group.head and said <= group.words and passage.told[end].joined for group in self.groups
        )

    def _organs(self, passage: StepWords, at: int, end: int) -> list[Name]:
        """The whole plants that a phrase before "seeds" or "pod" names: the vanilla bean, not its extract."""
        if passage.word(end) not in ORGANS or not passage.told[end].joined:
            return []
        ranked = self._ranked(tuple(token.word for token in passage.told[at:end]))
        return [name for _, name in ranked if name.line.food and name.line.food.state == "piece"]

    def _class(self, passage: StepWords, at: int, near: frozenset[int]) -> list[tuple[Name, How]]:
        """The lines that one word stands for without naming them."""
        word, part = passage.word(at), passage.part
        if passage.is_whole_list(at):
            named = [group.lines for group in self.groups if group.head == passage.word(at - 1)] or [near]
            mine = [name for name in self.names if name.place in named[0]]
            return [(name, How.CLASS) for name in mine or self.names if mine or name.part == part]
        if word in ("dry", "wet") and passage.word(at + 1) in THINGS:
            dry = _nearest([name for name in self.names if is_dry(name)], part)
            wet = [name for name in self.names if name.part == part and name not in dry]
            return [(name, How.CLASS) for name in (dry if word == "dry" else wet)]
        if (word,) in VERBS:
            return []
        pieces = self._by_piece.get(word)
        aside = self._by_aside.get(word) or (pieces if pieces and passage.is_cut(at) else ())
        if aside:
            return [(name, How.PART) for name in _nearest(aside, part, near)]
        counted = self._by_count.get(word)
        if counted and passage.word(at - 1) in ONES:
            return [(name, How.PART) for name in _nearest(counted, part, near)]
        if passage.is_no_class(at):
            return []
        members = self._acting(classes().get(word, frozenset()), part)
        if word == "sugar":  # never the syrup beside it
            members = [name for name in members if not is_poured(name)]
        return [(name, How.NAME if len(members) == 1 else How.CLASS) for name in members]

    def _acting(self, roles: frozenset[str], part: int) -> Sequence[Name]:
        if not roles:
            return []
        return _nearest([name for name in self.names if acts(name.line.food, roles)], part)

    def _strange(
        self, passage: StepWords, at: int, phrase: tuple[str, ...], food: Food
    ) -> Iterator[Mention | Stranger]:
        """A larder name that is no line's: the same food, what comes from a listed one, or a stranger."""
        run = passage.told[at : at + len(phrase)]
        if len(phrase) == 1 and phrase[0] in words_of("adjective") and not passage.is_plural(at):
            return  # the crisp onions are no crisps
        same = [name for name in self.names if name.line.food is not None and name.line.food.key == food.key]
        source = [name for name in self.names if comes_from(phrase, food, name)]
        if same or source:
            for name in _nearest(same or source, passage.part):
                yield _mention(passage.step, name, How.NAME if same else How.PART, run)
        elif len(phrase) > 1 and phrase[0] in SERVED and phrase[1:] in RESULTS:
            return  # the hot sauce is what became of the list, and no bottle
        elif self._is_called(phrase) or (phrase in FLESH and self._has_kind(food)):
            return  # "the mushrooms" are the chanterelles, "the fish" the cod
        elif phrase in self.species and (self._has_kind(food) or not passage.ends_phrase(at + len(phrase))):
            return  # "the lamb" is the listed mutton, or half of the lamb fat
        elif not (
            self._is_result(phrase, food)
            or passage.is_aside(at, at + len(phrase))
            or passage.is_made_here(at)
            or (self._is_the(passage, at) and is_made(food, self._foods))
        ):
            added = passage.is_added(at)
            sure = passage.has_determiner(at) or passage.is_measured(at)
            if sure or added:
                start, end = run[0].start, run[-1].end
                yield Stranger(
                    step=passage.step,
                    food=food,
                    text=passage.text[start:end],
                    start=start,
                    end=end,
                    certain=sure or not is_pantry(food),
                )

    @staticmethod
    def _is_the(passage: StepWords, at: int) -> bool:
        """Whether a step speaks of what is there: the broth, more broth."""
        return passage.has_determiner(at) or passage.word(at - 1) in MORE | SERVED

    def _is_result(self, phrase: tuple[str, ...], food: Food) -> bool:
        """Whether a phrase names the dish: the curd, but not the baking soda of a soda bread.

        A raw food that a title names is one of the dish's ingredients, as the leeks of a leek soup are; but
        a word for many foods may be a listed one: the greens of braised greens are its chard.
        """
        known = self.results | self.vocabulary | descriptors()
        if not set(phrase) & self.results or not set(phrase) <= known:
            return False
        if set(phrase) & self.shapes:
            return True
        wide = phrase in {words(name) for name in food.generic} or phrase[-1] in classes()
        return kind(food) not in RAW or is_made(food, self._foods) or (wide and self._has_kind(food))

    def _is_called(self, phrase: tuple[str, ...]) -> bool:
        """Whether the full name of a listed food ends so: the mushrooms, of chanterelle mushrooms."""
        return any(words(food.name)[-len(phrase) :] == phrase for food in self._foods)

    def _has_kind(self, food: Food) -> bool:
        """Whether the list has a food of the same kind."""
        return any(kind(other) == kind(food) for other in self._foods)


def _mention(step: int, name: Name, how: How, run: tuple[StepWord, ...], *, added: bool = False) -> Mention:
    start, end = run[0].start, run[-1].end
    return Mention(step=step, line=name.place, how=how, start=start, end=end, added=added)


def _has_own(ranked: list[tuple[int, Name]], part: int, near: frozenset[int]) -> bool:
    """Whether only another part has a line of just that name, and this part another kind of it.

    In a crumble "the sugar" is its own brown sugar; "the butter" is never its peanut butter.
    """
    whole = [name for rank, name in ranked if rank == 3]
    if any(name.part == part or name.place in near for name in whole):
        return False
    mine = [name for rank, name in ranked if rank == 2 and name.part == part]
    return any(is_kin(name.line.food, other.line.food) for name in mine for other in whole)


def _nearest(names: Sequence[Name], part: int, near: frozenset[int] = frozenset()) -> Sequence[Name]:
    """Those of the mixture in hand where there are any, else of the same part, else all."""
    return (
        [name for name in names if name.place in near]
        or [name for name in names if name.part == part]
        or names
    )
