"""What a food of the list is to a word: of its class, dry or poured, or what something is got from."""

from __future__ import annotations

from cardsmith.measure.larder import Food, words
from cardsmith.recipe.mentions.lexicon import kind
from cardsmith.recipe.mentions.mentions import Stranger
from cardsmith.recipe.mentions.naming import DRY, Name, classes, derived, kitchen

POURED = ("liquid", "paste")
GROUND = ("powder", "granule")
MADE_OF = frozenset(words("vinegar stock broth wine"))  # "the cider" is never the cider vinegar
BOUGHT = frozenset(words("milk cheese flour sugar vinegar wine extract"))  # no cook gets these from a fruit
COMPOSITION = frozenset("fat water salt sugar".split())  # roles in which a food of another kind acts too
PANTRY = ("salt", "oil")  # roles of what every kitchen has, as it has pepper


def is_generic(stranger: Stranger) -> bool:
    """Whether the word that a step uses stands for more than one food of a kind."""
    said = words(stranger.text)
    return said in {words(name) for name in stranger.food.generic} or (
        len(said) == 1 and said[0] in classes()
    )


def is_dry(name: Name) -> bool:
    """Whether a line is one of the dry ingredients: flour and what acts like it, meal, ground nuts."""
    food = name.line.food
    ground = food is not None and food.state in GROUND
    return not is_poured(name) and (ground or acts(food, DRY))


def is_poured(name: Name) -> bool:
    """Whether a line is a liquid or a paste."""
    return name.line.food is not None and name.line.food.state in POURED


def acts(food: Food | None, roles: frozenset[str]) -> bool:
    """Whether a food is of a class; fat, water, salt and sugar in it alone don't make it so."""
    return food is not None and (food.is_mainly(*roles - COMPOSITION) or kind(food) in roles)


def is_pantry(food: Food) -> bool:
    """Whether a cook may take a little of it from the shelf without a line in the list: salt, oil, pepper."""
    return food.is_mainly(*PANTRY) or (food.is_mainly("spice") and "pepper" in words(food.name))


def comes_from(phrase: tuple[str, ...], food: Food, name: Name) -> bool:
    """Whether a phrase names what a cook gets from a listed line: zest of lemons, pepper of peppercorns.

    The duck legs and the duck fat of "4 legs duck confit, with their fat" too.
    """
    form, known = kitchen("form"), name.line.food
    pressed = known is not None and known.is_mainly("oil") and phrase[-1] not in name.heads
    if name.heads <= MADE_OF or pressed:  # no olives come from olive oil
        return False
    return bool(
        (known is not None and food.ndb_no and known.ndb_no == food.ndb_no)  # USDA SR 28 files both as one
        or ((name.heads - form) & set(phrase) and phrase[-1] not in BOUGHT - name.words)
        or phrase[-1] in name.telling - form
        or (f"{phrase[-1]}corn" in name.heads and set(phrase[:-1]) <= name.words)
        or (phrase in derived() and phrase[-1] in name.heads)
        or (phrase[0] in name.words and set(phrase[1:]) <= {name.counted, *words(name.line.text)})
    )


def is_kin(food: Food | None, other: Food | None) -> bool:
    """Whether two foods do first the same: sugar and brown sugar do, butter and peanut butter don't."""
    return food is None or other is None or kind(food) == kind(other)
