"""What a food is at its core where no larder has its name: ``pork loin chops`` is pork chop."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from functools import cache, lru_cache
from itertools import combinations

from cardsmith.frozen import frozen
from cardsmith.measure.food import NONE
from cardsmith.measure.food_words import describing, words
from cardsmith.measure.larder import LONGEST_NAME, LONGEST_TEXT, TURNED, WHOLE, Food, Larder, parts
from cardsmith.reference import table
from cardsmith.regex import regex


@frozen
class Nearest:
    """The food, or the food of a class, that a name no larder has comes nearest to."""

    food: Food
    name: str  # the noun or the name that was found
    is_class: bool  # whether ``food`` only stands for its class: venison for elk
    beside: tuple[Food, ...]  # foods that the words left over name: the hazelnut of hazelnut milk
    us_allergens: tuple[str, ...] = ()  # what foods of the class may hold besides, with a question mark
    eu_allergens: tuple[str, ...] = ()


@lru_cache(maxsize=1 << 12)
def nearest(text: str, larder: Larder) -> Nearest | None:
    """What ``text`` is at its core, where `Larder.find` knows no such food: ``pork loin chops`` is pork chop.

    The longest larder name that ends with the noun of ``text``, whatever stands before it (frozen,
    stone-ground); else the class that its noun names in ``head_nouns.csv``, else that any of its words
    names (elk tenderloin), the last first. What is only called after an animal food (vegan sausages,
    hazelnut milk) is no such food: None, as for what nobody knows.
    """
    for side in TURNED.split(_AFTER.sub("", _BRACKETS.sub(" ", text)), maxsplit=1):
        side_words = words(side)[-LONGEST_TEXT:]
        while len(side_words) > 1 and side_words[-1] in describing() and side_words[-1] not in _head_nouns():
            side_words = side_words[:-1]
        found_food = (
            _ending(side_words, larder) or _mashed(side_words, larder) or _of_class(side_words, larder)
            if side_words
            else None
        )
        if found_food is not None:
            imitated = _imitated(words(text), found_food) and found_food.food.origin != _PLANT
            return None if imitated else found_food
    return None


def _ending(name_words: tuple[str, ...], larder: Larder) -> Nearest | None:
    """By the longest larder name that ends with the last word; no single adjective makes a food."""
    last = len(name_words) - 1
    for size in range(min(last, LONGEST_NAME), 0, -1):
        for before in combinations(range(last - 1, -1, -1), size - 1):
            picked = (*sorted(before), last)
            name = frozenset(name_words[place] for place in picked)
            fits = [entry for entry in larder.names.get(name, ()) if words(entry[1])[-1] == name_words[last]]
            if fits:
                food, alias, generic = fits[0]
                rest = tuple(word for place, word in enumerate(name_words) if place not in picked)
                made = generic and not food.is_mainly(*WHOLE)  # tiger-nut flour is some flour, and no wheat's
                return Nearest(food=food, name=alias, is_class=made, beside=_beside(rest, food, larder))
    return None


def _mashed(name_words: tuple[str, ...], larder: Larder) -> Nearest | None:
    """The plant that a purée, a pulp or flakes of one are made of: raspberry, of sieved raspberry purée."""
    if len(name_words) < 2 or name_words[-1] not in _MASHES:
        return None
    unmashed = _ending(name_words[:-1], larder) or larder.find(" ".join(name_words[:-1]))
    food = unmashed.food if unmashed is not None else None
    if food is None or not food.is_mainly(*WHOLE) or food.origin != _PLANT:
        return None
    return Nearest(food=food, name=food.name, is_class=False, beside=())


_MASHES = frozenset(words("purée puree pulp flakes"))


def _of_class(name_words: tuple[str, ...], larder: Larder) -> Nearest | None:
    """By a noun of ``head_nouns.csv``: the last word that is one, or the animal it is cut from."""
    for place in range(len(name_words) - 1, -1, -1):
        row = _head_nouns().get(name_words[place])
        if row and not row["stands_for"]:
            return None  # duck sauce: made with who knows what
        food = larder.foods.get(row["stands_for"]) if row else None
        is_cut = row and food and food.is_mainly(*CUT) and not row["eu_allergens"]
        if is_cut and (animal := _animal(name_words[:place], larder)):
            return animal
        if row and food:
            return Nearest(
                food=food,
                name=name_words[place],
                is_class=True,
                beside=_beside((*name_words[:place], *name_words[place + 1 :]), food, larder),
                us_allergens=parts(row["us_allergens"]),
                eu_allergens=parts(row["eu_allergens"]),
            )
    return None


def _animal(name_words: tuple[str, ...], larder: Larder) -> Nearest | None:
    """The animal that the last of some words names: the hake of hake steaks, the elk of elk tenderloin."""
    for word in reversed(name_words):
        row = _head_nouns().get(word)
        known = [other for other, _, _ in larder.names.get(frozenset({word}), ())]
        stands = larder.foods.get(row["stands_for"]) if row else None
        food = next((other for other in (*known[:1], stands) if other and other.is_mainly(*FLESH)), None)
        if food is not None:
            return Nearest(food=food, name=word, is_class=not known, beside=())
    return None


def _beside(rest: tuple[str, ...], food: Food, larder: Larder) -> tuple[Food, ...]:
    """The foods that single words left over name: those of a class too, so that no allergen is lost."""
    foods: dict[str, Food] = {}
    for word in rest:
        if word in describing():
            continue
        known = [other for other, _, _ in larder.names.get(frozenset({word}), ())]
        row = _head_nouns().get(word)
        stands = larder.foods.get(row["stands_for"]) if row else None
        for beside in (*known[:1], *filter(None, (stands,))):
            if beside.key != food.key:
                foods[beside.key] = beside
    return tuple(foods.values())


def is_strange(text: str, larder: Larder) -> bool:
    """Whether a word of ``text`` stands in no name of a food, here or in USDA SR 28: chiken, squelm."""
    known, plain = _known_words(larder), describing()
    return any(word not in known and word not in plain for word in words(text) if word.isalpha())


@lru_cache(maxsize=1 << 12)
def is_misspelt(text: str, larder: Larder) -> bool:
    """Whether a strange word of ``text`` is nearly one that foods are named by: chiken, tumeric."""
    known, plain = _known_words(larder), describing()
    return any(_is_slip(word, known) for word in words(text) if word not in known and word not in plain)


def _is_slip(word: str, known: frozenset[str]) -> bool:
    """Whether one letter or two make a word another; a slip of the pen seldom changes the first."""
    near = [
        known_word
        for known_word in known
        if known_word[0] == word[0] and abs(len(known_word) - len(word)) <= 1 and len(word) > LONG
    ]
    return bool(difflib.get_close_matches(word, near, 1, ALIKE))


LONG, ALIKE = 4, 0.85  # letters that a word needs to be recognized, and likeness of spelling, of 1


@lru_cache(maxsize=2)
def _known_words(larder: Larder) -> frozenset[str]:
    published = " ".join(row["description"] for row in table("usda_sr28/foods"))
    ours = (word for name in larder.names for word in name)
    return frozenset((*ours, *_head_nouns(), *words(published)))


@cache
def _head_nouns() -> Mapping[str, Mapping[str, str]]:
    """What a noun stands for where nothing nearer is known, by the noun as `words` spells it."""
    return {words(row["noun"])[-1]: row for row in table("head_nouns")}


@cache
def _imitations() -> tuple[tuple[str, ...], ...]:
    return tuple(words(row["word"]) for row in table("imitation_words"))


def _imitated(name_words: tuple[str, ...], likeness: Nearest) -> bool:
    """Whether a text names what only looks like an animal food: vegan sausages, cashew cream."""
    if any(
        name_words[at : at + len(name)] == name for name in _imitations() for at in range(len(name_words))
    ):
        return True
    dairy = "milk" in likeness.food.origin and not any("milk" in food.origin for food in likeness.beside)
    return dairy and any(food.share(role) > NONE for food in likeness.beside for role in _MILKED)


CUT = ("meat", "poultry")
FLESH = (*CUT, "fish", "shellfish")
_MILKED = ("nut", "legume", "grain", "seed")
_PLANT = frozenset({"plant"})
_BRACKETS = regex(r"\([^()]*\)?")
_AFTER = regex(r"\s(?:with|in|for|and|or|without|labell?ed|marked|certified)\s.*$", re.IGNORECASE | re.DOTALL)
