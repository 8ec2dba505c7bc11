"""The kind that a recipe without one most likely is: by its title, or by what its list is made of."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from cardsmith.check.subject import Subject
from cardsmith.facts.kinds import kinds
from cardsmith.last_result import remembered
from cardsmith.measure.larder import words
from cardsmith.recipe.results import DISH

DOUGH = Fraction(3, 10)  # of flour; with less it thickens or coats: common practice, no source
SWEET = Fraction(1, 2)  # of sugar to flour makes a cake of a bread: common practice, no source
RICH = Fraction(1, 5)  # of butter to flour makes a brioche of a loaf: common practice, no source
OPEN = frozenset(
    words("biscuit squash syrup side sausage meatball burger caramel flan rice bean noodle")
)  # of two meanings
WET = Fraction(2, 5)  # of water to flour makes a cake of a biscuit: common practice, no source
YEASTS = ("yeast-instant", "yeast-active-dry", "yeast-fresh")


@remembered  # by several checks
def likely_kind(subject: Subject) -> str:
    """A kind of the tables; empty where neither title nor list tells it."""
    recipe = subject.recipe
    makes = recipe.yields.makes_item if recipe.yields else ""
    named = (_named(words(text)) for text in (DISH.split(recipe.title)[0], DISH.split(makes)[0]))
    return next(filter(None, named), "") or _made_of(subject.formula(recipe.parts).roles)


def _named(told: tuple[str, ...]) -> str:
    """By the longest name of a kind that ends the text: sourdough bread, beef stew."""
    by_words = {words(name): kind for name, kind in kinds().items() if not OPEN & set(words(name))}
    return next((by_words[told[at:]] for at in range(len(told)) if told[at:] in by_words), "")


def _made_of(roles: Mapping[str, Fraction]) -> str:
    """By the weights of the list, where flour is raised: a dough with yeast, a batter with soda or powder."""
    flour, total = roles.get("flour", Fraction(0)), roles["total"]
    if not flour or flour < DOUGH * total:
        return ""
    if any(roles.get(one) for one in YEASTS):
        return "brioche" if roles.get("butter", 0) >= RICH * flour and roles.get("egg") else "yeast-bread"
    if any(roles.get(one) for one in ("soda", "baking-powder")):
        wet = roles.get("water", Fraction(0)) >= WET * flour
        sweet = roles.get("sugar", Fraction(0)) >= SWEET * flour
        return "quick-bread" if not sweet else "butter-cake" if wet else "cookie"
    return ""
