"""Lines a careful copy editor sends back: what they mean cannot be known from the words."""

from fractions import Fraction

from tests.language.meaning.line_constructions import Line, construction, mass, volume
from tests.language.meaning.line_pen import Pen
from tests.language.meaning.statements import say


@construction("unit missing", 4, asked=True)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "butter", "liquid", "thick", "meat")
    while food.one in ("new potatoes", "Brussels sprouts", "green beans", "raw prawns", "raspberry jam"):
        food = pen.food("powder", "butter", "liquid")
    pen.words = False
    value = pen.of("50 100 125 150 200 225 250 500") if pen.chance(0.6) else pen.of("1/2 3/4 3/2 2 3 1/4")
    return f"{pen.number(value)} {pen.cook(food, food.many)}", (say(value, ""),), food.many


@construction("range without a unit", 1, asked=True)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "liquid", "butter")
    low, high = pen.pick((100, 150), (2, 3), (200, 250), (Fraction(1, 2), Fraction(3, 4)))
    pen.words = False
    return f"{pen.span(low, high, 'whole')} {food.many}", (say(low, "", high=high),), food.many


@construction("two foods with two amounts", 4, asked=True)
def _(pen: Pen) -> Line:
    first, second = pen.food("produce"), pen.food("produce", "small")
    while second.group == "produce" and second.one.split()[-1] == first.one.split()[-1]:
        second = pen.food("small")
    joint = pen.pick(" and ", ", ", " + ", " & ", "; ")
    if pen.chance(0.5):
        one, two = pen.pick(2, 3, 4), pen.pick(1, 2, 3)
        names = (first.many, second.one if two == 1 else second.many)
        text = f"{pen.number(one)} {names[0]}{joint}{pen.number(two)} {names[1]}"
        return text, (say(one, "whole"), say(two, "whole")), f"{names[0]}; {names[1]}"
    sweet, dry = pen.food("powder"), pen.food("butter")
    (one, unit), (two, other) = mass(pen, sweet), mass(pen, dry)
    text = f"{pen.amount(one, unit)} {sweet.many}{joint}{pen.amount(two, other)} {dry.many}"
    return text, (say(one, unit), say(two, other)), f"{sweet.many}; {dry.many}"


@construction("two foods with one amount", 3, asked=True)
def _(pen: Pen) -> Line:
    pen.words = False
    value, unit, names = pen.pick(
        (1, "teaspoon", "salt and pepper"), (2, "teaspoon", "ground cumin and coriander"), (100, "gram",
        "butter and sugar"),
        (200, "gram", "carrots and celery"), (1, "cup", "parsley and mint"), (Fraction(1, 2),
        "teaspoon", "salt and black pepper"),
        (250, "gram", "flour and cornflour"), (3, "tablespoon", "oil and vinegar"), (1, "tablespoon",
        "ginger and garlic"),
    )  # fmt: skip
    return f"{pen.amount(value, unit)} {names}", (say(value, unit),), names


@construction("numeral with no place", 3, asked=True)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "liquid", "butter")
    value, unit = volume(pen) if food.group == "liquid" else mass(pen, food)
    loose = pen.pick(2, 3, 4, 7, 40)
    text = f"{pen.amount(value, unit)} {food.many}{pen.pick(f' {loose}', f' ({loose})', f', {loose}')}"
    return text, (say(value, unit), say(loose, "")), food.many


@construction("pair that disagrees by far", 4, asked=True)
def _(pen: Pen) -> Line:
    pen.words = False
    food = pen.food("powder", "butter", "meat", "grain")
    value, unit, other, other_unit = pen.pick(
        (250, "gram", 1, "pound"), (100, "gram", 8, "ounce"), (1, "pound", 200, "gram"),
        (4, "ounce", 225, "gram"),
        (1, "kilogram", 1, "pound"), (500, "gram", 8, "ounce"), (2, "pound", 500, "gram"),
        (12, "ounce", 750, "gram"),
    )  # fmt: skip
    text = pen.pick(
        f"{pen.amount(value, unit)} ({pen.amount(other, other_unit)})",
        f"{pen.amount(value, unit)}/{pen.amount(other, other_unit)}",
    )
    return f"{text} {food.many}", (say(value, unit), say(other, other_unit, role="beside")), food.many


@construction("measure that disagrees with its volume", 2, asked=True)
def _(pen: Pen) -> Line:
    pen.at_home("US", "AU", "CA")
    pen.words = False
    food = pen.food("liquid")
    value, unit, other = pen.pick(
        (1, "cup", 500),
        (2, "cup", 240),
        (2, "tablespoon", 120),
        (Fraction(1, 2), "cup", 250),
        (3, "cup", 350),
    )
    return f"{pen.amount(value, unit)} ({pen.amount(other, 'millilitre')}) {food.many}", (
        say(value, unit), say(other, "millilitre", role="beside"),
    ), food.many  # fmt: skip
