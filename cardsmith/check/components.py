"""What is judged together in a single list: the mixture that is baked, without what dresses it afterwards."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from cardsmith.check.fields import Field, steps
from cardsmith.check.parts import trimming_words
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Larder, words
from cardsmith.recipe.mentions.mentions import How, Mention, Mentions
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.model import Ingredient, Part, Recipe
from cardsmith.regex import regex

_BAKES = regex(
    r"\b(?:bake|baked|oven|steam"
    r"|baking(?! (?:powder|soda|sheet|tray|dish|tin|pan|paper|parchment|stone|beans)))\b",
    re.IGNORECASE,
)
_FOR = regex(r"\bfor (?:the |an? )?(?P<use>[a-z ]+)", re.IGNORECASE)  # 20 g of butter, for the sauce
_AGAIN = regex(r"\b(?:extra|remaining|other|rest of the) (?:[a-z-]+ )?$", re.IGNORECASE)


@remembered
def components(recipe: Recipe, larder: Larder) -> tuple[Part, ...]:
    """The parts of ``recipe``; a single list with flour in it is divided where its steps divide it.

    What all steps use after the last one that bakes, or what a line says is for a sauce, is a part of its
    own that is named as a topping. Where the steps divide nothing, the one part is given back.
    """
    if len(recipe.parts) != 1:
        return recipe.parts
    (part,) = recipe.parts
    method = steps(recipe)
    baked = max((place for place, field in enumerate(method) if _BAKES.search(field.text)), default=None)
    if baked is None:
        return recipe.parts
    mentions = read_mentions(recipe, larder)
    apart = {
        place
        for place, line in enumerate(part.ingredients)
        if _is_for_a_trimming(line)
        or min((mention.step for mention in _own(place, line, mentions, method)), default=baked) > baked
    }
    core = tuple(line for place, line in enumerate(part.ingredients) if place not in apart)
    if not apart or not any(line.food is not None and line.food.share("flour") for line in core):
        return recipe.parts
    dressing = tuple(line for place, line in enumerate(part.ingredients) if place in apart)
    return replace(part, ingredients=core), replace(part, name="topping", ingredients=dressing, steps=())


def _is_for_a_trimming(line: Ingredient) -> bool:
    use = _FOR.search(f"{line.item}, {line.prep}")
    return use is not None and not trimming_words().isdisjoint(words(use["use"]))


def _own(place: int, line: Ingredient, mentions: Mentions, method: Sequence[Field]) -> tuple[Mention, ...]:
    """The uses of a line; where some name it alone, those only.

    “Sugar” may mean caster or icing sugar, “icing sugar” one of them; what is listed as extra is used where
    a step says extra.
    """
    extra = "extra" in words(f"{line.item} {line.prep}")
    used = tuple(mention for mention in mentions.by_line.get(place, ()) if mention.how is not How.CUE)
    meant = tuple(
        mention
        for mention in used
        if extra == (_AGAIN.search(method[mention.step].text, 0, mention.start) is not None)
    )
    alone = tuple(
        mention for mention in used if mentions.lines_at[mention.step, mention.start, mention.end] == 1
    )
    return alone or meant or used
