"""Amounts in the lists: units that cannot be meant, foods that cannot be weighed, sizes that disagree."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from cardsmith.check.amounts.foods import drawn_otherwise
from cardsmith.check.fields import Field, fields
from cardsmith.check.line_facts import LARGE, only_volume, sizes
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import grams, number
from cardsmith.facts.foods.roles import role_class
from cardsmith.finding import Severity
from cardsmith.language.spans import Kind, Measured
from cardsmith.measure.larder import Larder, form_of, words
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.rounded import as_measured
from cardsmith.measure.units import WEIGHED, Dimension, System, units
from cardsmith.measure.weighing import UNLEVEL, density, weight_of_one
from cardsmith.recipe.cup_and_weight import agrees, is_apart, is_level, weight_of_volume
from cardsmith.recipe.model import Ingredient
from cardsmith.recipe.weighed import Mass, measured_form, weigh
from cardsmith.regex import regex

CUPS = frozenset({"cup", "imperial cup", "metric cup"})
# Beyond this the comma matters; two hands fill one cup a tenth apart: common practice, no source.
FORMS_DIFFER = Fraction(15, 100)
SLIGHTLY = Fraction(25, 100)  # nuts, whole or chopped: common practice, no source
SPOONFULS = 3 * units()["tablespoon"].size  # of tea, spice or jam: what is heaped is to taste (no source)
STRONG = frozenset({"cure", "leavener", "yeast", "setting"})
EXACT = STRONG | {"governing"}
SMALLEST = units()["teaspoon"].size / 8  # the smallest spoon of a household set


FAR = Fraction(25, 100)  # two sizes of one amount further apart than this are a slip, no rounding
HALF_AGAIN = Fraction(45, 100)  # of what the cup weighs, less a last digit: common practice, no source
TWICE = Fraction(90, 100)  # so far apart, less a last digit, no hand and no cup explains the two
# So far apart a weight and a measure of it are two amounts; published charts of one flour, one syrup differ
# by a sixth, and leaves and pieces lie as they fall: common practice, no source.
GROWN_APART = Fraction(150, 100)  # of what grows large and small, from what one weighs on average
SMALL_LENGTH = units()["inch"].size / 2  # ½ inch is 1 cm, and ¼ inch 5 mm, to anybody:
SMALL_APART = Fraction(30, 100)  # common practice, no source
SHOWN = {Dimension.MASS: "gram", Dimension.VOLUME: "millilitre", Dimension.LENGTH: "centimetre"}
IMPERIAL = regex(r"imp|UK", re.IGNORECASE)
SYRUP = Fraction(1, 2)  # of sugar; honey and treacle pour, and jam is weighed (common practice, no source)
DRAINED = frozenset({"drained", "strained"})
LOOSE_HERBS = frozenset({"handful", "bunch", "sprig"})  # how herbs are sold and picked
GROUND = frozenset({"grating", "grind", "grinding", "shake", "sprinkle", "sprinkling"})  # spice, by taste


@check(
    "vague-measure",
    Severity.WARNING,
    why="A knob or a splash is a different amount in every kitchen and cannot be converted.",
    source=PRACTICE,
    remedy="measure it and write the amount",
)
def vague_measure(subject: Subject) -> Iterator[Query]:
    """A measure without an agreed size; a note for fat for the pan, a pinch, a herb, heaped tea."""
    for line in subject.recipe.ingredients:
        amount = line.amount
        if amount is None:
            continue
        what = f"“{amount.written}” of {line.item or 'it'} has no agreed size"
        if amount.is_vague:
            bunch = line.food is not None and weight_of_one(line.food, amount.unit.name) is not None
            pinch = amount.dimension is Dimension.VOLUME and role_class(line.food) not in STRONG
            leafy = amount.unit.name in LOOSE_HERBS and _is_mainly(line, "herb")
            ground = amount.unit.name in GROUND and _is_mainly(line, "herb", "spice")
            mild = bool(line.for_use) or line.optional or pinch or bunch or leafy or ground
            yield query(line, what, severity=Severity.NOTE if mild else None)
        elif amount.bound.is_unlevel and not any(_measures(quantity) for quantity in line.stated):
            mild = amount.high <= SPOONFULS and role_class(line.food) not in EXACT
            instead = f"measure it level and write the amount, not “{amount.bound}”"
            yield query(line, what, instead, Severity.NOTE if mild else None)


def _is_mainly(line: Ingredient, *roles: str) -> bool:
    return line.food is not None and line.food.is_mainly(*roles)


@check(
    "weight-volume-disagree",
    Severity.WARNING,
    why="Cooks follow one of the two; if they disagree, one column of the card is wrong.",
    source="the larder's densities, each with its own source",
    remedy="measure again and mend the one that is off",
)
def weight_volume_disagree(subject: Subject) -> Iterator[Query]:
    """A weight and a volume for the same amount that no way of filling the cup brings near each other.

    An error where one is half as much again as the other; of leaves and pieces, which every hand packs its
    own way, where one is two and a half times the other.
    """
    for line in subject.recipe.ingredients:
        if line.amount is None or line.amount.dimension is not Dimension.MASS or line.food is None:
            continue
        if line.container and DRAINED & set(words(line.prep)):
            continue  # the can's weight has its liquid in it, the cup hasn't
        for volume in line.stated:
            expected = weight_of_volume(line, volume)
            if expected is not None and not agrees(line, line.amount, volume):
                middle = Mass(grams=expected.grams, low=expected.grams, high=expected.grams, basis="")
                level = is_level(line, line.food)
                far = is_apart(line.amount, *((middle, HALF_AGAIN) if level else (expected, GROWN_APART)))
                yield query(
                    line,
                    f"{volume.written} of {line.food.name} weighs {_span(expected)}, "
                    f"not {line.amount.written}: {expected.basis}",
                    severity=Severity.ERROR if far else None,
                )


@check(
    "weight-count-disagree",
    Severity.WARNING,
    why="A weight beside a count tells the size; one that is far off is usually a slip of a digit.",
    source="the larder's weights of one, each with its own source",
    remedy="weigh again, or mend the count or the size",
)
def weight_count_disagree(subject: Subject) -> Iterator[Query]:
    """A weight and a count for the same amount that cannot both be right, of what is bought or what is eaten.

    Eggs of a named size and sticks may be 15 % off, and an error where one is twice the other; other things
    grow as they like.
    """
    for line in subject.recipe.ingredients:
        if line.amount is None or line.amount.dimension is not Dimension.MASS or line.food is None:
            continue
        if line.sort_unknown:
            continue  # a Japanese eggplant is no globe eggplant
        for count in line.stated:
            if count.dimension is not Dimension.COUNT or not count.middle:
                continue
            expected = weigh(line, count)
            if expected is None:
                continue
            graded = bool(line.size) and role_class(line.food) == "governing"
            graded = graded or count.unit.name == "stick"
            off = Fraction(15, 100) if graded else GROWN_APART
            weighing = weight_of_one(line.food, count.unit.name, line.size_sold)
            most = expected.high * (weighing.bought / weighing.grams if weighing else 1)
            if line.amount.low > most * (1 + off) or line.amount.high < expected.low / (1 + off):
                counted = " ".join(filter(None, (count.written, line.size, line.item)))
                weigh_word = "weighs" if count.high <= 1 else "weigh"
                yield query(
                    line,
                    f"{counted} {weigh_word} about {grams(expected.grams)}, "
                    f"not {line.amount.written}: {expected.basis}",
                    severity=Severity.ERROR if graded and is_apart(line.amount, expected, TWICE) else None,
                )


@check(
    "sizes-disagree",
    Severity.WARNING,
    why="Two figures for one amount must be the same amount; a wrong factor misleads half the readers.",
    source="NIST Handbook 44, Appendix C, for the size of every unit",
    remedy="mend the figure that was not measured, or leave it out: the card converts by itself",
)
def sizes_disagree(subject: Subject) -> Iterator[Query]:
    """Two weights, or two volumes, for one amount that differ by more than 5 %; two lengths by a tenth."""
    for line in subject.recipe.ingredients:
        yield from _of_another_country(line, subject.recipe.measures)
        line_sizes = sizes(line)
        for first, second in pairwise(line_sizes):
            if first.dimension is second.dimension and not (first.is_vague or second.is_vague):
                if first.dimension is Dimension.COUNT:
                    continue
                least, most = UNLEVEL.get(first.bound, (1, 1))
                filled = replace(first, low=first.low * least, high=first.high * most)
                apart = Mass(grams=second.middle, low=second.low, high=second.high, basis="")
                if is_apart(filled, apart, Fraction(5, 100)):
                    symbol = "g" if first.dimension is Dimension.MASS else "ml"
                    what = f"{first.written} is {number(first.middle)} {symbol}, not {second.written}"
                    shown = f"{number(second.middle)} {symbol}"
                    told_so = what if second.written.startswith(shown) else f"{what} ({shown})"
                    yield query(
                        line, told_so, severity=Severity.ERROR if is_apart(first, apart, FAR) else None
                    )
    for text in fields(subject.recipe):
        for _, span in (
            text.measures(Kind.AMOUNT, Kind.LENGTH, Kind.VESSEL) if text.name != "ingredients" else ()
        ):
            yield from _said_otherwise(text, span)


def _measures(quantity: Quantity) -> bool:
    """Whether it says how much a heaped or a scant measure holds."""
    return quantity.dimension in WEIGHED and not (quantity.is_vague or quantity.bound.is_unlevel)


def _of_another_country(line: Ingredient, measures: str) -> Iterator[Query]:
    """A pint that the millilitres behind it tell to be imperial, where the recipe measures otherwise."""
    first = line.amount
    metric = next((quantity for quantity in line.stated if quantity.unit.system is System.METRIC), None)
    if first is None or metric is None or first.unit.system is not System.IMPERIAL:
        return
    if measures != System.IMPERIAL and not IMPERIAL.search(first.written):
        yield query(
            line,
            f"“{first.written}” is read as imperial, since “{metric.written}” stands beside it",
            f"write “{metric.written}” alone, or say “imperial”",
        )


def _said_otherwise(text: Field, span: Measured) -> Iterator[Query]:
    """What is said again beside a measure of running text, and is another size."""
    pairs = (
        (quantity, other)
        for again in span.said_again()
        for quantity, other in zip(span.sides, again, strict=True)
    )
    for quantity, other in pairs:
        if quantity.dimension is not other.dimension or quantity.is_vague or other.is_vague:
            continue
        if as_measured(quantity, other) is not other:  # as a rounded table prints it
            continue
        apart = Mass(grams=other.middle, low=other.low, high=other.high, basis="")
        if is_apart(quantity, apart, _as_rounded(quantity)):
            unit = units()[SHOWN[quantity.dimension]]
            size = f"{number(unit.from_base(quantity.middle))} {unit.symbol}"
            what = f"{quantity.written} is {size}, not {other.written}"
            yield query(
                text.spot(span.text),
                what,
                severity=Severity.ERROR if is_apart(quantity, apart, FAR) else None,
            )


def _as_rounded(quantity: Quantity) -> Fraction:
    """How far off people round a size when they say it again (common practice, no source)."""
    if quantity.dimension is not Dimension.LENGTH:
        return Fraction(6, 100)  # a cup is 250 ml
    return SMALL_APART if quantity.middle <= SMALL_LENGTH else Fraction(10, 100)


@check(
    "ounce-of-liquid",
    Severity.WARNING,
    why="An ounce of a liquid may be a weight or a fluid ounce; for honey they differ by 40 %.",
    source="NIST Handbook 44, Appendix C: the ounce is a weight, the fluid ounce a volume",
    remedy="write fl oz, or give the weight in grams",
)
def ounce_of_liquid(subject: Subject) -> Iterator[Query]:
    """Ounces of something poured, with no other size beside them that would tell which ounce is meant."""
    for line in subject.recipe.ingredients:
        amount = line.amount
        is_weighed = any(quantity.dimension in WEIGHED for quantity in line.stated)
        if line.container and line.container.as_labelled:
            yield _taken_for_fluid(line)
        if amount is None or is_weighed or not _is_poured(line, subject):
            continue
        unit = line.container.each.unit if line.container and line.container.each else amount.unit
        if unit.name == "ounce":
            name = line.food.name if line.food else line.item
            each = line.container.each if line.container else None
            canned = each is not None and each.unit.from_base(each.high) <= USUAL_CAN
            yield query(
                line,
                f"“{amount.written}” of {name}: ounces by weight or fluid ounces?",
                f"write “{number(amount.unit.from_base(amount.middle))} fl oz {line.item}”, or grams",
                Severity.NOTE if canned else None,
            )
    for text in fields(subject.recipe):
        for _, span in text.measures(Kind.AMOUNT):
            food = subject.larder.find(span.noun) if span.quantity.unit.name == "ounce" else None
            if food is not None and food.food.state == "liquid" and not span.stated:
                what = f"“{span.text}” of {span.noun}: ounces by weight or fluid ounces?"
                yield query(text.spot(span.text), what, "write fl oz, or grams")


def _taken_for_fluid(line: Ingredient) -> Query:
    """What the reader made of a bottle's ounces, for whoever meant a weight."""
    name = line.food.name if line.food else line.item
    what = f"the ounces of {name} are taken for fluid ounces, as its label has them"
    return query(line, what, "write fl oz, or the grams of one if it is sold by weight", Severity.NOTE)


USUAL_CAN = Fraction(31, 2)  # ounces: such a can is known on the shelf by its number; edition_cans.csv


def _is_poured(line: Ingredient, subject: Subject) -> bool:
    """Whether a line is of a liquid or a syrup, or of what shares its last word with one: "3 oz soda"."""
    if line.food is not None:
        syrup = line.food.state == "paste" and line.food.share("sugar") >= SYRUP
        return line.food.state == "liquid" or syrup
    return words(line.item)[-1:] in _liquid_nouns(subject.larder)


@lru_cache(maxsize=2)
def _liquid_nouns(larder: Larder) -> frozenset[tuple[str, ...]]:
    """The last word of each name of what is poured."""
    poured = (food for food in larder.foods.values() if food.state == "liquid")
    return frozenset(words(name)[-1:] for food in poured for name in (food.name, *food.aliases))


@check(
    "fluid-ounce-of-solid",
    Severity.WARNING,
    why="A fluid ounce measures liquids; of a dry or solid food it is usually a slip for ounces.",
    source="NIST Handbook 44, Appendix C",
    remedy="write oz for a weight",
)
def fluid_ounce_of_solid(subject: Subject) -> Iterator[Query]:
    """Fluid ounces of something that is not poured."""
    for line in subject.recipe.ingredients:
        poured = line.food is None or line.food.state in ("liquid", "paste")
        if line.amount and "fluid ounce" in line.amount.unit.name and not poured:
            yield query(
                line, f"“{line.amount.written}” of {line.item}: a fluid ounce is a measure of liquids"
            )


@check(
    "container-without-size",
    Severity.WARNING,
    why="Cans and packets are sold in many sizes, and each cook buys the one at hand.",
    source=PRACTICE,
    remedy="write the size of one: 2 (400 g) cans",
)
def container_without_size(subject: Subject) -> Iterator[Query]:
    """A can, packet or jar without what it holds; an error where a step takes a weight or a volume of it."""
    for line in subject.recipe.ingredients:
        box = line.container
        if (
            box is None
            or box.each is not None
            or (line.amount and line.amount.dimension is not Dimension.COUNT)
        ):
            continue
        if NUMBERED.search(line.text):
            continue  # "4 No. 10 cans": the number is the trade's name for a size
        usual = weight_of_one(line.food, box.word) if line.food else None
        size = grams(usual.grams) if usual is not None and usual.exact_form else "… g"
        yield query(
            line,
            f"how much does one {box.word} of {line.item} hold?",
            f"write the size of one, such as “{number(box.count.middle)} ({size}) {box.word}”",
            Severity.ERROR if drawn_otherwise(subject, line) else None,
        )


NUMBERED = regex(r"(?:\bno\b\.?|#)\s*\S+(?: \S+)? (?:cans?|tins?)\b", re.IGNORECASE)


@check(
    "volume-too-coarse",
    Severity.WARNING,
    why="Below an eighth of a teaspoon no spoon is made, and by the cup a strong ingredient is poured blind.",
    source=PRACTICE,
    remedy="write the weight",
)
def volume_too_coarse(subject: Subject) -> Iterator[Query]:
    """A volume no spoon holds, or a leavener, yeast, gelatine or cure by the cup."""
    for line in subject.recipe.ingredients:
        volume = only_volume(line)
        if volume is None:
            continue
        if 0 < volume.low < SMALLEST:
            yield query(line, f"{volume.written} is less than ⅛ teaspoon, the smallest spoon there is")
        elif line.food is not None and role_class(line.food) in STRONG and _by_cup(volume):
            weighing = density(line.food, measured_form(line))
            weight = f" ({grams(weighing.grams * volume.middle)})" if weighing else ""
            yield query(line, f"{volume.written}{weight} of {line.food.name} by the cup")


def _by_cup(volume: Quantity) -> bool:
    return volume.high >= LARGE or volume.unit.name in CUPS


@check(
    "prep-changes-measure",
    Severity.WARNING,
    why="A cup of parsley, chopped, is half as much parsley as a cup of chopped parsley.",
    source="USDA SR 28: cups of one food by form; common practice for the comma",
    remedy="write the weight, or put the word before the food if that is how it was measured",
)
def prep_changes_measure(subject: Subject) -> Iterator[Query]:
    """A cup of something cut up after the comma, where cut and whole fill the cup differently."""
    for line in subject.recipe.ingredients:
        volume = only_volume(line)
        cut = next((form for word in words(line.prep) if (form := form_of(word))), "")
        if volume is None or line.food is None or line.form or not cut or volume.unit.name not in CUPS:
            continue
        if cut in DRAINED and "canned" in line.food.name:
            continue  # what comes in a can is measured as it is used
        whole, after = density(line.food), density(line.food, cut)
        if after is None or not after.exact_form:
            continue
        if whole is None or whole.form == after.form:
            what = f"is {volume.written} of {line.item} measured before it is {cut}, or after? "
            yield query(line, f"{what}The larder knows only a cup of it {cut}")
        elif abs(after.grams / whole.grams - 1) > FORMS_DIFFER:
            first, second = (grams(weighing.grams * volume.middle) for weighing in (whole, after))
            slight = abs(after.grams / whole.grams - 1) <= SLIGHTLY and line.food.is_mainly("nut", "seed")
            yield query(
                line,
                f"is {volume.written} of {line.item} measured before it is {cut}, or after? "
                f"It weighs {first} by the one and {second} by the other",
                severity=Severity.NOTE if slight else None,
            )


def _span(mass: Mass) -> str:
    """``125 g``, or ``115 to 150 g``."""
    low, high = number(mass.low), number(mass.high)
    return f"{high} g" if low == high else f"{low} to {high} g"
