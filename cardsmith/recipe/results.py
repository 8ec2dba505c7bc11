"""Words for what a recipe makes: a step that names the curd names no ingredient."""

from __future__ import annotations

from cardsmith.measure.larder import Larder, words
from cardsmith.recipe.model import Recipe
from cardsmith.regex import regex

DISH = regex(r"(?i)\s(?:with|in|on|and|for|from|under|over)\b|[,:]")
# Shaped as apples, pears and oranges: likenesses, and no fruit.
SHAPED = regex(r"(?i)\b(?:shape|form|model|mould|mold)\b[^.;]*? (?:as|like) (?P<what>(?:(?! then )[^.;])*)")


def results(recipe: Recipe, larder: Larder) -> frozenset[str]:
    """Words for what the recipe makes; a step that names them names no ingredient.

    A food before the last word of a name is an ingredient: thyme crackers are crackers, not thyme; and so
    is what follows *with*: rice with butter is rice.
    """
    makes = recipe.yields.makes_item if recipe.yields else ""
    kind = recipe.kind.text if recipe.kind else ""
    shaped = (SHAPED.search(step.text) for part in recipe.parts for step in part.steps)
    made_like = {word for match in shaped if match for word in words(match["what"])}
    dish, *others = DISH.split(recipe.title)
    named = [words(text) for text in (dish, kind, makes, *(part.name for part in recipe.parts))]
    beside = [word for text in others for word in words(text)]
    made = [word for name in named for word in name[:-1]] + beside
    last = [name[-1] for name in named if name and not _is_half(name, larder)]
    return frozenset([*made_like, *(word for word in made if larder.find(word) is None), *last])


def _is_half(name: tuple[str, ...], larder: Larder) -> bool:
    """Whether the last word of a name is another food by itself: ice cream is no cream."""
    whole, last = larder.find(" ".join(name[-2:])), larder.find(name[-1])
    return whole is not None and last is not None and whole.food.key != last.food.key
