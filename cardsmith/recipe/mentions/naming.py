"""How a step may speak of a line of the list: its words, its nouns, and what kitchen words do around it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache, cached_property, lru_cache

from cardsmith.frozen import frozen
from cardsmith.language.word_classes import words_of
from cardsmith.measure.larder import words
from cardsmith.measure.units import SIZED, Dimension, unit_words
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import row_of, table
from cardsmith.regex import regex

_PLAIN = frozenset({"one", "piece", SIZED})  # what counts anything


@frozen
class StepWord:
    """One word of a text; ``joined`` to the word before by no more than a space or hyphen."""

    word: str
    start: int
    end: int
    joined: bool


@cache
def _word(raw: str) -> tuple[str, ...]:
    return words(raw)


@lru_cache(maxsize=1024)
def tokens(text: str) -> tuple[StepWord, ...]:
    """The words of ``text`` as the larder compares them."""
    step_words: list[StepWord] = []
    last = 0
    for match in re.finditer(r"[^\W_]+(?:['’][a-z]+)?", text):
        for word in _word(match.group()):
            joined = bool(step_words) and not text[last : match.start()].strip(" -‑'’\u00a0")
            step_words.append(StepWord(word=word, start=match.start(), end=match.end(), joined=joined))
            last = match.end()
    return tuple(step_words)


@cache
def kitchen(kind: str) -> frozenset[str]:
    """Words of a kind: tool, likeness, serving, determiner, adding, form."""
    return frozenset(
        word for row in table("kitchen_words") if row["kind"] == kind for word in words(row["word"])
    )


@cache
def derived() -> frozenset[tuple[str, ...]]:
    """Names of what a cook makes of a thing that is listed under its last word: brown butter."""
    return frozenset(words(row["word"]) for row in table("kitchen_words") if row["kind"] == "derived")


@cache
def classes() -> Mapping[str, frozenset[str]]:
    """Words for a class of foods, with the roles they stand for: nuts, herbs."""
    return {words(row["word"])[0]: frozenset(row["roles"].split("|")) for row in table("class_words")}


@cache
def descriptors() -> frozenset[str]:
    """Words that describe a food without renaming it."""
    return frozenset(word for row in table("descriptors") for word in words(row["word"]))


@cache
def measures() -> frozenset[str]:
    """Words that measure: cup, handful, sprig."""
    return frozenset(word for unit in unit_words() for word in words(unit))


@cache
def not_food() -> frozenset[str]:
    """Words of a line that name no food: units, descriptors, small words."""
    return descriptors() | CONNECTING | measures()


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
PORTIONS = frozenset(words("half piece"))  # of walnut halves: "half the sugar" names no nut
VERBS = frozenset({("brown",), ("dry",), ("cool",)})  # alone they never name brown sugar or dry cider
CONNECTING = frozenset({"of", "and", "or", "in", "the", "a", "an", "with", "for", "to"})


def is_plural(written: str) -> bool:
    """Whether a word was written with a plural s."""
    return written[-1:].lower() == "s" and words(written)[-1:] != (written.lower(),)


@cache
def pieces(word: str) -> tuple[str, ...]:
    """What a preparation leaves: cubes of the cubed, crumbs of the crushed, flakes of a flaky salt.

    Heat leaves none: "add the beans and cook" takes no cooked ham.
    """
    if word == "crushed":
        return ("crumb",)
    if word.endswith("ed") and len(word) > len("iced"):
        if {word[:-1], word[:-2]} & words_of("time verb"):
            return ()
        return (*words(f"{word[:-1]}s"), *words(f"{word[:-2]}s"))
    return (f"{word[:-1]}e",) if word.endswith("ky") else ()


def shapes(prep: str) -> frozenset[str]:
    """What a preparation cuts a food into: rings, 1 cm dice, thick slices."""
    shaped = (match["what"].split()[-1] for match in _INTO.finditer(prep))
    return frozenset(words(" ".join((*shaped, *(word for word in prep.split() if is_plural(word))))))


_INTO = regex(r"(?i)\b(?:in|into) (?P<what>[^,;()]+)")


def family(line: Ingredient) -> frozenset[str]:
    """What USDA SR 28 files a line's food under: beef for a rib-eye steak, pasta for rigatoni."""
    row = row_of("usda_sr28/foods", line.food.ndb_no) if line.food and line.food.ndb_no else None
    filed = words(row["description"].partition(",")[0])[-1:] if row else ()
    return frozenset(filed) - descriptors() - CONNECTING


def taker(lines: Sequence[Ingredient], place: int) -> int | None:
    """The line whose own words take another in: the egg of "1 egg, beaten with 1 tbsp milk" for its milk."""
    mine = lines[place]
    return next(
        (
            at
            for at, other in enumerate(lines)
            if at != place and other.where.line == mine.where.line and f"the {mine.item}" in other.prep
        ),
        None,
    )


def _unnumbered(name: tuple[str, ...]) -> tuple[str, ...]:
    """A name without the number at its end: curing salt, of curing salt no. 1."""
    while name and (name[-1].isdigit() or name[-1] in NUMBERING):
        name = name[:-1]
    return name


NUMBERING = words("no number type")


@frozen(slots=False)
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
        plain = tuple(word for word in words(self.line.item) if word not in descriptors())
        return frozenset(filter(None, (*map(words, names), plain)))

    @cached_property
    def heads(self) -> frozenset[str]:
        """The nouns of its names: flour, of whole-grain rye flour; bones, of veal shin and neck bones."""
        whole = words(self.line.item)
        item = tuple(word for word in whole if word not in descriptors())
        food = words(self.line.food.name) if self.line.food else ()
        last = whole if whole and is_plural(self.line.item.split()[-1]) else ()
        fuller = (name for name in self.phrases if name[:-1] == item)  # a Scotch bonnet is a chilli
        named = map(_unnumbered, (item or whole, food, last, *fuller))
        nouns = frozenset(name[-1] for name in named if name)
        return nouns - PORTIONS or nouns

    @cached_property
    def words(self) -> frozenset[str]:
        """All words of its names that tell it from another."""
        food = self.line.food
        alternatives = " ".join(self.line.alternatives)
        toast = "toast" if "toasted" in self.line.text and "bread" in self.heads else ""
        return frozenset(words(f"{self.line.item} {food.name if food else ''} {alternatives} {toast}"))

    @cached_property
    def family(self) -> frozenset[str]:
        """The words of its family, as `family` has them, and what ends its noun: crumbs, of breadcrumbs."""
        ends = (head[at:] for head in self.heads for at in range(3, len(head) - 3))
        return family(self.line) | (frozenset(ends) - kitchen("form"))

    @property
    def counted(self) -> str:
        """What its amount counts: the slice of four slices of brioche; empty for plain numbers."""
        unit = self.line.amount.unit if self.line.amount else None
        counts = unit is not None and unit.dimension is Dimension.COUNT and unit.name not in _PLAIN
        return unit.name if unit and counts else ""

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """Every word by which it may be spoken of."""
        return self.words.union(self.family, *self.phrases)

    @cached_property
    def telling(self) -> frozenset[str]:
        """Its words that can stand for it alone: not the all or the purpose of all-purpose flour."""
        food = self.line.food
        compounds = re.findall(r"\w+(?:-\w+)+", f"{self.line.item} {food.name if food else ''}")
        parts = frozenset(word for compound in compounds for word in words(compound))
        figures = frozenset(word for word in self.words if word.isdigit())
        return (self.words - descriptors() - CONNECTING - parts - figures - {"baking"}) | self.heads

    @cached_property
    def asides(self) -> frozenset[str]:
        """Words of its preparation: the seeds of ``1 vanilla bean, split, seeds scraped``."""
        own_words = frozenset(word for word in self._told if word.isalpha())
        return own_words - self.words - not_food() - {"water"}  # "2 tbsp for the pasta water" brings none

    @cached_property
    def pieces(self) -> frozenset[str]:
        """What its preparation leaves: crumbs of the crushed, rings of ``2 onions, cut in ½-inch rings``."""
        return frozenset((*(noun for word in self._told for noun in pieces(word)), *shapes(self.line.prep)))

    @cached_property
    def _told(self) -> frozenset[str]:
        return frozenset(word for word in words(f"{self.line.text} {self.line.prep}") if len(word) > 2)

    def rank(self, phrase: tuple[str, ...]) -> int:
        """3 for a full name, 2 with its noun, 1 by another word of it or its family, 0 for another thing."""
        if phrase in self.phrases:
            return 3
        of = set(phrase)
        if not of & self.heads and self.line.food is not None and self.line.food.is_mainly("oil"):
            return 0  # "the olives" are no olive oil
        if not of <= self.words | self.heads:
            return 1 if of <= self.family else 0
        if not of & self.telling and (len(of) < 2 or of <= descriptors() | CONNECTING):
            return 0
        return 2 if of & self.heads else 1
