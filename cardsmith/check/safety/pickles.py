"""Pickles on the shelf: whether they are sour enough all through, and heated in their jars."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.line_facts import acidities
from cardsmith.check.registry import Query, check, query
from cardsmith.check.safety.jars import canned
from cardsmith.check.safety.keeping import kept_warm
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number, percent
from cardsmith.facts.dangers.spoilage import shares
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.finding import Severity
from cardsmith.measure.patterns import is_of
from cardsmith.measure.units import Dimension
from cardsmith.regex import regex

SOUR = 5  # per cent of acid in a vinegar that tested pickles are made with


@check(
    "pickle-kept-warm",
    Severity.ERROR,
    why="A pickle keeps on the shelf only if it is sour enough all through, and heated in its jar.",
    source="USDA Complete Guide to Home Canning (memory): 5 % acidity, and no weaker than a tested formula",
    remedy="call it a refrigerator pickle and keep it at 40 °F (4 °C), or have a tested formula reviewed",
    acceptable=False,
)
def pickle_kept_warm(subject: Subject) -> Iterator[Query]:
    """A vinegar pickle kept on the shelf that is weaker than half vinegar of 5 %, or not processed."""
    words = kept_warm(subject.storage)
    recipe = subject.recipe
    known = dish(recipe, subject.larder)
    places = range(len(known.foods))
    sour = next((place for place in places if is_vinegar(known, place)), None)
    if not words or not is_pickle(subject):
        return
    moist = next((place for place in places if is_of(known.foods[place].food, ("role:vegetable",))), None)
    if sour is None:
        if moist is not None and not FERMENTS.search(" ".join(field.text for field in subject.steps)):
            yield query(known.line(moist), f"a pickle kept “{words}” has no vinegar")
        return
    own = next(
        (place for place in places if is_vinegar(known, place) and OWN.search(known.line(place).text)), None
    )
    weak = [share for line in recipe.ingredients for share in acidities(line) if share < SOUR]
    vinegar = sum((_amount(subject, place) for place in places if is_vinegar(known, place)), Fraction(0))
    waters = (place for place in places if is_of(known.foods[place].food, ("key:water",)))
    water = sum((_amount(subject, place) for place in waters), Fraction(0))
    line = known.line(sour)
    if own is not None:
        complaint = f"nobody knows the acidity of {known.line(own).item}; a pickle kept “{words}” needs 5 %"
        yield query(known.line(own), complaint)
    elif weak:
        yield query(line, f"a pickle kept “{words}” needs vinegar of 5 % acidity, not {number(weak[0])} %")
    elif vinegar and water > vinegar:
        yield query(line, f"a pickle kept “{words}” has more water than vinegar")
    elif moist is not None and vinegar and vinegar * LEAST_SOUR < _moist(subject, known):
        what = (
            f"a pickle kept “{words}” has too little vinegar: {percent(vinegar / _moist(subject, known))} of"
        )
        yield query(line, f"{what} the vegetables' weight")
    elif moist is not None and not canned(subject):
        mild = is_preserve(subject)
        what = f"a pickle kept “{words}” is not processed in its jar"
        yield query(line, what, severity=Severity.NOTE if mild else Severity.WARNING)


LEAST_SOUR = 5  # times the vinegar that the vegetables may weigh; tested pickles have three at most (memory)


def _moist(subject: Subject, known: Dish) -> Fraction:
    """The grams of vegetables and onions."""
    fresh = ("role:vegetable", "role:allium")
    places = (place for place, food in enumerate(known.foods) if is_of(food.food, fresh))
    return sum((_amount(subject, place) for place in places), Fraction(0))


def is_pickle(subject: Subject) -> bool:
    """Whether a recipe is a pickle: by title, kind, or vegetables with vinegar in jars that are sealed."""
    recipe, known = subject.recipe, dish(subject.recipe, subject.larder)
    kind = recipe.kind.text if recipe.kind else ""
    if kind == "quick-pickle" or PICKLED.search(recipe.title):
        return True
    vinegar = any(is_vinegar(known, place) for place in range(len(known.foods)))
    near = any(
        is_of(food.food, ("key:*tomato*", "key:*fig", "role:meat", "role:poultry")) for food in known.foods
    )
    return vinegar and not near and bool(canned(subject))


def is_preserve(subject: Subject) -> bool:
    """Whether all of it is boiled down with sugar and vinegar, as a chutney is, and potted hot.

    UK practice seals it hot in sterilised jars; US guidance processes the jars as well.
    """
    known = dish(subject.recipe, subject.larder)
    sugar = shares(known).get("sugar", Fraction(0))
    text = " ".join(field.text for field in subject.steps)
    whole = all(
        known.history(place).events for place, food in enumerate(known.foods) if is_of(food.food, FRESH)
    )
    return sugar >= CANDIED and whole and POTTED.search(text) is not None


OWN = regex(
    r"\b(?:home-?\s?made|house-?made|your own|our own)\b", re.IGNORECASE
)  # vinegar of no known strength
CANDIED = Fraction(1, 10)  # of the list in sugar: common practice, no source
FRESH = ("role:vegetable", "role:fruit", "role:allium")
POTTED = regex(
    r"\b(?:hot|boiling|steril\w+|warm) (?:\w+ ){0,3}(?:jars?|bottles?)\b"
    r"|\b(?:pot|jar|bottle|ladle|spoon|pour|fill)\b[^.;]{0,40}\b(?:hot|boiling)\b",
    re.IGNORECASE,
)
PICKLED = regex(r"\b(?:pickl\w+|relish|chutney|giardiniera|achar)\b", re.IGNORECASE)
FERMENTS = regex(r"\b(?:ferment\w*|brine)\b", re.IGNORECASE)


def is_vinegar(known: Dish, place: int) -> bool:
    """Whether a line is of vinegar, also where its strength hides its name from the larder."""
    food = known.foods[place].food
    return is_of(food, ("role:vinegar",)) or "vinegar" in known.line(place).item.lower()


def _amount(subject: Subject, place: int) -> Fraction:
    """The grams of a line, or its ml, which for what is poured are as many; 0 where it has neither."""
    mass = subject.masses.get(place)
    if mass is not None:
        return mass.grams
    line = subject.recipe.ingredients[place]
    poured = line.amount is not None and line.amount.dimension is Dimension.VOLUME
    return line.amount.middle if line.amount is not None and poured else Fraction(0)
