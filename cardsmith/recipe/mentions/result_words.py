"""Words for what a recipe makes: a step that names the curd names no ingredient."""

from __future__ import annotations

from cardsmith.measure.larder import Larder, words
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.recipe.model import Recipe
from cardsmith.regex import regex

DISH = regex(r"(?i)\s(?:with|in|on|and|for|from|under|over)\b|[,:]")
WITH = regex(r"(?i)\s(?:with|in|on|for|from|under|over)\b|[,:]")
AND = regex(r"(?i)\s(?:and|&)\s")
OF = regex(r"[,(]|\bof\b")
# Shaped as apples, pears and oranges: likenesses, and no fruit.
SHAPED = regex(r"(?i)\b(?:shape|form|model|mould|mold)\b[^.;]*? (?:as|like) (?P<what>(?:(?! then )[^.;])*)")
# Twisted into 12 sausages: what the cook makes.
TURNED = regex(
    r"(?i)\b(?:shape|form|mould|mold|roll|twist|turn|divide)\b[^.;]*? into (?!the\b|it\b)"
    r"(?P<what>(?:(?! and )[^.;,])*)"
)


def results(recipe: Recipe, larder: Larder) -> frozenset[str]:
    """Words for what the recipe makes; a step that names them names no ingredient.

    A food before the last word of a name is an ingredient: thyme crackers are crackers, not thyme; and so
    is what follows *with*: rice with butter is rice.
    """
    makes = recipe.yields.makes_item if recipe.yields else ""
    kind = recipe.kind.text if recipe.kind else ""
    dish, *others = DISH.split(recipe.title)
    parts = (part.name for part in recipe.parts)
    named = [words(text) for text in (dish, *_last_of(recipe.title), kind, *OF.split(makes), *parts)]
    beside = [word for text in others for word in words(text)]
    made = [word for name in named for word in name[:-1]] + beside
    last = [name[-1] for name in named if name and not _is_half(name, larder)]
    return frozenset([*(word for word in made if larder.find(word) is None), *last])


def shapes(recipe: Recipe) -> frozenset[str]:
    """Words for what the steps shape something as, or turn it into."""
    shaped = (how.search(step.text) for how in (SHAPED, TURNED) for step in recipe.steps)
    return frozenset(word for match in shaped if match for word in words(match["what"]))


def _last_of(title: str) -> tuple[str, ...]:
    """What a title of two foods names at last: the sausages of pork and apple sausages, no rice and peas."""
    plain, *_ = WITH.split(title)
    *before, last = AND.split(plain)
    described = set(words(last)[:-1]) - descriptors()
    return (last,) if before and described else ()


def _is_half(name: tuple[str, ...], larder: Larder) -> bool:
    """Whether the last word of a name is another food by itself: ice cream is no cream."""
    whole, last = larder.find(" ".join(name[-2:])), larder.find(name[-1])
    return whole is not None and last is not None and whole.food.key != last.food.key
