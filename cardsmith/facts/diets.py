"""Diets and claims (vegan, gluten-free, nut-free): true, not true, or more than the larder can vouch for."""

from __future__ import annotations

import enum
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from cardsmith.facts.allergens import usual
from cardsmith.facts.foods import MARKETS, How, Identity, alternatives, identity
from cardsmith.facts.patterns import cell, is_of
from cardsmith.measure.larder import Food, Larder
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.reference import table


@dataclass(frozen=True, slots=True, kw_only=True)
class Diet:
    """A row of diets.csv: what a dish of this claim must not hold."""

    name: str
    aliases: tuple[str, ...]
    origins: frozenset[str]
    allergens: frozenset[str]
    label_foods: tuple[str, ...]  # foods that break the rule by their kind, but of which some do not
    ask_foods: tuple[str, ...]  # foods that the larder finds nothing in, but whose makers may add it
    never: tuple[str, ...]  # look-alikes that cannot break it


@enum.unique
class Answer(enum.StrEnum):
    """Whether a claim holds."""

    YES = "yes"
    NO = "no"
    UNSURE = "cannot be vouched for"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """One line that speaks against a claim."""

    line: Ingredient
    sure: bool
    item: str  # the line's food, or the alternative that it offers
    why: str  # milk; the larder does not know it


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What the list says to a claim."""

    diet: Diet
    answer: Answer
    because: tuple[Reason, ...]  # empty for a yes


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
    return {plain(name): one for one in diets() for name in (one.name, *one.aliases)}


def diet(claim: str) -> Diet | None:
    """The diet that ``claim`` names, whatever its hyphens and capitals."""
    return by_name().get(plain(claim))


def verdict(lines: Iterable[Ingredient], one: Diet, larder: Larder) -> Verdict:
    """Whether a dish of ``lines`` may claim ``one``.

    No where a line breaks it for certain. Where only a label, an alternative, a line that may be left out or
    a food that the larder doesn't know speaks against it, it can't be vouched for, and must not print.
    """
    found = tuple(reason for line in lines for reason in _reasons(line, one, larder))
    sure = any(reason.sure for reason in found)
    answer = Answer.NO if sure else Answer.UNSURE if found else Answer.YES
    return Verdict(diet=one, answer=answer, because=found)


def printable(recipe: Recipe, larder: Larder) -> tuple[str, ...]:
    """The recipe's own claims that hold, as the author wrote them: what may print."""
    told = ((claim.text, diet(claim.text)) for claim in recipe.claims)
    return tuple(
        text
        for text, one in told
        if one is not None and verdict(recipe.ingredients, one, larder).answer is Answer.YES
    )


def fitting(recipe: Recipe, larder: Larder) -> tuple[str, ...]:
    """Every diet that the list goes with, for filters."""
    return tuple(one.name for one in diets() if verdict(recipe.ingredients, one, larder).answer is Answer.YES)


def _reasons(line: Ingredient, one: Diet, larder: Larder) -> Iterator[Reason]:
    if not line.item or says_so(line, one):
        return
    found = against(identity(line, larder), one)
    if found is not None:
        sure, why = found
        yield Reason(line=line, sure=sure and not line.optional, item=line.item, why=why)
        return
    for other in alternatives(line, larder):
        offered = against(other, one)
        if offered is not None:
            yield Reason(line=line, sure=False, item=other.item, why=f"offered instead: {offered[1]}")


def says_so(line: Ingredient, one: Diet) -> bool:
    """Whether the line itself asks for one that fits: ``gluten-free oats``, ``vegan mayonnaise``."""
    told = f" {plain(re.sub(r'[,;()]', ' ', line.text))} "
    names = (one.name, *one.aliases, *(_STRICTER.get(one.name, ())))
    return any(f" {plain(name)} " in told for name in names)


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


def against(food: Identity, one: Diet) -> tuple[bool, str] | None:
    """What speaks against a food in a dish of this claim: whether for certain, and why; None for nothing."""
    if food.food is None:
        return False, "the larder does not know it"
    found = _breach(food.food, one)
    if found is not None and food.how is How.CLASS:  # some venison is meat; some bread may be of rice
        sure, why = found
        return sure and bool(food.food.origin & one.origins), why
    if found is None and food.how is not How.KNOWN:
        asked = _breach_of_class(food, one)
        return (False, asked) if asked else None
    return found


def _breach_of_class(food: Identity, one: Diet) -> str:
    """What a food known by its noun or class may hold; a cheese nobody knows may hold rennet."""
    perhaps = {name for market in MARKETS for name in food.possible(market)} & one.allergens
    beside = [breach[1] for other in food.beside if (breach := _breach(other, one))]
    if perhaps or beside:
        return _listed([*sorted(perhaps), *beside])
    unknown = food.how is How.CLASS or is_of(food.food, one.label_foods) or is_of(food.food, one.ask_foods)
    return "the larder knows it by its kind alone" if unknown else ""


def _breach(food: Food, one: Diet) -> tuple[bool, str] | None:
    """What speaks against a food of the larder, the surest first."""
    if is_of(food, one.never):
        return None
    allergens = {*food.us_allergens, *food.eu_allergens}
    perhaps = {name.removeprefix("?") for name in allergens if name.startswith("?")}
    perhaps |= {name for market in MARKETS for name in usual(market).get(food.key, ())} - allergens
    open_origins = {origin for origin, names in _FROM.items() if perhaps & names and not allergens & names}
    sure = sorted(allergens & one.allergens) or sorted((food.origin - open_origins) & one.origins)
    if sure:
        return not is_of(food, one.label_foods), _listed(sure)
    unsure = sorted(perhaps & one.allergens) or sorted(food.origin & one.origins)
    if is_of(food, one.ask_foods):
        unsure = unsure or [one.name.removesuffix("-free")]
    return (False, _listed(unsure)) if unsure else None


_FROM = {  # the allergens an origin shows as; where they depend on the maker, so does the origin
    "milk": {"milk"},
    "egg": {"egg", "eggs"},
    "fish": {"fish"},
    "shellfish": {"crustacean shellfish", "crustaceans", "molluscs"},
}
_WORDED = {
    "eggs": "egg",
    "nuts": "tree nuts",
    "cereals containing gluten": "gluten",
    "gelatine": "gelatine from animals",
    "crustaceans": "crustacean shellfish",
    "sesame seeds": "sesame",
}


def _listed(names: Iterable[str]) -> str:
    told = list(dict.fromkeys(_WORDED.get(name, name) for name in names))
    return " and ".join(filter(None, (", ".join(told[:-1]), told[-1])))
