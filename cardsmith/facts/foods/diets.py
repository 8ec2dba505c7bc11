"""Diets and claims (vegan, gluten-free, nut-free): true, not true, or more than the larder can vouch for."""

from __future__ import annotations

import enum
from collections.abc import Collection, Iterable, Iterator

from cardsmith.facts.foods.allergens import usual
from cardsmith.facts.foods.claims import Diet, asked_for, diet, diets
from cardsmith.facts.foods.foods import MARKETS, Certainty, Identity, alternatives, identity, joined
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed
from cardsmith.measure.food import SHOWN_AS
from cardsmith.measure.larder import Food, Larder
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.mentions.groups import is_heading
from cardsmith.recipe.model import Ingredient, Recipe


@enum.unique
class ClaimAnswer(enum.StrEnum):
    """Whether a claim holds."""

    YES = "yes"
    NO = "no"
    UNSURE = "cannot be vouched for"


@frozen
class Reason:
    """One line that speaks against a claim."""

    line: Ingredient
    sure: bool
    item: str  # the line's food, or the alternative that it offers
    why: str  # milk; the larder does not know it


@frozen
class ClaimVerdict:
    """What the list says about a claim."""

    diet: Diet
    answer: ClaimAnswer
    because: tuple[Reason, ...]  # empty for a yes


def verdict(lines: Iterable[Ingredient], of_diet: Diet, larder: Larder) -> ClaimVerdict:
    """Whether a dish of ``lines`` may claim a diet.

    No where a line breaks it for certain. Where only a label, an alternative, a line that may be left out or
    a food that the larder doesn't know speaks against it, it can't be vouched for, and must not print.
    """
    reasons = tuple(reason for line in lines for reason in _reasons(line, of_diet, larder))
    sure = any(reason.sure for reason in reasons)
    answer = ClaimAnswer.NO if sure else ClaimAnswer.UNSURE if reasons else ClaimAnswer.YES
    return ClaimVerdict(diet=of_diet, answer=answer, because=reasons)


def printable(recipe: Recipe, larder: Larder) -> tuple[str, ...]:
    """The recipe's own claims that hold, as the author wrote them: what may print."""
    claimed = ((claim.text, diet(claim.text)) for claim in recipe.claims)
    return tuple(
        text
        for text, of_diet in claimed
        if of_diet is not None and verdict(recipe.ingredients, of_diet, larder).answer is ClaimAnswer.YES
    )


def fitting(recipe: Recipe, larder: Larder) -> tuple[str, ...]:
    """Every diet that the list goes with, for filters."""
    return tuple(
        of_diet.name
        for of_diet in diets()
        if verdict(recipe.ingredients, of_diet, larder).answer is ClaimAnswer.YES
    )


def _reasons(line: Ingredient, of_diet: Diet, larder: Larder) -> Iterator[Reason]:
    if not line.item or of_diet in asked_for(line.text) or is_heading(line):
        return
    several = joined(line.item, larder) if line.food is None else ()
    each = (_breach(food, of_diet) for food in several)
    breach = next(filter(None, each), None) if several else against(identity(line, larder), of_diet)
    if breach is not None:
        sure, why = breach
        yield Reason(line=line, sure=sure and not line.optional, item=line.item, why=why)
        return
    for other in alternatives(line, larder):
        offered = against(other, of_diet)
        if offered is not None:
            yield Reason(line=line, sure=False, item=other.item, why=f"offered instead: {offered[1]}")


def against(food: Identity, of_diet: Diet) -> tuple[bool, str] | None:
    """What speaks against a food in a dish of this claim: whether for certain, and why; None for nothing."""
    if food.food is None:
        return False, "the larder does not know it"
    breach = _breach(food.food, of_diet, food.keeps)
    if breach is not None and food.how is Certainty.CLASS:  # some venison is meat; some bread may be of rice
        sure, why = breach
        return sure and bool(food.food.origin & of_diet.origins), why
    if breach is None and food.how is not Certainty.KNOWN:
        asked = _breach_of_class(food, of_diet)
        return (False, asked) if asked else None
    return breach


def _breach_of_class(food: Identity, of_diet: Diet) -> str:
    """What a food known by its noun or class may hold; a cheese nobody knows may hold rennet."""
    perhaps = {name for market in MARKETS for name in food.possible(market)} & of_diet.allergens
    beside = [breach[1] for other in food.beside if (breach := _breach(other, of_diet))]
    if perhaps or beside:
        return _listed([*sorted(perhaps), *beside])
    mixed = food.how is Certainty.CLASS and not is_of(food.food, _PLAIN)
    unknown = mixed or is_of(food.food, of_diet.label_foods) or is_of(food.food, of_diet.ask_foods)
    return "the larder knows it by its kind alone" if unknown else ""


_PLAIN = tuple(  # one thing, to which nobody adds another: some berry, some fish, some cheese
    f"role:{role}"
    for role in ("fruit", "vegetable", "herb", "nut", "legume", "grain", "meat", "poultry", "fish", "cheese")
)


def _breach(food: Food, of_diet: Diet, keeps: Collection[str] = ()) -> tuple[bool, str] | None:
    """What speaks against a food of the larder, the surest first; ``keeps``: what its line has it lack."""
    if is_of(food, of_diet.never):
        return None
    allergens = {*food.us_allergens, *food.eu_allergens}
    perhaps = {name.removeprefix("?") for name in allergens if name.startswith("?")}
    perhaps |= {name for market in MARKETS for name in usual(food, market)} - allergens
    open_origins = {origin for origin, names in SHOWN_AS.items() if perhaps & names and not allergens & names}
    sure = sorted(allergens & of_diet.allergens) or sorted((food.origin - open_origins) & of_diet.origins)
    if sure:
        return not is_of(food, of_diet.label_foods), _listed(sure)
    unsure = sorted(perhaps & of_diet.allergens - {*keeps}) or sorted(food.origin & of_diet.origins)
    if is_of(food, of_diet.ask_foods):
        unsure = unsure or [_ASKED.get(of_diet.name, of_diet.name.removesuffix("-free"))]
    return (False, _listed(unsure)) if unsure else None


_ASKED = dict.fromkeys(("vegetarian", "pescatarian"), "rennet, which may be from animals")
_WORDED = {
    "eggs": "egg",
    "nuts": "tree nuts",
    "cereals containing gluten": "gluten",
    "gelatine": "gelatine from animals",
    "crustaceans": "crustacean shellfish",
    "sesame seeds": "sesame",
}


def _listed(names: Iterable[str]) -> str:
    return listed(list(dict.fromkeys(_WORDED.get(name, name) for name in names)))
