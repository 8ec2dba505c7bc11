"""What the lists name: foods the larder does not know, or that a name or a cup leaves open."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.amounts.governing import is_in_formula, salt_governs
from cardsmith.check.fields import read
from cardsmith.check.line_facts import LARGE, only_volume
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import grams
from cardsmith.facts.foods.foods import Certainty, Identity, identity, joined
from cardsmith.finding import Severity
from cardsmith.language.listing import listed
from cardsmith.language.spans import Draw, Measured
from cardsmith.measure.larder import Food, Larder, words
from cardsmith.measure.nearest import is_misspelt, is_strange
from cardsmith.measure.patterns import is_of
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, units
from cardsmith.measure.weighing import VOLUMES, density
from cardsmith.recipe.mentions.groups import is_heading
from cardsmith.recipe.model import Ingredient
from cardsmith.recipe.weighed import measured_form
from cardsmith.regex import regex

AND = regex(r"\s+(?:and|&)\s+|,\s*", re.IGNORECASE)
SEASONING = ("salt", "spice", "herb", "flavouring", "condiment")


def named_vaguely(subject: Subject, line: Ingredient) -> bool:
    """Whether the kind is clear neither from the name nor from the preparation, the can or the sprig."""
    box = ("canned",) if line.container is not None and line.container.word in ("can", "tin", "jar") else ()
    sprig = (
        ("fresh",) if line.amount is not None and line.amount.unit.name in ("sprig", "bunch", "leaf") else ()
    )
    match = subject.larder.find(line.item)
    if match is None or not match.generic:
        return False
    matches = (subject.larder.find(f"{more} {line.item}") for more in (line.prep, *box, *sprig) if more)
    return all(named is None or named.generic for named in matches)


@check(
    "unknown-ingredient",
    Severity.WARNING,
    why="What the larder does not know is left out of every ratio, allergen and claim, and has no weight.",
    source=PRACTICE,
    remedy="use a name the larder knows, or add the food to it",
)
def unknown_ingredient(subject: Subject) -> Iterator[Query]:
    """A food the larder does not know: a note by the spoon or of a known kind, an error if steps weigh it."""
    for line in subject.recipe.ingredients:
        if line.food is None and is_heading(line):
            instead = "make it the name of a part"
            yield query(line, f"“{line.item}” reads like a heading", instead, Severity.NOTE)
        elif line.food is None and line.amount is None and _several(subject, line):
            foods = AND.split(line.item)
            known = joined(line.item, subject.larder)
            mild = bool(known) and all(_seasons(food) for food in known)
            what = f"“{line.item}” names {len(foods)} foods in one line, and the larder knows none by that"
            instead = f"write a line for each: {'; '.join(foods)}"
            yield query(line, what, instead, Severity.NOTE if mild else None)
        elif line.food is None and line.item:
            yield _unknown(subject, line)
        elif line.food is not None and (match := subject.larder.find(line.item)) and match.without:
            sort, food = listed(match.without, "and"), line.food.name
            what = f"the larder knows no “{sort}” sort of {food}; “{line.item}” is taken for {food}"
            yield query(line, what, "if it is something else, use a name the larder knows", Severity.NOTE)


def _unknown(subject: Subject, line: Ingredient) -> Query:
    """A food that is only guessed, or not even that: a guess is named, and no weight is taken from it."""
    near, guess = subject.larder.nearest(line.item), identity(line, subject.larder)
    hint = f"did you mean {listed(near, 'or')}?" if near else "use a name the larder knows"
    what = f"the larder does not know “{line.item}”"
    if drawn_otherwise(subject, line):
        lost = f"{what}, so nobody can tell how much of it the steps take"
        return query(line, lost, f"{hint} Or measure it alike in the list and in the steps", Severity.ERROR)
    volume, misspelt = only_volume(line), is_misspelt(line.item, subject.larder)
    if guess.food is not None:
        taken = f"a kind of {guess.food.name}" if guess.how is Certainty.CLASS else guess.food.name
        what = f"{what}; for allergens, claims and safety it is {taken}"
    if volume is not None and volume.high >= LARGE and not _is_loose(line, guess):
        instead = f"{hint} Or write its weight beside the volume"
        return query(line, f"{what}, and the metric column prints its volume", instead)
    if misspelt or not (volume is not None or _is_told(guess, line.item, subject.larder)):
        return query(line, what, hint)
    return query(line, what, f"if it is something else, use a name the larder knows: {hint}", Severity.NOTE)


def _is_loose(line: Ingredient, guess: Identity) -> bool:
    """Whether a card may well print a volume of it in both columns: what is poured, or piled into a cup."""
    return guess.food is not None and (guess.food.state == "liquid" or _is_piled(line, guess))


def _is_told(guess: Identity, item: str, larder: Larder) -> bool:
    """Whether a guess says what matters: nothing strange is in the name, or it is some sort of a plant."""
    if guess.food is None:
        return False
    return not is_strange(item, larder) or (guess.how is Certainty.HEAD and is_of(guess.food, GROWN))


GROWN = ("role:vegetable", "role:fruit", "role:allium", "role:herb")


def drawn_otherwise(subject: Subject, line: Ingredient) -> bool:
    """Whether a step takes by weight of what the list has by volume or in pieces."""
    draws = (
        span.amount
        for step in (subject.recipe.steps if line.key else ())
        for span in step.spans
        if isinstance(span, Draw) and span.key == line.key and span.amount is not None
    )
    return any(line.amount is None or quantity.dimension is not line.amount.dimension for quantity in draws)


def _several(subject: Subject, line: Ingredient) -> bool:
    """Whether a line names more than one food: salt and pepper."""
    names = AND.split(line.item)
    return len(names) > 1 and any(map(subject.larder.find, names))


def _seasons(food: Food) -> bool:
    return food.is_mainly(*SEASONING)


@check(
    "generic-ingredient",
    Severity.WARNING,
    why="Where flour, sugar, cream or butter is given without its type, every cook buys another one.",
    source=PRACTICE,
    remedy="write the type",
)
def generic_ingredient(subject: Subject) -> Iterator[Query]:
    """A food sold in several kinds; a warning where they behave differently: flour, cream, yeast."""
    for line in subject.recipe.ingredients:
        if line.food is None or is_heading(line) or salt_by_volume(line):
            continue
        if line.item.lower() == line.food.name.lower():
            continue  # "chili powder": there is no plainer name
        if named_vaguely(subject, line):
            yield query(
                line,
                f"“{line.item}” does not say which kind; it is taken for {line.food.name}",
                f"write “{line.food.name}”, or the kind you used",
                None if _matters(subject, line, line.food) else Severity.NOTE,
            )


def _matters(subject: Subject, line: Ingredient, food: Food) -> bool:
    """Whether another kind makes another dish: single cream won't whip, fresh yeast is a third as strong.

    Dark chocolate is dark, and sugar granulated; one butter weighs what another does and tastes of more or
    less salt, and any dry yeast raises it. Flour, which may hold its own raising agent, and chocolate matter
    where they are much of it, and milk where it is the dish.
    """
    if line.for_use:
        return False
    item_words = set(words(line.item))
    if item_words <= LEAF_OR_SEED and not (line.prep or line.form) and only_volume(line) is not None:
        return True  # by the spoon: the leaf, the seed or its powder
    if food.is_mainly(*DOING):
        return not (item_words & DRY and food.is_mainly(*DRY_YEAST))
    plain = any(item_words <= set(words(name)) for name in food.generic if len(words(name)) == 1)
    if not (plain and food.is_mainly(*TELLING)):
        return False
    formula = subject.formula(subject.recipe.parts)
    mass = next((line_mass for of, line_mass in formula.lines if of is line), None)
    share = MOST if food.is_mainly("milk") else MUCH
    return mass is None or mass.grams >= formula.roles["total"] * share


LEAF_OR_SEED = frozenset(words("coriander fennel"))
MUCH, MOST = Fraction(1, 10), Fraction(2, 5)  # of the dish, by weight
DRY = frozenset(words("dry dried granular granules"))
DRY_YEAST = ("yeast-instant", "yeast-active-dry")
DOING = ("cream", *DRY_YEAST, "yeast-fresh", "gelatine")
TELLING = ("flour", "milk", "chocolate")


@check(
    "missing-density",
    Severity.WARNING,
    why="A volume becomes a weight only through a measured density; without one the card prints millilitres.",
    source="NIST SP 1290, Culinary Measurement Tips (recalled): weight by ingredient, not by one factor",
    remedy="write the weight beside the volume",
)
def missing_density(subject: Subject) -> Iterator[Query]:
    """Cups of a food without a density; a note by the spoon, an error where a formula rests on its weight."""
    for line in subject.recipe.ingredients:
        volume = only_volume(line)
        if volume is None or line.food is None or density(line.food, measured_form(line)) is not None:
            continue
        grave = line.food.is_mainly("curing-salt") or drawn_otherwise(subject, line)
        mild = (
            volume.high < LARGE
            or line.food.state == "liquid"
            or _is_piled(line, identity(line, subject.larder))
        )
        if mild and not grave and line.food.is_mainly(*SEASONING):
            continue  # nobody weighs a teaspoon of thyme
        forms = [row.form for row in line.food.measures if row.form and row.measure in VOLUMES]
        known = listed(list(dict.fromkeys(forms)), "or")
        yield query(
            line,
            f"the larder has no weight for a cup of {line.food.name}, so {volume.written} has none"
            + (f"; it has one for a cup that is {known}" if known else ""),
            ("say which, or weigh" if known else "weigh")
            + f" it and write, for instance, “{volume.written} (… g) {line.item}”",
            Severity.ERROR if grave else Severity.NOTE if mild else None,
        )


# Eggs that stand beside a dish rather than in its formula, whatever they weigh; one beaten for a wash too.
APART = frozenset({"boiled", "poached", "fried", "beaten", "glaze", "glazing", "brushing"})


def _is_piled(line: Ingredient, food_identity: Identity) -> bool:
    """Whether a cup of it is no exact measure, and no ratio rests on it: florets, leaves, shredded meat.

    Nobody fills a cup with a joint or with bones.
    """
    if (
        food_identity.food is None
        or food_identity.food.state not in PILED
        or next(iter(food_identity.food.roles), "") in GOVERNING
    ):
        return False
    return not food_identity.food.is_mainly(*JOINTS) or bool(line.form or food_identity.ready)


PILED = frozenset({"piece", "leaf", "solid"})
JOINTS = ("meat", "poultry", "bone", "fish")
GOVERNING = ("fat", "butter", "sugar", "chocolate", "egg", "salt", "flour")


@check(
    "egg-size-missing",
    Severity.WARNING,
    why="A small egg holds 38 g and a jumbo egg 63 g: six of them differ by three eggs.",
    source="USDA SR 28, food 01123, household weights; AMS 56 weight classes",
    remedy="write the size: 3 large eggs",
)
def egg_size_missing(subject: Subject) -> Iterator[Query]:
    """Eggs by count without their size or weight; a note where no formula rests on them: fried, a glaze."""
    for line in subject.recipe.ingredients:
        amount = line.amount
        if amount is None or amount.dimension is not Dimension.COUNT or line.food is None or line.size:
            continue
        egg = any(line.food.share(role) for role in ("egg", "egg-white", "egg-yolk"))
        graded = any(row.measure == "large" for row in line.food.measures)
        if egg and graded and amount.unit.name in ("one", "piece"):
            apart = not APART.isdisjoint(words(line.text)) and (amount.high <= 1 or "beaten" not in line.text)
            parted = not line.food.share("egg") and amount.high <= 1  # one yolk, of 14 to 20 g
            severity = Severity.NOTE if apart or parted or not is_in_formula(subject, line) else None
            if not _is_weighed_whole(subject, line):
                yield query(line, f"“{line.text.strip()}” gives no size", severity=severity)


def _is_weighed_whole(subject: Subject, line: Ingredient) -> bool:
    """Whether the preparation says what each weighs in its shell: 6 egg whites, from 59 g eggs."""
    preparation = read(subject.recipe, "ingredients", line.prep, line.where)
    return any(
        span.quantity.dimension is Dimension.MASS
        for _, span in preparation.numerals
        if isinstance(span, Measured)
    )


def salt_by_volume(line: Ingredient) -> bool:
    """Whether a line is salt that is measured by the spoon."""
    return line.food is not None and line.food.is_mainly("salt") and only_volume(line) is not None


@check(
    "salt-by-volume-untyped",
    Severity.WARNING,
    why="A teaspoon of fine salt weighs 6 g, of flakes 3 g or less: twice the salt, or half of it.",
    source="USDA SR 28, food 02047 (6 g per teaspoon of table salt); for flakes " + PRACTICE,
    remedy="name the salt (fine salt, coarse kosher salt), or give its weight",
)
def salt_by_volume_untyped(subject: Subject) -> Iterator[Query]:
    """Salt by the spoon without its kind; a note where it only seasons a dish, and no formula rests on it."""
    for line in subject.recipe.ingredients:
        if salt_by_volume(line) and named_vaguely(subject, line):
            yield query(
                line,
                f"“{line.text.strip()}” does not say which salt: a spoonful of flakes is half of fine",
                severity=None if salt_governs(subject, line) else Severity.NOTE,
            )


@check(
    "flour-by-volume",
    Severity.NOTE,
    why="A cup of flour weighs from 115 to 150 g by how it is filled; no other ingredient matters as much.",
    source="USDA SR 28, food 20081 (125 g per cup); the spread: " + PRACTICE,
    remedy="write the weight beside the cups",
)
def flour_by_volume(subject: Subject) -> Iterator[Query]:
    """Flour by the cup without its weight; said once for a recipe."""
    cups = [
        line
        for line in subject.recipe.ingredients
        if line.food is not None and line.food.share("flour") == 1 and not line.for_use
        if (only_volume(line) or _nothing).middle >= LARGE
    ]
    if cups:
        foods = listed(list(dict.fromkeys(line.food.name for line in cups if line.food)), "and")
        weighing = density(cups[0].food, measured_form(cups[0])) if cups[0].food else None
        remark = (
            f"; the card will take {grams(weighing.grams * units()['cup'].size)} for a cup of it"
            if weighing
            else ""
        )
        yield query(cups[0], f"{foods} only by volume{remark}")


_nothing = Quantity(low=Fraction(0), high=Fraction(0), unit=units()["cup"], written="")


@check(
    "brown-sugar-unpacked",
    Severity.WARNING,
    why="A cup of brown sugar weighs 145 g loose and 220 g packed.",
    source="USDA SR 28, food 19334, weights 1 and 2",
    remedy="write “packed” before its name, as in 1 cup packed light brown sugar, or give the weight",
)
def brown_sugar_unpacked(subject: Subject) -> Iterator[Query]:
    """Moist sugar by volume that does not say packed; a note where no formula rests on it."""
    for line in subject.recipe.ingredients:
        volume = only_volume(line)
        if volume is None or line.food is None or volume.high < units()["tablespoon"].size:
            continue
        packs = any(row.form == "packed" for row in line.food.measures) and line.food.share("sugar")
        if packs and line.form != "packed" and not any(word in line.text for word in ("packed", "loose")):
            yield query(
                line,
                f"“{line.text.strip()}” does not say whether the sugar is packed into the measure",
                severity=None if is_in_formula(subject, line) else Severity.NOTE,
            )
