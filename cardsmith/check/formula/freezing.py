"""What is frozen firm, and holds too much alcohol for that."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import percent
from cardsmith.finding import Severity
from cardsmith.regex import regex

MOST = Fraction(5, 100)  # of the mix in pure alcohol, by weight; below it a freezer sets it: no source
FROZEN = regex(
    r"\b(?:sorbet|ice[- ]?creams?|gelato|parfait|semifreddo|popsicles?|ice[- ]?lollies|ice[- ]?pops?"
    r"|paletas?|kulfi|sherbet|frozen yogh?urt|bombe)\b",
    re.IGNORECASE,
)
SOFT = regex(r"\b(?:slush\w*|frapp\w*|fros[eé]|froz[eé]|granita|cocktail|margarita|daiquiri|float)\b", re.I)
FIRM = regex(r"\b(?:churn\w*|freez\w*|frozen|ice[- ]cream (?:maker|machine))\b", re.IGNORECASE)


@check(
    "frozen-too-strong",
    Severity.WARNING,
    why="Alcohol lowers the freezing point: beyond a few per cent the mix stays slush in any freezer.",
    source=PRACTICE,
    remedy="take less of the spirit, boil it down first, or call it a slush",
)
def frozen_too_strong(subject: Subject) -> Iterator[Query]:
    """A sorbet, an ice cream or an ice lolly with more than a twentieth of its weight in pure alcohol."""
    recipe = subject.recipe
    made = f"{recipe.title} {recipe.yields.makes_item if recipe.yields else ''}"
    if not FROZEN.search(made) or SOFT.search(made):
        return
    if not any(FIRM.search(step.text) for step in subject.steps):
        return
    formula = subject.formula(recipe.parts)
    alcohol, whole = formula.roles.get("alcohol", Fraction(0)), formula.roles["total"]
    if "total" in formula.unweighed or alcohol <= whole * MOST:
        return
    spirits = (
        (mass.grams * line.food.share("alcohol"), place)
        for place, (line, mass) in enumerate(formula.lines)
        if line.food is not None and mass is not None
    )
    strong = formula.lines[max(spirits)[1]][0]
    what = f"{percent(alcohol / whole)} of the mix is alcohol"
    yield query(strong, f"{what}; over {percent(MOST)} it stays soft")
