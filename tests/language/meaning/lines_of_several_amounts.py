"""Lines with several amounts of one food: sums, two systems, alternatives, amounts for a use of their own."""

from fractions import Fraction

from tests.language.meaning.line_constructions import Line, construction, cups, mass, spoons, volume
from tests.language.meaning.line_pen import Pen, decimal, rounded
from tests.language.meaning.statements import Statement, say


def other_system(value: Fraction, unit: str) -> tuple[Fraction, str]:
    """Say a weight or volume in the other system, rounded as a printed card rounds it."""
    grams_to_ounces = Fraction(10000, 283495)
    match unit:
        case "gram":
            ounces = value * grams_to_ounces
            if value >= 450 and value % 450 == 0:
                return value / 450, "pound"
            return max(
                Fraction(1, 2), Fraction(round(ounces * 2), 2) if value < 250 else Fraction(round(ounces))
            ), "ounce"
        case "kilogram":
            return Fraction(round(value * Fraction(22046, 10000) * 4), 4), "pound"
        case "ounce":
            return rounded(value / grams_to_ounces, 5), "gram"
        case "pound":
            grams = rounded(value * Fraction(45359, 100), 5)
            return (grams, "gram") if grams < 1000 else (Fraction(round(grams / 100), 10), "kilogram")
        case "millilitre":
            return rounded(value / 28, 1), "fluid ounce"
        case "litre":
            return Fraction(round(value * Fraction(17598, 10000) * 4), 4), "pint"
        case "cup":
            return rounded(value * 240, 5), "millilitre"
        case "fluid ounce":
            return rounded(value * 30, 5), "millilitre"
        case "pint":
            return rounded(value * Fraction(473), 5), "millilitre"
        case "tablespoon":
            return value * 15, "millilitre"
        case "teaspoon":
            return value * 5, "millilitre"
    return rounded(value * 946, 50), "millilitre"


def weighed_or_poured(pen: Pen) -> tuple[str, Fraction, str]:
    """Choose a food with a first amount that has a fair fellow in the other system."""
    food = pen.food("powder", "grain", "cheese", "butter", "meat", "liquid")
    value, unit = volume(pen) if food.group == "liquid" else mass(pen, food)
    return food.many, value, unit


@construction("two systems, slash", 4)
def _(pen: Pen) -> Line:
    food, value, unit = weighed_or_poured(pen)
    pen.words = False
    other, other_unit = other_system(value, unit)
    slash = pen.pick("/", "/", " / ")
    text = f"{pen.amount(value, unit)}{slash}{pen.amount(other, other_unit)} {food}"
    return text, (say(value, unit), say(other, other_unit, role="beside")), food


@construction("two systems, brackets", 5)
def _(pen: Pen) -> Line:
    food, value, unit = weighed_or_poured(pen)
    other, other_unit = other_system(value, unit)
    about = pen.chance(0.15)
    inside = ("about " if about else "") + pen.amount(other, other_unit)
    brackets = pen.pick("({})", "({})", "({})", "[{}]")
    beside = say(other, other_unit, bound="about" if about else "exactly", role="beside")
    return f"{pen.amount(value, unit)} {brackets.format(inside)} {food}", (say(value, unit), beside), food


@construction("two systems, comma or words", 3)
def _(pen: Pen) -> Line:
    food, value, unit = weighed_or_poured(pen)
    other, other_unit = other_system(value, unit)
    first, second = pen.amount(value, unit), pen.amount(other, other_unit)
    text = pen.pick(
        f"{first}, {second} {food}",
        f"{first} {food}, {second}",
        f"{first} {food} ({second})",
        f"{first} {food} / {second}",
        f"{first} or {second} {food}",
    )
    return text, (say(value, unit), say(other, other_unit, role="beside")), food


@construction("two systems, ranges", 3)
def _(pen: Pen) -> Line:
    food = pen.food("meat", "cheese")
    low, high, first, last = pen.pick(
        (100, 125, Fraction(7, 2), Fraction(9, 2)),
        (200, 250, 7, 9),
        (150, 175, 5, 6),
        (300, 350, 11, 12),
        (400, 450, 14, 16),
    )
    pen.words = False
    metric, ounces = pen.span(low, high, "gram"), pen.span(first, last, "ounce")
    if "between" in metric + ounces or " or " in ounces:
        metric = f"{low}–{pen.amount(high, 'gram')}"
        ounces = f"{pen.number(first)}–{pen.amount(last, 'ounce')}"
    say_metric, say_ounces = (say(low, "gram", high=high), say(first, "ounce", high=last, role="beside"))
    return f"{metric} ({ounces}) {food.many}", (say_metric, say_ounces), food.many


@construction("metric and cup pair", 3)
def _(pen: Pen) -> Line:
    pen.at_home("AU", "CA", "IN")
    food = pen.food("liquid")
    value = pen.of("1/4 1/2 1 3/2 2 3")
    millilitres = value * 250
    metric = (
        pen.join(decimal(millilitres), pen.unit("millilitre", 2)) if millilitres.denominator == 1 else "60 ml"
    )
    shown = Fraction(60) if metric == "60 ml" else millilitres
    pen.words = False
    cup = pen.amount(value, "cup")
    first, second = (say(shown, "millilitre"), say(value, "cup", role="beside"))
    if pen.chance(0.5):
        first, second = say(value, "cup"), say(shown, "millilitre", role="beside")
        text = pen.pick(f"{cup} ({metric}) {food.many}", f"{cup}/{metric} {food.many}")
    else:
        text = pen.pick(
            f"{metric}/{cup} {food.many}", f"{metric} ({cup}) {food.many}", f"{metric} / {cup} {food.many}"
        )
    return text, (first, second), food.many


@construction("measure with its weight", 5)
def _(pen: Pen) -> Line:
    pen.at_home("US", "AU", "CA", "IN")
    food = pen.food("powder", "grain", "thick")
    value, _unit = cups(pen, food)
    grams = rounded(food.grams * value, 5)
    american = pen.kitchen == "US" and pen.chance(0.3)
    weight, unit = (Fraction(max(1, round(grams / 28 * 2)), 2), "ounce") if american else (grams, "gram")
    pen.words = False
    cup, other = pen.amount(value, "cup"), pen.amount(weight, unit)
    text = pen.pick(
        f"{cup} ({other}) {food.many}",
        f"{cup} ({other}) {food.many}",
        f"{cup}/{other} {food.many}",
        f"{cup} {food.many} ({other})",
    )
    return text, (say(value, "cup"), say(weight, unit, role="beside")), food.many


@construction("weight with its measure", 4)
def _(pen: Pen) -> Line:
    pen.at_home("US", "AU", "CA", "IN")
    food = pen.food("powder", "grain", "cheese")
    value = pen.of("1/2 3/4 1 3/2 2 5/2")
    grams = rounded(food.grams * value, 5)
    weight, unit = (Fraction(max(1, round(grams / 28))), "ounce") if pen.kitchen == "US" else (grams, "gram")
    about = pen.chance(0.6)
    cup = ("about " if about else "") + pen.amount(value, "cup")
    text = pen.pick(
        f"{pen.amount(weight, unit)} {food.many} ({cup})", f"{pen.amount(weight, unit)} ({cup}) {food.many}"
    )
    beside = say(value, "cup", bound="about" if about else "exactly", role="beside")
    return text, (say(weight, unit), beside), food.many


@construction("three systems", 2)
def _(pen: Pen) -> Line:
    food, grams, ounces, spoon_value, spoon_unit = pen.pick(
        ("butter", 225, Fraction(8), Fraction(1), "cup"), ("caster sugar", 200, Fraction(7), Fraction(1),
        "cup"),
        ("plain flour", 125, Fraction(9, 2), Fraction(1), "cup"), ("honey", 85, Fraction(3), Fraction(1, 4),
        "cup"),
        ("unsalted butter", 55, Fraction(2), Fraction(4), "tablespoon"), ("butter", 115, Fraction(4),
        Fraction(1, 2), "cup"),
    )  # fmt: skip
    pen.words = False
    parts = (pen.amount(grams, "gram"), pen.amount(ounces, "ounce"), pen.amount(spoon_value, spoon_unit))
    text = pen.pick("{}/{}/{} {food}", "{} / {} / {} {food}", "{} ({}, {}) {food}", "{} ({}/{}) {food}")
    statements = (
        say(grams, "gram"),
        say(ounces, "ounce", role="beside"),
        say(spoon_value, spoon_unit, role="beside"),
    )
    return text.format(*parts, food=food), statements, food


@construction("compound weight", 3)
def _(pen: Pen) -> Line:
    pen.at_home("US", "UK")
    food = pen.food("meat")
    pounds, ounces = pen.pick(1, 1, 2, 3), pen.pick(2, 4, 5, 6, 8, 12)
    joint = pen.pick(" ", " ", ", ", " and ")
    text = f"{pen.amount(pounds, 'pound')}{joint}{pen.amount(ounces, 'ounce')} {food.many}"
    return text, (say(pounds, "pound"), say(ounces, "ounce")), food.many


@construction("sum with plus", 5)
def _(pen: Pen) -> Line:
    pen.at_home("US", "CA", "AU", "IN")
    food = pen.food("powder", "thick", "liquid", "oil")
    first, first_unit, second, second_unit = pen.pick(
        (Fraction(1, 2), "cup", 1, "tablespoon"), (Fraction(1, 4), "cup", 2, "tablespoon"),
        (1, "cup", 2, "tablespoon"),
        (Fraction(2, 3), "cup", 1, "tablespoon"), (1, "tablespoon", 1, "teaspoon"),
        (2, "tablespoon", Fraction(3, 2), "teaspoon"),
        (Fraction(5, 4), "cup", 3, "tablespoon"), (2, "cup", 1, "tablespoon"), (Fraction(3, 4),
        "cup", 2, "teaspoon"),
    )  # fmt: skip
    joint = pen.pick(" plus ", " plus ", " + ", " and ", ", plus ")
    text = f"{pen.amount(first, first_unit)}{joint}{pen.amount(second, second_unit)} {food.many}"
    return text, (say(first, first_unit), say(second, second_unit)), food.many


@construction("sum with minus", 3)
def _(pen: Pen) -> Line:
    pen.at_home("US", "CA", "AU")
    food = pen.food("powder", "liquid")
    first = pen.of("1/2 1 2 3/4")
    second, unit = pen.pick((1, "teaspoon"), (1, "tablespoon"), (2, "tablespoon"), (2, "teaspoon"))
    joint = pen.pick(" minus ", " minus ", " less ", ", less ")
    text = f"{pen.amount(first, 'cup')}{joint}{pen.amount(second, unit)} {food.many}"
    return text, (say(first, "cup"), say(-second, unit)), food.many


@construction("sum with a weight beside", 2)
def _(pen: Pen) -> Line:
    pen.at_home("US", "CA")
    food = pen.food("powder")
    first, spoon = pen.pick((1, 2), (2, 1), (Fraction(3, 2), 2), (Fraction(1, 2), 1))
    grams = rounded(food.grams * (first + Fraction(spoon, 16)), 1)
    pen.words = False
    total = f"{pen.amount(first, 'cup')} plus {pen.amount(spoon, 'tablespoon')}"
    text = f"{total} ({pen.amount(grams, 'gram')}) {food.many}"
    return text, (say(first, "cup"), say(spoon, "tablespoon"), say(grams, "gram", role="beside")), food.many


@construction("fresh or dried", 4)
def _(pen: Pen) -> Line:
    food = pen.food("herb", "woody")
    value = pen.of("1 1 2")
    verb = pen.pick("chopped fresh {}", "fresh {}", "fresh {} leaves")
    tail = pen.pick("dried", f"dried {food.one}")
    first, second = pen.amount(value, "tablespoon"), pen.amount(value, "teaspoon")
    text = f"{first} {verb.format(food.one)}{pen.pick(' or ', ', or ')}{second} {tail}"
    return text, (say(value, "tablespoon"), say(value, "teaspoon", role="alternative")), food.one


@construction("fresh or dried yeast", 1)
def _(pen: Pen) -> Line:
    fresh = pen.of("10 15 20 25 30")
    dried = fresh / 2
    text = (
        f"{pen.amount(fresh, 'gram')} fresh yeast{pen.pick(' or ', ', or ')}{pen.amount(dried, 'gram')} dried"
    )
    return text, (say(fresh, "gram"), say(dried, "gram", role="alternative")), "fresh yeast"


@construction("sizes to choose from", 3)
def _(pen: Pen) -> Line:
    food = pen.food("produce")
    value = pen.pick(1, 2, 3)
    more = value + pen.pick(1, 2)
    first, second = pen.pick(("large", "medium"), ("large", "small"), ("medium", "small"))
    joint = pen.pick(" or ", ", or ")
    text = f"{pen.number(value)} {first}{joint}{pen.number(more)} {second} {pen.cook(food, food.many)}"
    return text, (say(value, "whole"), say(more, "whole", role="alternative")), food.many


@construction("another food to choose", 2)
def _(pen: Pen) -> Line:
    first_food, first_value, first_unit, food, value, unit = pen.pick(
        ("vanilla bean", 1, "whole", "vanilla extract", 2, "teaspoon"), ("shallots", 2, "whole",
        "onion", 1, "whole"),
        ("honey", 2, "tablespoon", "sugar", 3, "tablespoon"), ("leeks", 2, "whole", "onions", 3, "whole"),
        ("ghee", 3, "tablespoon", "oil", 4, "tablespoon"), ("fresh bay leaf", 1, "whole",
        "dried bay leaves", 2, "whole"),
        ("gelatine leaves", 3, "whole", "powdered gelatine", 2, "teaspoon"),
    )  # fmt: skip
    text = f"{pen.amount(first_value, first_unit)} {first_food} or {pen.amount(value, unit)} {food}"
    return text, (say(first_value, first_unit), say(value, unit, role="alternative")), first_food


@construction("one amount of either food", 2)
def _(pen: Pen) -> Line:
    names = pen.pick("butter or margarine", "olive oil or melted butter", "ghee or vegetable oil",
                     "walnuts or pecans",
                     "lemon or lime juice", "chicken or vegetable stock")  # fmt: skip
    value, unit = (
        pen.pick((2, "tablespoon"), (3, "tablespoon"), (50, "gram"), (100, "gram"))
        if "stock" not in names
        else (1, "litre")
    )
    if "oil" in names or "juice" in names:
        unit, value = "tablespoon", pen.pick(1, 2, 3)
    if "walnut" in names:
        unit, value = "gram", pen.pick(50, 100)
    return f"{pen.amount(value, unit)} {names}", (say(value, unit),), names


@construction("plus an amount for a use", 4)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "oil", "butter")
    use = {"powder": ("for dusting", "for the work surface"), "oil": ("for frying", "for drizzling",
    "for the bowl"),
           "butter": ("for greasing", "for the pan")}[food.group]  # fmt: skip
    value, unit = mass(pen, food) if food.group != "oil" else (pen.of("2 3 4"), "tablespoon")
    extra, extra_unit = pen.pick((1, "tablespoon"), (2, "tablespoon"), (1, "teaspoon"), (2, "teaspoon"))
    if food.group == "oil" and extra >= value:
        extra, extra_unit = 1, "teaspoon"
    joint = pen.pick(", plus ", " plus ", ", plus ")
    more = pen.pick("", "", "extra ")
    text = (
        f"{pen.amount(value, unit)} {food.many}{joint}{pen.amount(extra, extra_unit)} {more}{pen.pick(*use)}"
    )
    return text, (say(value, unit), say(extra, extra_unit, role="for use")), food.many


@construction("plus extra without an amount", 3)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "oil", "butter")
    value, unit = mass(pen, food) if food.group != "oil" else (pen.of("1 2 3"), "tablespoon")
    use = {"powder": "for dusting", "oil": "for drizzling", "butter": "for greasing"}[food.group]
    text = f"{pen.amount(value, unit)} {food.many}, plus {pen.pick('extra', 'more', 'a little extra')} {use}"
    return text, (say(value, unit),), food.many


@construction("divided", 3)
def _(pen: Pen) -> Line:
    pen.at_home("US", "CA")
    food = pen.food("powder", "oil", "leaven", "liquid")
    value, unit = spoons(pen, food) if food.group == "leaven" else cups(pen, food)
    return (
        f"{pen.amount(value, unit)} {food.many}{pen.pick(', divided', ' (divided)', ', divided use')}",
        (say(value, unit),),
        food.many,
    )


@construction("divided, part named", 2)
def _(pen: Pen) -> Line:
    pen.at_home("US", "CA", "AU")
    food = pen.pick(
        "granulated sugar", "light brown sugar", "heavy cream", "orange juice", "maple syrup", "sour cream"
    )
    value, part, unit = pen.pick(
        (1, Fraction(1, 4), "cup"),
        (2, Fraction(1, 2), "cup"),
        (1, 2, "tablespoon"),
        (Fraction(3, 2), Fraction(1, 2), "cup"),
    )
    tail = pen.pick("{} reserved for the topping", "reserving {} for the glaze", "{} set aside for the sauce")
    reserved = pen.pick("", "", "divided, ") + tail.format(pen.amount(part, unit))
    text = f"{pen.amount(value, 'cup')} {food}, {reserved}"
    return text, (say(value, "cup"), say(part, unit, role="for use")), food


@construction("sum, divided", 2)
def _(pen: Pen) -> Line:
    pen.at_home("US", "CA")
    food = pen.food("powder", "oil")
    value, spoon = pen.of("1 1/2 1/4 3/2"), pen.pick(1, 2, 3)
    text = f"{pen.amount(value, 'cup')} plus {pen.amount(spoon, 'tablespoon')} {food.many}, divided"
    return text, (say(value, "cup"), say(spoon, "tablespoon")), food.many


@construction("juice with the fruit beside", 3)
def _(pen: Pen) -> Line:
    fruit, count, cup, millilitres = pen.pick(
        ("lemon", 2, "1/4", 80), ("lemon", 3, "1/2", 120), ("lime", 2, "1/4", 60), ("lime", 4, "1/2", 120),
        ("orange", 1, "1/3", 80), ("orange", 2, "2/3", 160), ("orange", 3, "1", 240), ("lemon", 1, "", 0),
        ("lime", 1, "", 0),
    )  # fmt: skip
    value, unit = Fraction(2), "tablespoon"
    if cup:
        value, unit = (Fraction(cup), "cup") if pen.kitchen != "UK" else (Fraction(millilitres), "millilitre")
    noun = fruit + ("s" if count > 1 else "")
    number = pen.number(count)
    about = pen.chance(0.6)
    inside = pen.pick("from {about}{number} {noun}", "{about}{number} {noun}").format(
        about="about " if about else "", number=number, noun=noun
    )
    beside = say(count, "whole", bound="about" if about else "exactly", role="beside")
    text = f"{pen.amount(value, unit)} {pen.pick('fresh ', 'freshly squeezed ', '')}{fruit} juice ({inside})"
    return text, (say(value, unit), beside), f"{fruit} juice"


@construction("each of several foods", 2)
def _(pen: Pen) -> Line:
    value, unit = pen.of("1/4 1/2 1 2"), "teaspoon"
    names = pen.pick(
        "ground cumin and ground coriander",
        "cinnamon, nutmeg and ginger",
        "turmeric and chilli powder",
        "salt and sugar",
    )
    return (
        f"{pen.amount(value, unit)} each {pen.pick('', 'of ')}{names}",
        (say(value, unit, of="each"),),
        names,
    )


@construction("weight and length of a piece", 1)
def _(pen: Pen) -> Line:
    food = pen.food("root")
    value, grams, unit = (1, 15, "inch") if pen.kitchen == "US" else (5, 30, "centimetre")
    piece = f"{pen.pick('1', 'a', 'one')} {pen.size(value, unit)} piece"
    text = f"{piece} of {food.one} (about {pen.amount(grams, 'gram')})"
    statements: tuple[Statement, ...] = (
        say(1, "piece"), say(value, unit, of="each", role="beside"),
        say(grams, "gram", bound="about", role="beside"),
    )  # fmt: skip
    return text, statements, food.one
