"""Claims (vegan, gluten-free, nut-free) against where every food of the list comes from and what it holds."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from cardsmith.check.facts import PRACTICE
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import listed
from cardsmith.facts.patterns import is_of
from cardsmith.finding import Severity
from cardsmith.language.line_foods import alternative_foods
from cardsmith.measure.larder import Food
from cardsmith.recipe.model import Ingredient, Text
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


@cache
def diets() -> tuple[Diet, ...]:
    """Every claim that can be checked."""
    return tuple(
        Diet(
            name=row["claim"],
            aliases=_cell(row["aliases"]),
            origins=frozenset(_cell(row["origins"])),
            allergens=frozenset((*_cell(row["us_allergens"]), *_cell(row["eu_allergens"]))),
            label_foods=_cell(row["label_foods"]),
            ask_foods=_cell(row["ask_foods"]),
            never=_cell(row["never"]),
        )
        for row in table("diets")
    )


def _cell(text: str) -> tuple[str, ...]:
    return tuple(filter(None, text.split("|")))


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[-‑ ]+", " ", text.strip().lower()).split())


@cache
def _by_name() -> dict[str, Diet]:
    return {_plain(name): one for one in diets() for name in (one.name, *one.aliases)}


def diet(claim: str) -> Diet | None:
    """The diet that ``claim`` names, whatever its hyphens and capitals."""
    return _by_name().get(_plain(claim))


@dataclass(frozen=True, slots=True, kw_only=True)
class Breach:
    """Why a food does not go with a claim; ``sure`` is False where its label decides."""

    sure: bool
    why: str


def breach(food: Food, one: Diet) -> Breach | None:
    """What speaks against ``food`` in a dish of this claim, the surest first."""
    if is_of(food, one.never):
        return None
    allergens = {*food.us_allergens, *food.eu_allergens}
    perhaps = {name.removeprefix("?") for name in allergens if name.startswith("?")}
    open_origins = {origin for origin, names in FROM.items() if perhaps & names and not allergens & names}
    sure = sorted(allergens & one.allergens) or sorted((food.origin - open_origins) & one.origins)
    if sure:
        return Breach(sure=not is_of(food, one.label_foods), why=_listed(sure))
    unsure = sorted(perhaps & one.allergens) or sorted(food.origin & one.origins)
    if is_of(food, one.ask_foods):
        unsure = unsure or [one.name.removesuffix("-free")]
    return Breach(sure=False, why=_listed(unsure)) if unsure else None


FROM = {  # the allergens an origin shows as; where they depend on the maker, so does the origin
    "milk": {"milk"},
    "egg": {"egg", "eggs"},
    "fish": {"fish"},
    "shellfish": {"crustacean shellfish", "crustaceans", "molluscs"},
}


def _listed(names: list[str]) -> str:
    return listed(list(dict.fromkeys(WORDED.get(name, name) for name in names)), "and")


WORDED = {
    "eggs": "egg",
    "nuts": "tree nuts",
    "cereals containing gluten": "gluten",
    "wheat": "wheat",
    "gelatine": "gelatine from animals",
    "crustaceans": "crustacean shellfish",
    "sesame seeds": "sesame",
}


def _claimed(subject: Subject) -> Iterator[tuple[Text, Diet]]:
    for claim in subject.recipe.claims:
        known = diet(claim.text)
        if known is not None:
            yield claim, known


def _says_so(line: Ingredient, one: Diet) -> bool:
    """Whether the line itself asks for one that fits: ``gluten-free oats``, ``vegan mayonnaise``."""
    told = _plain(line.text)
    return any(re.search(rf"\b{re.escape(_plain(name))}\b", told) for name in (one.name, *one.aliases))


@check(
    "claim-contradicted",
    Severity.ERROR,
    why="Somebody will trust the word and fall ill, or eat what they have sworn off.",
    source="diets.csv, a source for each claim; allergens after Regulation (EU) 1169/2011 and FALCPA",
    remedy="take the claim out, or swap the ingredient",
    acceptable=False,
)
def claim_contradicted(subject: Subject) -> Iterator[Query]:
    """A claim that an ingredient breaks: vegan with honey, gluten-free with barley malt."""
    for claim, one in _claimed(subject):
        for line in subject.recipe.ingredients:
            found = breach(line.food, one) if line.food and not _says_so(line, one) else None
            if found is not None and found.sure:
                yield query(claim, f"“{claim.text}” is not true of {line.item} ({found.why})")


@check(
    "claim-unsure",
    Severity.WARNING,
    why="Brands differ; a claim that only the label can settle must say so in the list.",
    source="diets.csv, a source for each claim; the larder's allergens that depend on the maker",
    remedy="say in the line which sort to buy, such as “gluten-free rolled oats”, or take the claim out",
)
def claim_unsure(subject: Subject) -> Iterator[Query]:
    """A claim that depends on the brand bought, on an alternative offered, or on a food no larder knows."""
    for claim, one in _claimed(subject):
        for line in subject.recipe.ingredients:
            if _says_so(line, one):
                continue
            found = breach(line.food, one) if line.food else None
            if line.food is None and line.item:
                yield query(
                    claim, f"“{claim.text}” cannot be checked for {line.item}, which the larder lacks"
                )
            elif found is not None and not found.sure:
                yield query(
                    claim, f"“{claim.text}” depends on the {line.item} bought: it may hold {found.why}"
                )
            for other in alternative_foods(line.alternatives, subject.larder):
                offered = breach(other, one) if other else None
                if other is not None and offered is not None and found is None:
                    yield query(claim, f"“{claim.text}” is not true of {other.name}, offered for {line.item}")


@check(
    "unknown-claim",
    Severity.ERROR,
    why="A claim that nobody can check is an advertisement, or medical advice.",
    source=PRACTICE,
    remedy="write one of the claims that can be checked: " + ", ".join(one.name for one in diets()),
)
def unknown_claim(subject: Subject) -> Iterator[Query]:
    """A claim that no rule is known for: low-carb, healthy, glutenfre."""
    for claim in subject.recipe.claims:
        if diet(claim.text) is None:
            near = difflib.get_close_matches(_plain(claim.text), _by_name(), 1, 0.7)
            hint = f"did you mean “{_by_name()[near[0]].name}”?" if near else ""
            yield query(claim, f"“{claim.text}” is no claim that can be checked", hint)
