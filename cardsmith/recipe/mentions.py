"""Which step speaks of which ingredient: by link, by name, by its head noun, or by a word for its class."""

from __future__ import annotations

import enum
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, cached_property

from cardsmith.measure.larder import Food, Larder, words
from cardsmith.measure.units import unit_words
from cardsmith.recipe.model import Draw, Ingredient, Recipe, Span, Step
from cardsmith.reference import table

LONGEST_PHRASE = 7  # words of one name


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Token:
    """One word of a text; ``joined`` to the word before by no more than a space or hyphen."""

    word: str
    start: int
    end: int
    joined: bool


@cache
def _word(raw: str) -> tuple[str, ...]:
    return words(raw)


def tokens(text: str) -> tuple[Token, ...]:
    """The words of ``text`` as the larder compares them."""
    found: list[Token] = []
    last = 0
    for match in re.finditer(r"[^\W_]+(?:['’][a-z]+)?", text):
        for word in _word(match.group()):
            joined = bool(found) and not text[last : match.start()].strip(" -‑\u00a0")
            found.append(Token(word=word, start=match.start(), end=match.end(), joined=joined))
            last = match.end()
    return tuple(found)


def visible(spans: Iterable[Span]) -> str:
    """The text of a step as it is read."""
    return "".join(span.text for span in spans)


@cache
def _kitchen(kind: str) -> frozenset[str]:
    return frozenset(
        word for row in table("kitchen_words") if row["kind"] == kind for word in words(row["word"])
    )


@cache
def _derived() -> frozenset[tuple[str, ...]]:
    """Names of what a cook makes of a thing that is listed under its last word: brown butter."""
    return frozenset(words(row["word"]) for row in table("kitchen_words") if row["kind"] == "derived")


@cache
def _classes() -> Mapping[str, frozenset[str]]:
    return {words(row["word"])[0]: frozenset(row["roles"].split("|")) for row in table("class_words")}


@cache
def _descriptors() -> frozenset[str]:
    return frozenset(word for row in table("descriptors") for word in words(row["word"]))


@cache
def _not_food() -> frozenset[str]:
    measures = (word for unit in unit_words() for word in words(unit))
    return _descriptors() | CONNECTING | frozenset(measures)


DRY = frozenset(
    {
        "flour",
        "sugar",
        "salt",
        "soda",
        "baking-powder",
        "starch",
        "cocoa",
        "spice",
        "yeast-instant",
        "leavener",
    }
)
VERBS = frozenset({("brown",), ("dry",), ("cool",)})  # alone they never name brown sugar or dry cider
CONNECTING = frozenset({"of", "and", "or", "in", "the", "a", "an", "with", "for", "to"})


@dataclass(frozen=True, kw_only=True)
class Name:
    """How one line may be spoken of."""

    place: int
    part: int
    line: Ingredient

    @cached_property
    def phrases(self) -> frozenset[tuple[str, ...]]:
        """Its full names: the item as written, and every name the larder knows."""
        food = self.line.food
        names = (self.line.item, *((food.name, food.uk_name, *food.aliases) if food else ()))
        plain = tuple(word for word in words(self.line.item) if word not in _descriptors())
        return frozenset(filter(None, (*map(words, names), plain)))

    @cached_property
    def heads(self) -> frozenset[str]:
        """The nouns of its names: flour, of whole-grain rye flour."""
        item = tuple(word for word in words(self.line.item) if word not in _descriptors())
        food = words(self.line.food.name) if self.line.food else ()
        return frozenset(name[-1] for name in (item or words(self.line.item), food) if name)

    @cached_property
    def words(self) -> frozenset[str]:
        """All words of its names that tell it from another."""
        food = self.line.food
        alternatives = " ".join(self.line.alternatives)
        return frozenset(words(f"{self.line.item} {food.name if food else ''} {alternatives}"))

    @cached_property
    def telling(self) -> frozenset[str]:
        """Its words that can stand for it alone: not the all or the purpose of all-purpose flour."""
        food = self.line.food
        compounds = re.findall(r"\w+(?:-\w+)+", f"{self.line.item} {food.name if food else ''}")
        parts = frozenset(word for compound in compounds for word in words(compound))
        return (self.words - _descriptors() - CONNECTING - parts) | self.heads

    @cached_property
    def asides(self) -> frozenset[str]:
        """Words of its preparation: the seeds of ``1 vanilla bean, split, seeds scraped``."""
        told = frozenset(word for word in words(f"{self.line.text} {self.line.prep}") if len(word) > 2)
        return frozenset(word for word in told if word.isalpha()) - self.words - _not_food()

    def rank(self, phrase: tuple[str, ...]) -> int:
        """3 for a full name, 2 with its noun, 1 by other words of its name, 0 for another thing."""
        if phrase in self.phrases:
            return 3
        of = set(phrase)
        if not of <= self.words:
            return 0
        if not of & self.telling and (len(of) < 2 or of <= _descriptors() | CONNECTING):
            return 0
        return 2 if of & self.heads else 1


@dataclass(frozen=True, kw_only=True)
class Mentions:
    """All that the steps of one recipe speak of."""

    found: tuple[Mention, ...]
    strangers: tuple[Stranger, ...]

    def steps_of(self, line: int, *, by_name: bool = False) -> tuple[int, ...]:
        """The steps that use a line, in order; those that only name it as a cue where there are no others.

        With ``by_name`` a word for its class does not count.
        """
        mine = [one for one in self.found if one.line == line and not (by_name and one.how is How.CLASS)]
        used = [one for one in mine if one.how is not How.CUE] or mine
        return tuple(sorted({one.step for one in used}))

    def lines_of(self, step: int) -> tuple[int, ...]:
        """The lines a step uses, in the order of the list."""
        return tuple(sorted({one.line for one in self.found if one.step == step and one.how is not How.CUE}))


Lexicon = Mapping[str, tuple[tuple[tuple[str, ...], Food], ...]]
_lexicons: dict[int, tuple[Larder, Lexicon]] = {}  # the larder is kept, so its id cannot come back


def _lexicon(larder: Larder) -> Lexicon:
    """Every larder name by its first word, the longest first."""
    if id(larder) not in _lexicons:
        found: dict[str, list[tuple[tuple[str, ...], Food]]] = {}
        for food in larder.foods.values():
            for name in {words(name) for name in (food.name, food.uk_name, *food.aliases, *food.generic)}:
                if name:
                    found.setdefault(name[0], []).append((name, food))
        ordered = {
            first: tuple(sorted(names, key=lambda one: (-len(one[0]), one[1].key)))
            for first, names in found.items()
        }
        _lexicons[id(larder)] = (larder, ordered)
    return _lexicons[id(larder)][1]


def read_mentions(recipe: Recipe, larder: Larder) -> Mentions:
    """What every step of ``recipe`` speaks of. Generous with listed lines, sparing with strangers."""
    names = tuple(
        Name(place=place, part=part, line=line)
        for place, (part, line) in enumerate(
            (number, line) for number, part in enumerate(recipe.parts) for line in part.ingredients
        )
    )
    reader = _Reader(names=names, lexicon=_lexicon(larder), results=_results(recipe))
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


def _results(recipe: Recipe) -> frozenset[str]:
    """Words for what the recipe makes; a step that names them names no ingredient."""
    makes = recipe.yields.makes_item if recipe.yields else ""
    kind = recipe.kind.text if recipe.kind else ""
    return frozenset(words(" ".join([recipe.title, makes, kind, *(part.name for part in recipe.parts)])))


@dataclass(frozen=True, kw_only=True)
class _Reader:
    """Walks over the steps with the names of the list and of the larder at hand."""

    names: tuple[Name, ...]
    lexicon: Lexicon
    results: frozenset[str]

    def step(self, place: int, part: int, step: Step) -> Iterator[Mention | Stranger]:
        start = 0
        for span in step.spans:
            if isinstance(span, Draw):
                for name in self.names:
                    if name.line.key == span.key:
                        yield Mention(
                            step=place, line=name.place, how=How.LINK, start=start, end=start + len(span.text)
                        )
            start += len(span.text)
        text = visible(step.spans)
        told = tokens(text)
        at = 0
        while at < len(told):
            length = max(self._listed(told, at), 1)
            strange = self._in_larder(told, at)
            if strange is not None and len(strange[0]) > length:
                yield from self._strange(place, part, text, told, at, strange)
                at += len(strange[0])
                continue
            phrase = tuple(token.word for token in told[at : at + length])
            before = told[at - 1].word if at else ""
            after = told[at + length].word if at + length < len(told) else ""
            several = length == 1 and text[told[at].end - 1].lower() == "s" and phrase[0][-1] != "s"
            means = self._means(phrase, part, before=before, after=after, several=several)
            if means and after != "mixture":
                cue = _is_cue(text, told[at].start)
                for name, how in means:
                    yield _mention(place, name, How.CUE if cue else how, told[at : at + length])
            elif not means and strange is not None:
                yield from self._strange(place, part, text, told, at, strange)
            at += length

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """Every word of every name of the list."""
        phrases = (word for name in self.names for phrase in name.phrases for word in phrase)
        return frozenset(phrases).union(*(name.words for name in self.names))

    def _listed(self, told: tuple[Token, ...], at: int) -> int:
        """How many words from ``at`` on name a line of the list."""
        run: list[str] = []
        for token in told[at : at + LONGEST_PHRASE]:
            if token.word not in self.vocabulary or (run and not token.joined):
                break
            run.append(token.word)
        for length in range(len(run), 0, -1):
            phrase = tuple(run[:length])
            if any(name.rank(phrase) for name in self.names):
                return length
        return 0

    def _in_larder(self, told: tuple[Token, ...], at: int) -> tuple[tuple[str, ...], Food] | None:
        """The longest larder name that begins at ``at``."""
        for name, food in self.lexicon.get(told[at].word, ()):
            run = told[at : at + len(name)]
            if tuple(token.word for token in run) == name and all(token.joined for token in run[1:]):
                return name, food
        return None

    def _means(
        self, phrase: tuple[str, ...], part: int, *, before: str, after: str, several: bool
    ) -> list[tuple[Name, How]]:
        """The lines a phrase names: the best fitting, those of the same part before others."""
        known = self.names if phrase[0] in self.vocabulary and phrase not in VERBS else ()
        ranked = [(name.rank(phrase), name) for name in known]
        best = max((rank for rank, _ in ranked), default=0)
        if several and best == 3:  # "both sugars": the granulated and the brown
            best = 2
        if best:
            return [(name, How.NAME) for name in _nearest([n for rank, n in ranked if rank >= best], part)]
        word = phrase[0]
        if word == "everything" or (word == "ingredient" and before not in ("dry", "wet")):
            return [(name, How.CLASS) for name in self.names if name.part == part]
        if word in ("dry", "wet") and after == "ingredient":
            dry = self._acting(DRY, part)
            wet = [name for name in self.names if name.part == part and name not in dry]
            return [(name, How.CLASS) for name in (dry if word == "dry" else wet)]
        if phrase in VERBS:
            return []
        aside = [name for name in self.names if word in name.asides]
        if aside:
            return [(name, How.PART) for name in _nearest(aside, part)]
        return [(name, How.CLASS) for name in self._acting(_classes().get(word, frozenset()), part)]

    def _acting(self, roles: frozenset[str], part: int) -> list[Name]:
        return _nearest([name for name in self.names if _acts(name.line.food, roles)], part)

    def _strange(
        self,
        place: int,
        part: int,
        text: str,
        told: tuple[Token, ...],
        at: int,
        named: tuple[tuple[str, ...], Food],
    ) -> Iterator[Mention | Stranger]:
        """A larder name that is no line's: the same food, what comes from a listed one, or a stranger."""
        phrase, food = named
        run = told[at : at + len(phrase)]
        same = [name for name in self.names if name.line.food is not None and name.line.food.key == food.key]
        if same:
            for name in _nearest(same, part):
                yield _mention(place, name, How.NAME, run)
            return
        source = [
            name
            for name in self.names
            if (name.heads - _kitchen("form")) & set(phrase)
            or phrase[-1] in name.telling - _kitchen("form")
            or (phrase in _derived() and phrase[-1] in name.heads)
        ]
        if source:
            for name in _nearest(source, part):
                yield _mention(place, name, How.PART, run)
            return
        if set(phrase) & self.results or _only_likened(text, told, at, len(phrase)):
            return
        certain = self._in_company(told, at)
        if certain or _is_added(text, told, at):
            start, end = run[0].start, run[-1].end
            yield Stranger(step=place, food=food, text=text[start:end], start=start, end=end, certain=certain)

    def _in_company(self, told: tuple[Token, ...], at: int) -> bool:
        """Whether a determiner stands before the food, or before the listed foods it is named with."""
        for token in reversed(told[:at]):
            if token.word in _kitchen("determiner"):
                return True
            if token.word not in self.vocabulary and token.word not in ("and", "or", "fresh"):
                return False
        return False


def _mention(step: int, name: Name, how: How, run: tuple[Token, ...]) -> Mention:
    return Mention(step=step, line=name.place, how=how, start=run[0].start, end=run[-1].end)


def _acts(food: Food | None, roles: frozenset[str]) -> bool:
    """Whether a food mainly acts in one of the roles."""
    return food is not None and any(food.share(role) > Fraction(1, 2) for role in roles)


def _is_cue(text: str, start: int) -> bool:
    """Whether a place stands in a clause that begins with until."""
    clause = re.split(r"[,.;:]|\bthen\b", text[:start])[-1]
    return re.search(r"\b(?:until|till|without|when)\b", clause, re.IGNORECASE) is not None


def _nearest(names: list[Name], part: int) -> list[Name]:
    """Those of the same part where there are any."""
    return [name for name in names if name.part == part] or names


def _sentence(text: str, told: tuple[Token, ...], at: int) -> list[Token]:
    """The words of the sentence before the word at ``at``."""
    start = max(text.rfind(mark, 0, told[at].start) for mark in (". ", "; ", ": ", "! "))
    return [token for token in told[:at] if token.start > start]


def _only_likened(text: str, told: tuple[Token, ...], at: int, length: int) -> bool:
    """Whether the food is a tool's name, a likeness or a serving hint: ice-cream machine, size of a pea."""
    after = told[at + length] if at + length < len(told) else None
    if after is not None and after.joined and after.word in _kitchen("tool") | _kitchen("likeness"):
        return True
    before = [token.word for token in _sentence(text, told, at)]
    return bool(set(before[-4:]) & _kitchen("likeness") or set(before) & _kitchen("serving"))


def _is_added(text: str, told: tuple[Token, ...], at: int) -> bool:
    """Whether the sentence adds the food: ``add``, or a verb with ``in``, ``with`` just before it."""
    before = [token.word for token in _sentence(text, told, at)]
    if not before:
        return False
    return before[-1] == "add" or (
        bool(set(before) & _kitchen("adding")) and before[-1] in ("in", "with", "over")
    )
