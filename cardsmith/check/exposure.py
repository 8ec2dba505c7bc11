"""What the method leaves of a danger: whether a food stays raw, pink, whole, fresh, or too briefly boiled."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction

from cardsmith.check.facts import acidities
from cardsmith.check.fields import fields, steps
from cardsmith.check.heat import after_use, is_cooked
from cardsmith.check.matching import texts
from cardsmith.language.spans import Kind, Purpose
from cardsmith.recipe.mentions import Mentions
from cardsmith.recipe.model import Recipe


def _any(_recipe: Recipe, _mentions: Mentions, _place: int) -> bool:
    return True


def _raw(recipe: Recipe, mentions: Mentions, place: int) -> bool:
    """Goes into the dish and is never cooked."""
    line = recipe.ingredients[place]
    ready = re.compile(r"\b(?:cooked|boiled|pasteuri[sz]ed|dried|canned|powder)\b", re.IGNORECASE)
    name = line.food.name if line.food else ""
    if ready.search(f"{line.text} {name}") or line.for_use:
        return False
    return any(True for _ in after_use(recipe, mentions, place)) and not is_cooked(recipe, mentions, place)


def _raw_egg(recipe: Recipe, mentions: Mentions, place: int) -> bool:
    """Raw, and no boiling syrup is poured over it (USDA FSIS, Shell Eggs from Farm to Table: memory)."""
    syrup = any(
        span.purpose is Purpose.SYRUP and span.quantity.low >= 110
        for step in steps(recipe)
        for _, span in step.temperatures()
    )
    poured = any(
        re.search(r"\bsyrup\b", step.text[start:], re.IGNORECASE)
        for step, start in after_use(recipe, mentions, place)
    )
    return _raw(recipe, mentions, place) and not (syrup and poured)


def _pink(recipe: Recipe, mentions: Mentions, place: int) -> bool:
    """Taken off below 145 °F, by every temperature of its inside that the steps give."""
    inside = [
        span.quantity.low
        for step, start in after_use(recipe, mentions, place)
        for _, span in step.temperatures(start)
        if span.purpose is Purpose.CORE
    ]
    return bool(inside) and max(inside) < Fraction(313, 5) and _raw_meat(recipe, mentions, place)


def _raw_flour(recipe: Recipe, mentions: Mentions, place: int) -> bool:
    """Stays raw in a dish that never sees an oven; an unfinished draft of bread is no raw dough."""
    told = texts(recipe)
    oven = re.search(r"\b(?:oven|bak(?:e|ed|ing))\b", f"{told['title']} {told['steps']}", re.IGNORECASE)
    return not oven and _raw(recipe, mentions, place)


def _raw_fish(recipe: Recipe, mentions: Mentions, place: int) -> bool:
    line = recipe.ingredients[place]
    ready = re.compile(r"\b(?:canned|smoked|anchovy|bonito|surimi|stock)\b", re.IGNORECASE)
    return not (line.food and ready.search(line.food.name)) and _raw(recipe, mentions, place)


def _raw_meat(recipe: Recipe, _mentions: Mentions, place: int) -> bool:
    food = recipe.ingredients[place].food
    return food is not None and not food.share("bone") and food.share("salt") < Fraction(1, 100)


def _raw_after(recipe: Recipe, _mentions: Mentions, _place: int) -> bool:
    """Nothing is baked, but for the flour itself."""
    return not any(re.search(r"\bbake (?:for|until)\b", step.text, re.I) for step in steps(recipe)[-2:])


def _not_boiled(recipe: Recipe, _mentions: Mentions, _place: int) -> bool:
    """No step boils for ten minutes or more."""
    return boiled_for(recipe) < 600


def boiled_for(recipe: Recipe) -> Fraction:
    """The longest time, in seconds, for which a step boils; 0 where none says."""
    longest = Fraction(0)
    for step in steps(recipe):
        for match in re.finditer(r"\bboil\b", step.text, re.IGNORECASE):
            _, ends = step.sentence_at(match.start())
            turn = re.search(r"\b(?:simmer|then|lower|reduce)\b", step.text[match.end() : ends], re.I)
            stop = match.end() + turn.start() if turn else ends
            longest = max(longest, step.surely(match.start(), stop))
    return longest


def _whole(recipe: Recipe, _mentions: Mentions, place: int) -> bool:
    """Neither cut nor ground, nor a paste or flour."""
    line = recipe.ingredients[place]
    cut = (
        r"\b(?:chopped|sliced|slivered|ground|flaked|crushed|quartered|butter|flour|paste|shredded|finely)\b"
    )
    told = f"{line.text} {line.food.name if line.food else ''}"
    return not re.search(cut, told, re.IGNORECASE) and "coconut" not in told


def _fresh(recipe: Recipe, _mentions: Mentions, place: int) -> bool:
    """Moist, not dried."""
    line = recipe.ingredients[place]
    dried = re.compile(r"\b(?:dried|powder|flakes)\b|^bay leaf", re.IGNORECASE)
    return not dried.search(line.food.name if line.food else "") and "dried" not in line.text


def _strength_untold(recipe: Recipe, _mentions: Mentions, _place: int) -> bool:
    """The recipe does not yet say both 5 % and refrigerate by itself."""
    strength = any(one.low == 5 for text in fields(recipe) for _, one in text.told(Kind.PERCENT))
    listed = any(5 in acidities(line) for line in recipe.ingredients)
    cold = re.search(r"\brefrigerat", " ".join(texts(recipe).values()), re.IGNORECASE)
    return not ((strength or listed) and cold)


STATES: Mapping[str, Callable[[Recipe, Mentions, int], bool]] = {
    "": _any,
    "raw": _raw,
    "raw egg": _raw_egg,
    "raw fish": _raw_fish,
    "raw flour": _raw_flour,
    "raw meat": _raw_meat,
    "pink": _pink,
    "raw after": _raw_after,
    "not boiled": _not_boiled,
    "fresh": _fresh,
    "strength untold": _strength_untold,
    "whole": _whole,
}
