"""The claims that can be checked (vegan, gluten-free), and those that a line's own words make of its food."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, lru_cache

from cardsmith.frozen import frozen
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import cell
from cardsmith.reference import table
from cardsmith.regex import regex


@frozen
class Diet:
    """A row of diets.csv: what a dish of this claim must not hold."""

    name: str
    aliases: tuple[str, ...]
    origins: frozenset[str]
    allergens: frozenset[str]
    label_foods: tuple[str, ...]  # foods that break the rule by their kind, but of which some do not
    ask_foods: tuple[str, ...]  # foods that the larder finds nothing in, but whose makers may add it
    never: tuple[str, ...]  # look-alikes that cannot break it


@cache
def diets() -> tuple[Diet, ...]:
    """Every claim that can be checked."""
    return tuple(
        Diet(
            name=row["claim"],
            aliases=cell(row["aliases"]),
            origins=frozenset(cell(row["origins"])),
            allergens=frozenset((*cell(row["us_allergens"]), *cell(row["eu_allergens"]))),
            label_foods=cell(row["label_foods"]),
            ask_foods=cell(row["ask_foods"]),
            never=cell(row["never"]),
        )
        for row in table("diets")
    )


def plain(text: str) -> str:
    """A claim without its hyphens and capitals."""
    return " ".join(re.sub(r"[-‑ ]+", " ", text.strip().lower()).split())


@cache
def by_name() -> Mapping[str, Diet]:
    """Every diet by each of its names."""
    return {
        plain(name): known_diet for known_diet in diets() for name in (known_diet.name, *known_diet.aliases)
    }


def diet(claim: str) -> Diet | None:
    """The diet that ``claim`` names, whatever its hyphens and capitals."""
    return by_name().get(plain(claim))


_STRICTER = {  # what is vegan is vegetarian too
    "vegetarian": ("vegan", "plant-based"),
    "pescatarian": ("vegan", "vegetarian", "plant-based"),
    "dairy-free": ("vegan", "plant-based"),
    "egg-free": ("vegan", "plant-based"),
    "fish-free": ("vegan", "vegetarian", "plant-based"),
    "shellfish-free": ("vegan", "vegetarian", "plant-based"),
    "lactose-free": ("vegan", "plant-based", "dairy-free"),
    "wheat-free": ("gluten-free",),
    "tree-nut-free": ("nut-free",),
    "peanut-free": ("nut-free",),
}


@lru_cache(maxsize=4096)
def asked_for(text: str) -> tuple[Diet, ...]:
    """The claims that a line asks its food to keep: ``gluten-free oats``, ``vegan mayonnaise``."""
    claim = f" {plain(re.sub(r'[,;()]', ' ', text))} "
    return tuple(known_diet for known_diet, names in _called() if any(name in claim for name in names))


@cache
def _called() -> tuple[tuple[Diet, tuple[str, ...]], ...]:
    """Each diet with its names and those of stricter ones, between spaces."""
    names = (
        (known_diet, (known_diet.name, *known_diet.aliases, *_STRICTER.get(known_diet.name, ())))
        for known_diet in diets()
    )
    return tuple((known_diet, tuple(f" {plain(name)} " for name in called)) for known_diet, called in names)


_LACKS = regex(r"(?i)\b(?:made )?(?:without|free from|with no|contains no) (?P<what>[\w, ]+)")


@lru_cache(maxsize=4096)
def left_out(text: str) -> frozenset[str]:
    """The allergens and origins that a line says its food is made without: gelatine, of marshmallows."""
    word_set = {word for match in _LACKS.finditer(text) for word in words(match["what"])}
    return frozenset(name for name in _named() if word_set & set(words(name))) if word_set else frozenset()


@cache
def _named() -> frozenset[str]:
    """Every allergen and origin that any claim speaks of."""
    return frozenset(name for known_diet in diets() for name in (*known_diet.origins, *known_diet.allergens))
