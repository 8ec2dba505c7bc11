"""Whether the method cooks a food: which steps heat it after it has gone in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.fields import Field, steps
from cardsmith.measure.larder import words
from cardsmith.recipe.mentions import How, Mentions
from cardsmith.recipe.model import Part, Recipe
from cardsmith.regex import regex

EGG_SAFE = Fraction(640, 9)  # 160 °F: egg dishes, FoodSafety.gov chart; what reaches it is cooked

# Words of cooking, common practice, no source. "Boiling water" and "cooked rice" heat nothing themselves.
COOKING = regex(
    r"\b(?:(?:re-?)?bak(?:e|es|ing)|roast(?:ing)?|(?:stir-|deep-|pan-)?fry(?:ing)?|sauté|saute|sear|cook|simmer"
    r"|poach|steam|grill|barbecue|broil|griddle|toast|braise|stew|scramble|blanch|microwave|caramelize"
    r"|brown (?:the|them|it|in|on|both|all|well)|boil|scald"
    r"|(?:in|into) (?:the|a|an) (?:\w+ )?(?:oven|waffle iron|griddle|skillet|frying pan|hot pan|slow cooker)"
    r"|(?:in|into) (?:\w+ ){0,4}(?:boiling|simmering) water"
    r"|over (?:\w+[ -])?(?:low|medium|moderate|high|gentle)(?:[ -](?:low|high))? heat)\b",
    re.IGNORECASE,
)
NOT_COOKING = regex(r"(?:do not|don't|without|never|no need to|not) (?:\w+ ){0,2}$", re.IGNORECASE)
THING = regex(r"\b(?:on|the|a|your) (?:roast|stew|toast|steam|grill|braise|fry|bake)$", re.IGNORECASE)


def heats(text: str, start: int = 0) -> bool:
    """Whether ``text`` cooks something from ``start`` on: “bake for 20 minutes”, not “do not bake”."""
    return any(
        not NOT_COOKING.search(text[: match.start()]) and not THING.search(text[: match.end()])
        for match in COOKING.finditer(text, start)
    )


def reaches(text: Field, least: Fraction, start: int = 0) -> bool:
    """Whether a text names a temperature of at least ``least`` °C after ``start``."""
    return any(span.quantity.low >= least for _, span in text.temperatures(start))


def after_use(recipe: Recipe, mentions: Mentions, place: int) -> Iterator[tuple[Field, int]]:
    """The steps a food goes through from its first use on, each with the place in it where that begins.

    Steps of its own part, all of them where none names the food; of later parts those from the first that
    speaks of the part by name, and all where the part has none.
    """
    used = [one for one in mentions.by_line.get(place, ()) if one.how is not How.CUE]
    first = min(used, key=lambda one: (one.step, one.start), default=None)
    number = lines = 0
    mine: Part | None = None
    joined = False
    texts = steps(recipe)
    for part in recipe.parts:
        own = lines <= place < lines + len(part.ingredients)
        lines += len(part.ingredients)
        mine = part if own else mine
        for step in texts[number : number + len(part.steps)]:
            begins = 0
            if first is not None and number == first.step:
                begins = _clause(step.text, first.start)
            elif mine is not None and not own and not joined:
                begins = _named(mine, step)
                joined = begins >= 0
            reached = mine is not None and (first is None or number >= first.step)
            if reached and (own or joined or (first is not None and number == first.step)):
                yield step, begins
            number += 1


def _clause(text: str, at: int) -> int:
    """Where the clause around ``text[at]`` begins, so that “fry the sprouts” counts with its verb."""
    return max((match.end() for match in _TURN.finditer(text, 0, at)), default=0)


_TURN = regex(r"[.;!?:]\s|,? (?:and )?then\b|,? and (?=(?:stir|beat|whisk|fold|mix|add|pour|scatter)\b)")


def _named(part: Part, step: Field) -> int:
    """Where a step first speaks of a part by a word of its name; -1 where it does not."""
    if not part.name:
        return 0
    mine = set(words(part.name))
    for match in re.finditer(r"\w+", step.text):
        if mine & set(words(match.group())):
            return match.start()
    return -1


def is_cooked(recipe: Recipe, mentions: Mentions, place: int) -> bool:
    """Whether any step heats the food at ``place`` of the list once it has gone in."""
    return any(
        heats(step.text, start) or reaches(step, EGG_SAFE, start)
        for step, start in after_use(recipe, mentions, place)
    )
