"""A portion that cannot be: its energy, its salt, and the food its title names."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache

from cardsmith.check.fields import named
from cardsmith.check.formula.likely import presumed_kind
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import a_kind, grams, number, percent
from cardsmith.facts.foods.roles import YEASTS
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.portion.estimate import total
from cardsmith.portion.title import named_in_title
from cardsmith.recipe.model import Text
from cardsmith.reference import OURS, Tables
from cardsmith.regex import regex

TRACE = Fraction(1, 100)  # of the batch: common practice, no source
# Much of the salt may go down the drain, and the list does not say how much.
_SALT_LEAVES = regex(
    r"\b(?:brin(?:e|ed|ing)|cur(?:e|ed|ing)|crust|pickl\w*|ferment\w*|drain\w*|rins(?:e|ed|ing)|discard"
    r"|pour off|throw away|salted water|wipe off|brush off|scrape off|marinade)\b"
)


@frozen
class PortionBounds:
    """What a portion of a kind holds, at the least and most."""

    energy_least: Fraction  # kcal
    energy_most: Fraction
    salt_most: Fraction  # g


@cache
def portion_bounds(tables: Tables = OURS) -> Mapping[str, PortionBounds]:
    """The bounds by kind; figures out of order raise."""
    by_name: dict[str, PortionBounds] = {}
    for row in tables.rows("portion_bounds"):
        bounds = PortionBounds(
            **{name: Fraction(row[name]) for name in ("energy_least", "energy_most", "salt_most")}
        )
        if bounds.energy_least >= bounds.energy_most:
            raise ValueError(f"portion_bounds.csv: {row['kind']}: the figures are out of order")
        by_name[row["kind"]] = bounds
    return by_name


def _place(subject: Subject) -> Text | None:
    yields = subject.recipe.yields
    return yields.serves or yields.makes if yields else None


@check(
    "portion-energy-implausible",
    Severity.WARNING,
    why="A portion of 3,000 or of 5 kcal usually means a slip in an amount or in the number of servings.",
    source="USDA SR 28 by the larder's numbers; portion_bounds.csv, energy by kind: " + PRACTICE,
    remedy="check the number of servings and the largest amounts of fat, sugar and flour",
)
def portion_energy_implausible(subject: Subject) -> Iterator[Query]:
    """A portion with far more or less energy than a dish of this kind ever has."""
    rule, place = portion_bounds(subject.tables).get(presumed_kind(subject)), _place(subject)
    if rule is None or place is None or (energy := subject.portion("calories")) is None:
        return
    much = energy.low > rule.energy_most
    if much or (energy.high is not None and energy.high < rule.energy_least):
        yield query(
            place,
            f"a portion holds {number(round(energy.likely))} kcal by USDA SR 28; "
            f"{a_kind(presumed_kind(subject))} has "
            f"{number(rule.energy_least)} to {number(rule.energy_most)} kcal",
        )


@check(
    "portion-salt-implausible",
    Severity.WARNING,
    why="Nobody can eat it, and a spoon taken for a teaspoon is the usual cause.",
    source="USDA SR 28 by the larder's numbers, salt = sodium × 2.5 (Regulation (EU) 1169/2011, Annex I); "
    "portion_bounds.csv, salt by kind: " + PRACTICE,
    remedy="check the salt and the number of servings",
)
def portion_salt_implausible(subject: Subject) -> Iterator[Query]:
    """A portion with far more salt than a dish of this kind ever has, where none of it is poured away."""
    rule, place = portion_bounds(subject.tables).get(presumed_kind(subject)), _place(subject)
    if rule is None or place is None or (salt := subject.portion("EU salt")) is None:
        return
    if salt.low <= rule.salt_most or any(_SALT_LEAVES.search(text.lower()) for text in _told(subject)):
        return
    yield query(
        place,
        f"a portion holds {grams(salt.low)} of salt; {a_kind(presumed_kind(subject))} has at most "
        f"{grams(rule.salt_most)}",
    )


def _told(subject: Subject) -> tuple[str, ...]:
    return (*(field.text for field in subject.steps), *(line.text for line in subject.recipe.ingredients))


# What a title names for its taste, of which less than a hundredth is much; common practice, no source.
PUNGENT = (
    "key:garlic*",
    "key:*ginger",
    "key:*-chile",
    "key:*-zest",
    "key:horseradish*",
    "key:wasabi*",
    *YEASTS,
)


OIL = ("role:oil",)


@check(
    "title-food-trace",
    Severity.WARNING,
    why="A reader who chose the dish for its walnuts won't find them in it.",
    source="Regulation (EU) 1169/2011, Article 22, asks for the amount of what a name stresses; 1 %: "
    + PRACTICE,
    remedy="check the amount, or change the title",
)
def title_food_trace(subject: Subject) -> Iterator[Query]:
    """A food in the title that is less than 1 % of the batch; seasonings and leavening don't count."""
    parts = subject.shares
    whole = total(share.eaten for share in parts).likely
    title = named(subject.recipe, "title").spot(subject.recipe.title)
    for food in named_in_title(subject.recipe, parts):
        if all(is_of(share.line.food, PUNGENT) for share in food.shares):
            continue
        if "oil" not in words(subject.recipe.title) and all(
            is_of(share.line.food, OIL) for share in food.shares
        ):
            continue  # the groundnut of a stew is its peanut butter, not the oil that it begins with
        if whole and food.grams < TRACE * whole:
            items = listed([share.line.item for share in food.shares], "and")
            yield query(
                title,
                f"the title promises “{food.word}”, and {grams(food.grams)} of {items} is "
                f"{percent(food.grams / whole)} of the batch",
            )
