"""What a line's food is: the larder's, or else the nearest that its words name, and how sure that is."""

from __future__ import annotations

import enum
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache, lru_cache

from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.foods.claims import asked_for, left_out
from cardsmith.frozen import frozen
from cardsmith.language.line.foods import alternative_foods
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Food, Larder, words
from cardsmith.measure.nearest import nearest
from cardsmith.measure.patterns import cell, is_of
from cardsmith.recipe.mentions.groups import is_heading
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.reference import table
from cardsmith.regex import regex

MARKETS = ("us", "eu")


@enum.unique
class Certainty(enum.StrEnum):
    """How sure it is what a line's food is."""

    KNOWN = "known"
    HEAD = "by its noun"  # "frozen turkey breast": the larder's turkey breast, and a word it doesn't know
    CLASS = "by its class"  # "elk tenderloin": some game
    UNKNOWN = "unknown"


@frozen
class Identity:
    """What one food is taken for.

    A food that only stands for its class has the class's roles, origin and hazards, never its weights.
    """

    item: str  # as written
    food: Food | None  # None where nobody can tell
    how: Certainty
    beside: tuple[Food, ...] = ()  # foods that the rest of its name speaks of
    us_class: tuple[str, ...] = ()  # allergens that foods of the class may hold besides
    eu_class: tuple[str, ...] = ()
    keeps: frozenset[str] = frozenset()  # what its line asks a pack to be free of: gluten-free oats
    ready: str = ""  # the word that says it is eaten as it is: canned, smoked, pasteurised

    @property
    def is_sure(self) -> bool:
        """Whether nothing about it is guessed."""
        return self.how is Certainty.KNOWN

    def certain(self, market: str) -> tuple[str, ...]:
        """The allergen classes of ``us`` or ``eu`` that it holds whatever is bought."""
        classes = _told(self.food, market)
        if self.how is Certainty.CLASS and self.food is not None and "plant" in self.food.origin:
            return ()  # who knows which nut, which bread
        return tuple(name for name in classes if not name.startswith("?"))

    def possible(self, market: str) -> tuple[str, ...]:
        """The classes that only the label of what is bought can settle."""
        classes = [*_told(self.food, market), *(self.us_class if market == "us" else self.eu_class)]
        if self.food is None or not _grows(self.food):  # crab apples hold no crab
            classes += [name for other in self.beside for name in _told(other, market)]
        named = (name.removeprefix("?") for name in classes)
        settled = (*self.certain(market), *self.keeps)
        return tuple(dict.fromkeys(name for name in named if name not in settled))


def _told(food: Food | None, market: str) -> tuple[str, ...]:
    if food is None:
        return ()
    return food.us_allergens if market == "us" else food.eu_allergens


def _grows(food: Food) -> bool:
    return is_of(food, ("role:fruit", "role:vegetable"))


def identify(text: str, larder: Larder, food: Food | None = None) -> Identity:
    """What ``text`` names, where ``food`` is what the larder found for it, if anything."""
    match = None if food else larder.find(text)
    known = food or (match.food if match else None)
    if known is not None:
        return Identity(item=text, food=known, how=Certainty.KNOWN)
    near = nearest(text, larder)
    if near is None:
        return Identity(item=text, food=None, how=Certainty.UNKNOWN)
    return Identity(
        item=text,
        food=near.food,
        how=Certainty.CLASS if near.is_class else Certainty.HEAD,
        beside=near.beside,
        us_class=near.us_allergens,
        eu_class=near.eu_allergens,
    )


def joined(item: str, larder: Larder) -> tuple[Food, ...]:
    """The foods that one name joins, where the larder knows each: flaky salt and plenty of black pepper."""
    names = [_SOME.sub("", name) for name in _AND.split(item)]
    matches = [larder.find(name) for name in names] if len(names) > 1 else []
    return tuple(match.food for match in matches if match is not None) if all(matches) else ()


_AND = regex(r"\s+(?:and|&)\s+|,\s*", re.IGNORECASE)
_SOME = regex(r"^(?:plenty|lots|some|a little|a bit|a few grinds|a grinding|freshly) (?:of )?", re.IGNORECASE)


def identity(line: Ingredient, larder: Larder) -> Identity:
    """What the food of one line is, and whether it is ready to eat as it is bought."""
    bought = f"{line.item} {line.prep} {line.container.word if line.container else ''}"
    return _identity(_whole_item(line), line.food, bought, line.text, larder)


def _whole_item(line: Ingredient) -> str:
    """The item, with the noun that it shares with what stands instead: roast, of roast or mashed potatoes."""
    word_set = frozenset(words(line.item))
    if line.food is None and line.alternatives and word_set and word_set <= descriptors() | {"roast"}:
        return f"{line.item} {line.alternatives[0].split()[-1]}"
    return line.item


@lru_cache(maxsize=4096)  # every caution, allergen and claim asks about the same lines
def _identity(item: str, food: Food | None, bought: str, text: str, larder: Larder) -> Identity:
    food_identity = identify(item, larder, food)
    return replace(
        food_identity,
        food=_without(food_identity.food, left_out(text)),
        keeps=frozenset(name for asked in asked_for(text) for name in asked.allergens),
        ready=_ready(food_identity.food, bought),
    )


def _without(food: Food | None, lacking: frozenset[str]) -> Food | None:
    """The food less what its line says it is made without."""
    if food is None or not lacking:
        return food
    return replace(
        food,
        us_allergens=tuple(
            allergen for allergen in food.us_allergens if allergen.removeprefix("?") not in lacking
        ),
        eu_allergens=tuple(
            allergen for allergen in food.eu_allergens if allergen.removeprefix("?") not in lacking
        ),
        origin=food.origin - lacking,
    )


@remembered
def identities(recipe: Recipe, larder: Larder) -> tuple[Identity, ...]:
    """The food of every line, by its place in ``recipe.ingredients``."""
    return tuple(identity(line, larder) for line in recipe.ingredients)


def unknown(recipe: Recipe, larder: Larder) -> tuple[Identity, ...]:
    """The lines whose food is guessed or not known at all, each item once."""
    headings = {line.item for line in recipe.ingredients if is_heading(line)}
    unsure = (
        food_identity
        for food_identity in identities(recipe, larder)
        if not food_identity.is_sure and food_identity.item not in {"", *headings}
    )
    return tuple({food_identity.item: food_identity for food_identity in unsure}.values())


def alternatives(line: Ingredient, larder: Larder) -> Iterator[Identity]:
    """What else the line says would do."""
    for text, food in zip(line.alternatives, alternative_foods(line.alternatives, larder), strict=True):
        yield identify(text, larder, food)


_NOT = regex(r"\b(?:not|never|un|without being|to be|if not|before being)[\s-]*$", re.IGNORECASE)


@cache
def _ready_words() -> tuple[tuple[Phrases, tuple[str, ...]], ...]:
    by_name: dict[str, list[str]] = {}
    for row in table("ready_words"):
        by_name.setdefault(row["roles"], []).append(row["word"])
    pairs = ((phrases("|".join(names)), roles) for roles, names in by_name.items())
    return tuple((ready, tuple(f"role:{role}" for role in cell(roles))) for ready, roles in pairs if ready)


@cache
def _kept() -> tuple[str, ...]:
    """Foods of the larder that are eaten as they are bought."""
    return (*cell(next(row["foods"] for row in table("doneness") if "ready to eat" in row["food"])), *_SHELF)


_SHELF = (  # eggs and flour that their maker has heated or dried, or that are in food that is
    "key:hard-boiled-egg", "key:dried-*egg*", "key:liquid-*egg*", "key:egg-substitute", "key:meringue-powder",
    "key:egg-noodles", "key:ladyfinger", "key:lemon-curd", "key:crabmeat", "key:surimi", "key:canned-*",
)  # fmt: skip


@lru_cache(maxsize=4096)
def _ready(food: Food | None, text: str) -> str:
    """The word, or the food, that says nothing has to be done to it; empty where it is raw."""
    if food is not None and is_of(food, _kept()):
        return food.name
    for ready, roles in _ready_words():
        for match in ready.finditer(text):
            mine = food is None or is_of(food, roles)
            if mine and not _NOT.search(text[: match.start()]) and not _WIPED.match(text, match.end()):
                return match.group()
    return ""


_WIPED = regex(r"\s+(?:with|on|between|off|well|thoroughly|very|inside)\b")  # "skin dried with paper": raw
