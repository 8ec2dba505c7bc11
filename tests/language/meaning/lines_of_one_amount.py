"""Lines with one amount, or none: every way of writing the figure, the unit, the bound and the place."""

from fractions import Fraction

from tests.language.meaning.line_constructions import (
    CUPS,
    Line,
    construction,
    cups,
    mass,
    spoons,
    volume,
)
from tests.language.meaning.line_pen import Food, Pen, in_words
from tests.language.meaning.statements import NOTHING, say

HALF = Fraction(1, 2)


def dry(pen: Pen) -> Food:
    """Choose a food that is weighed or measured in cups."""
    return pen.food("powder", "grain", "powder", "cheese", "thick")


@construction("weight", 5)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "grain", "cheese", "butter", "meat", "thick")
    value, unit = mass(pen, food)
    return f"{pen.amount(value, unit)} {pen.cook(food, food.many)}", (say(value, unit),), food.many


@construction("weight of", 2)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "grain", "cheese", "meat", "produce")
    value, unit = mass(pen, food)
    pen.units = pen.pick("full", "plain")
    return f"{pen.amount(value, unit)} of {pen.cook(food, food.many)}", (say(value, unit),), food.many


@construction("large weight", 2)
def _(pen: Pen) -> Line:
    food = pen.food("meat", "produce")
    value, unit = mass(pen, food, large=True)
    return f"{pen.amount(value, unit)} {pen.cook(food, food.many)}", (say(value, unit),), food.many


@construction("cups", 5)
def _(pen: Pen) -> Line:
    pen.at_home("US", "AU", "IN", "CA")
    food = pen.food("powder", "grain", "liquid", "thick", "oil")
    value, unit = cups(pen, food)
    done = pen.pick(*food.preparations) if food.preparations and pen.chance(0.3) else ""
    before = f"{done} " if done and done.split()[0] not in ("at", "cut", "soaked", "boiled") else ""
    name = before + food.many if before else pen.cook(food, food.many)
    return f"{pen.amount(value, unit)} {name}", (say(value, unit),), food.many


@construction("spoons", 5)
def _(pen: Pen) -> Line:
    food = pen.food("leaven", "spice", "splash", "oil", "thick")
    value, unit = spoons(pen, food)
    return f"{pen.amount(value, unit)} {food.many}", (say(value, unit),), food.many


@construction("spoons of chopped herb")
def _(pen: Pen) -> Line:
    food = pen.food("herb")
    value, unit = pen.of("1 2 3 4"), "tablespoon"
    how = pen.pick("chopped {}", "{}, chopped", "finely chopped {}", "chopped fresh {}")
    return f"{pen.amount(value, unit)} {how.format(food.one)}", (say(value, unit),), food.one


@construction("poured volume", 4)
def _(pen: Pen) -> Line:
    food = pen.food("liquid", "liquid", "oil", "splash")
    value, unit = spoons(pen, food) if food.group == "splash" else volume(pen, food)
    return f"{pen.amount(value, unit)} {pen.cook(food, food.many)}", (say(value, unit),), food.many


@construction("mixed number", 5)
def _(pen: Pen) -> Line:
    pen.at_home("US", "CA", "AU")
    food = pen.food("powder", "grain", "powder")
    value = pen.of("5/4 4/3 3/2 5/3 7/4 9/4 7/3 5/2 8/3 11/4 7/2")
    return f"{pen.amount(value, 'cup')} {food.many}", (say(value, "cup"),), food.many


@construction("mixed pounds", 2)
def _(pen: Pen) -> Line:
    pen.at_home("US", "CA")
    food = pen.food("meat", "produce")
    value = pen.of("5/4 3/2 7/4 9/4 5/2 7/2")
    return f"{pen.amount(value, 'pound')} {pen.cook(food, food.many)}", (say(value, "pound"),), food.many


@construction("figures in words", 4)
def _(pen: Pen) -> Line:
    pen.words, pen.units = True, "full"
    food = pen.food("powder", "thick", "splash", "liquid", "spice")
    if food.group == "liquid":
        value, unit = cups(pen)
    else:
        value, unit = spoons(pen, food)
    text = f"{pen.amount(value, unit)} {food.many}"
    return pen.pick(text, text[0].upper() + text[1:]), (say(value, unit),), food.many


@construction("large figures in words", 3)
def _(pen: Pen) -> Line:
    pen.units, pen.words = "full", True
    pen.at_home("UK", "AU", "IN")
    food = pen.food("powder", "meat", "liquid", "leaven")
    if food.group == "leaven":
        value, unit = pen.of("12 15 18 25"), "gram"
    else:
        value, unit = pen.of("25 45 60 85 110 120 150 175 220 225 250 275 350 480 500 750"), "gram"
    unit = "millilitre" if food.group == "liquid" else unit
    number = in_words(int(value))
    number = number if pen.chance(0.7) else number.replace(" hundred and ", " hundred ")
    text = f"{number} {pen.unit(unit, 2)} {pen.pick('of ', '')}{pen.cook(food, food.many)}"
    return pen.pick(text, text[0].upper() + text[1:]), (say(value, unit),), food.many


@construction("half a measure", 4)
def _(pen: Pen) -> Line:
    pen.units = "full"
    unit = pen.pick("cup", "teaspoon", "pound", "pint", "litre", "tablespoon")
    groups = {
        "cup": ("grain", "liquid", "thick"), "teaspoon": ("spice", "leaven"), "pound": ("meat", "cheese"),
        "pint": ("liquid",), "litre": ("liquid",), "tablespoon": ("splash", "oil"),
    }  # fmt: skip
    pen.at_home(*{"cup": ("US", "AU", "CA", "IN"), "pound": ("US", "CA", "UK"), "pint": ("US", "UK")}.get(
        unit, ("UK", "AU", "IN") if unit == "litre" else ("US", "UK", "AU", "IN", "CA")
    ))  # fmt: skip
    food = pen.food(*groups[unit])
    word = pen.unit(unit)
    value, phrase = pen.pick(
        (HALF, f"half a {word}"), (HALF, f"a half {word}"), (HALF, f"one half {word}"), (HALF, f"½ a {word}"),
        (Fraction(1, 4), f"a quarter of a {word}"), (Fraction(1, 4), f"a quarter {word}"),
        (Fraction(3, 4), f"three-quarters of a {word}"), (Fraction(3, 4), f"three quarters of a {word}"),
        (Fraction(3, 4), f"¾ of a {word}"), (Fraction(3, 2), f"a {word} and a half"),
        (Fraction(3, 2), f"one and a half {pen.unit(unit, 2)}"), (Fraction(5, 2),
        f"two and a half {pen.unit(unit, 2)}"),
        (Fraction(5, 4), f"a {word} and a quarter"), (Fraction(3, 2), f"1 {word} and a half"),
    )  # fmt: skip
    of = "of " if phrase.endswith(("half", "and a quarter")) or pen.chance(0.4) else ""
    text = f"{phrase} {of}{food.many}"
    return pen.pick(text, text[0].upper() + text[1:]), (say(value, unit),), food.many


@construction("a measure", 2)
def _(pen: Pen) -> Line:
    pen.units = "full"
    food = pen.food("spice", "splash", "liquid", "oil")
    strong = food.group == "spice"
    unit = "teaspoon" if strong else "tablespoon" if food.group != "liquid" or pen.kitchen == "UK" else "cup"
    text = f"{pen.pick('a', 'A', 'one', 'One')} {unit} {pen.pick('of ', '')}{food.many}"
    return text, (say(1, unit),), food.many


@construction("decimals", 3)
def _(pen: Pen) -> Line:
    pen.fractions, pen.words = "decimal", False
    unit = pen.pick("kilogram", "litre", "pound", "cup", "gram", "teaspoon")
    pen.at_home(*(("US", "CA") if unit in ("pound", "cup") else ("UK", "AU", "IN")))
    groups = {
        "litre": ("liquid",),
        "cup": ("powder", "liquid"),
        "gram": ("leaven",),
        "teaspoon": ("leaven", "spice"),
    }
    food = pen.food(*groups.get(unit, ("meat", "produce")))
    values = {
        "kilogram": "1/2 6/5 5/4 3/2 9/5 9/4 5/2", "litre": "1/2 3/4 6/5 3/2 7/4",
        "pound": "1/2 3/2 9/4 5/2 13/10",
        "cup": "1/4 1/2 3/4 3/2 9/4 5/2", "gram": "5/2 7/2 9/2 15/2 25/2", "teaspoon": "1/4 1/2 3/2 5/2",
    }  # fmt: skip
    value = pen.of(values[unit])
    return f"{pen.amount(value, unit)} {pen.cook(food, food.many)}", (say(value, unit),), food.many


@construction("decimal comma", 2)
def _(pen: Pen) -> Line:
    pen.at_home("CA", "UK")
    unit = pen.pick("kilogram", "litre", "decilitre")
    pen.units = "plain"
    food = pen.food(*(("meat", "produce") if unit == "kilogram" else ("liquid",)))
    value = pen.of("1/2 6/5 3/2 5/2 7/4" if unit != "decilitre" else "1/2 3/2 5/2")
    text = pen.join(f"{float(value):g}".replace(".", ","), pen.unit(unit))
    return f"{text} {food.many}", (say(value, unit),), food.many


@construction("thousands", 1)
def _(pen: Pen) -> Line:
    pen.at_home("UK", "AU", "IN")
    food = pen.food("meat", "liquid")
    unit = "millilitre" if food.group == "liquid" else "gram"
    value = pen.of("1000 1200 1250 1500 1800 2000")
    text = pen.join(f"{int(value):,}" if pen.chance(0.7) else str(value), pen.unit(unit, 2))
    return f"{text} {food.many}", (say(value, unit),), food.many


@construction("range", 4)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "meat", "oil", "spice", "liquid", "herb")
    if food.group in ("oil", "spice", "herb"):
        unit = "teaspoon" if food.group == "spice" else "tablespoon"
        low, high = pen.pick((Fraction(1), Fraction(2)), (Fraction(2), Fraction(3)), (Fraction(3),
                             Fraction(4)),
                             (Fraction(1), Fraction(3, 2)), (Fraction(1, 2), Fraction(1)))  # fmt: skip
    elif food.group == "liquid" and pen.kitchen != "UK":
        unit = "cup"
        low, high = pen.pick((Fraction(1, 4), Fraction(1, 3)), (Fraction(3, 2), Fraction(2)), (Fraction(3),
                             Fraction(4)),
                             (Fraction(3, 4), Fraction(1)), (Fraction(5, 4), Fraction(3, 2)))  # fmt: skip
    else:
        unit = (
            "millilitre" if food.group == "liquid" else "gram" if pen.kitchen not in ("US", "CA") else "ounce"
        )
        low = pen.of("100 150 200 250 300") if unit != "ounce" else pen.of("4 6 8 10 12")
        high = low + (pen.of("25 50 50 100") if unit != "ounce" else 2)
    return f"{pen.span(low, high, unit)} {food.many}", (say(low, unit, high=high),), food.many


@construction("range in words", 2)
def _(pen: Pen) -> Line:
    pen.words, pen.units = True, "full"
    food = pen.food("oil", "thick", "splash")
    low = pen.pick(1, 2, 3)
    high = low + 1
    joint = pen.pick("to", "to", "or")
    text = f"{in_words(low)} {joint} {in_words(high)} {pen.unit('tablespoon', 2)} {food.many}"
    return pen.pick(text, text[0].upper() + text[1:]), (say(low, "tablespoon", high=high),), food.many


@construction("range of two units of weight", 3)
def _(pen: Pen) -> Line:
    food = pen.food("meat", "produce")
    american = pen.kitchen in ("US", "CA")
    low, low_unit, high, high_unit = (
        pen.pick((12, "ounce", 1, "pound"), (8, "ounce", 1, "pound"), (14, "ounce", Fraction(3, 2), "pound"))
        if american
        else pen.pick(
            (500, "gram", 1, "kilogram"),
            (800, "gram", 1, "kilogram"),
            (750, "gram", Fraction(6, 5), "kilogram"),
        )
    )
    dash = pen.dash if pen.chance(0.5) else " to "
    text = f"{pen.amount(low, low_unit)}{dash}{pen.amount(high, high_unit)} {pen.cook(food, food.many)}"
    return text, (say(low, low_unit, high=high, high_unit=high_unit),), food.many


@construction("range of two spoons", 3)
def _(pen: Pen) -> Line:
    food = pen.pick("chilli powder", "smoked paprika", "lemon juice", "fish sauce", "cider vinegar",
                    "soy sauce",
                    "caster sugar", "Dijon mustard", "fine sea salt", "chilli flakes")  # fmt: skip
    low = pen.of("1 1 2")
    if pen.kitchen in ("US", "CA") and food in ("lemon juice", "soy sauce", "cider vinegar"):
        first, second, high = "tablespoon", "cup", Fraction(1, 4)
        low = pen.of("2 3")
    else:
        first, second, high = "teaspoon", "tablespoon", Fraction(1)
    dash = pen.pick(" to ", " to ", " – ", "–", " - ")
    text = f"{pen.amount(low, first)}{dash}{pen.amount(high, second)} {food}"
    return text, (say(low, first, high=high, high_unit=second),), food


@construction("about", 3)
def _(pen: Pen) -> Line:
    food = pen.food("meat", "liquid", "grain")
    value, unit = volume(pen) if food.group == "liquid" else mass(pen, food)
    amount = pen.amount(value, unit)
    words = pen.pick(
        "about {}",
        "About {}",
        "approx. {}",
        "approximately {}",
        "roughly {}",
        "around {}",
        "~{}",
        "{} or so",
        "c. {}",
        "{} approx.",
    )
    text = words.format(amount)
    of = "of " if text.endswith("so") else ""
    return f"{text} {of}{food.many}", (say(value, unit, bound="about"),), food.many


@construction("at most")
def _(pen: Pen) -> Line:
    food = pen.food("liquid", "splash")
    value, unit = spoons(pen, food) if food.group == "splash" else volume(pen)
    words = pen.pick("up to {}", "Up to {}", "no more than {}", "not more than {}", "at most {}")
    text = f"{words.format(pen.amount(value, unit))} {food.many}{pen.pick('', ', as needed')}"
    return text, (say(value, unit, bound="at most"),), food.many


@construction("at least")
def _(pen: Pen) -> Line:
    food = pen.food("oil", "liquid", "meat")
    value, unit = mass(pen, food) if food.group == "meat" else volume(pen, food)
    words = pen.pick("at least {}", "At least {}", "no less than {}", "minimum {}")
    text = f"{words.format(pen.amount(value, unit))} {food.many}"
    return text, (say(value, unit, bound="at least"),), food.many


@construction("or more")
def _(pen: Pen) -> Line:
    pen.at_home("US", "AU", "CA")
    food = pen.food("oil", "liquid", "splash")
    value, unit = pen.of("1 2 3"), "tablespoon" if food.group == "splash" else "cup"
    number, word = pen.number(value), pen.unit(unit, value)
    text = (
        pen.pick(f"{number}+ {word}", f"{number} {word} or more", f"{number} or more {word}")
        + f" {food.many}"
    )
    return text, (say(value, unit, bound="at least"),), food.many


@construction("scant", 3)
def _(pen: Pen) -> Line:
    food = dry(pen)
    value, unit = cups(pen, food) if pen.kitchen != "UK" else spoons(pen)
    words = pen.pick("scant {}", "a scant {}", "Scant {}", "bare {}", "just under {}")
    if "bare" in words:
        value, unit = Fraction(1), pen.pick("teaspoon", "tablespoon")
    return (
        f"{words.format(pen.amount(value, unit))} {food.many}",
        (say(value, unit, bound="scant"),),
        food.many,
    )


@construction("heaping", 3)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "thick")
    value, unit = pen.of("1 1 2 3"), pen.pick("tablespoon", "teaspoon")
    heaped = "heaping" if pen.kitchen in ("US", "CA") else "heaped"
    word = pen.pick(heaped, heaped, "rounded", "generous")
    text = pen.join(f"{pen.number(value)} {word}", pen.unit(unit, value))
    return f"{text} {food.many}", (say(value, unit, bound="heaping"),), food.many


@construction("level", 1)
def _(pen: Pen) -> Line:
    food = pen.food("leaven", "powder")
    value, unit = pen.of("1 2 3"), pen.pick("teaspoon", "tablespoon")
    return f"{pen.number(value)} level {pen.unit(unit, value)} {food.many}", (say(value, unit),), food.many


@construction("to taste", 3)
def _(pen: Pen) -> Line:
    food = pen.food("seasoning")
    name = food.many[0].upper() + food.many[1:]
    tail = pen.pick("to taste", "as needed", "for sprinkling")
    return pen.pick(f"{name}, {tail}", f"{name} {tail}", f"{name} ({tail})", name), (NOTHING,), food.many


@construction("two seasonings without an amount", 1)
def _(pen: Pen) -> Line:
    text = pen.pick(
        "Salt and freshly ground black pepper", "Salt and pepper, to taste", "salt and black pepper"
    )
    return text, (NOTHING,), text.split(",")[0].lower()


@construction("for greasing", 2)
def _(pen: Pen) -> Line:
    food = pen.food("oil", "butter")
    name = food.many[0].upper() + food.many[1:]
    return (
        f"{name}, {pen.pick('for greasing', 'for the pan', 'for brushing', 'for frying')}",
        (NOTHING,),
        food.many,
    )


@construction("a few")
def _(pen: Pen) -> Line:
    food = pen.food("woody", "herb")
    if food.group == "woody":
        text = f"{pen.pick('A few', 'a few', 'Few', 'Several')} sprigs {pen.pick('of ', '')}{food.one}"
    else:
        text = f"{food.one.capitalize()}, {pen.pick('to serve', 'to garnish', 'for serving', 'for garnish')}"
    return text, (NOTHING,), food.one


@construction("amount last", 4)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "butter", "grain", "liquid", "meat", "thick")
    value, unit = volume(pen) if food.group == "liquid" else mass(pen, food)
    joint = pen.pick(", ", ", ", " - ", " – ", ": ", "\t", " … ", " ")
    name = pen.pick(food.many, food.many[0].upper() + food.many[1:])
    return f"{name}{joint}{pen.amount(value, unit)}", (say(value, unit),), food.many


@construction("amount last in brackets", 1)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "butter", "grain", "meat")
    value, unit = mass(pen, food)
    return (
        f"{food.many[0].upper()}{food.many[1:]} ({pen.amount(value, unit)})",
        (say(value, unit),),
        food.many,
    )


@construction("count last", 2)
def _(pen: Pen) -> Line:
    food = pen.food("produce", "egg", "small")
    value = pen.of("2 3 4 6")
    name = food.many[0].upper() + food.many[1:]
    return f"{name}{pen.pick(', ', ' – ', ': ', ' - ')}{pen.number(value)}", (say(value, "whole"),), food.many


@construction("number in the name", 6)
def _(pen: Pen) -> Line:
    food = pen.food("named dry", "named dry", "named wet", "named spice")
    if food.group == "named spice":
        value, unit = spoons(pen, food)
    elif food.group == "named wet":
        value, unit = volume(pen)
    else:
        value, unit = mass(pen, food)
    statement = (say(value, unit),)
    if pen.chance(0.12):
        return f"{food.many}, {pen.amount(value, unit)}", statement, food.many
    return f"{pen.amount(value, unit)} {pen.cook(food, food.many)}", statement, food.many


@construction("spoonful and cupful", 3)
def _(pen: Pen) -> Line:
    food = pen.food("powder", "oil", "splash", "grain")
    unit = (
        pen.pick("teaspoon", "tablespoon", "cup")
        if food.group != "splash"
        else pen.pick("teaspoon", "tablespoon")
    )
    value = pen.of("1 1 2 3 1/2") if unit != "cup" else pen.of(CUPS)
    word = unit + "ful" + ("s" if value > 1 else "")
    pen.words = pen.words or pen.chance(0.3)
    return f"{pen.number(value)} {word} {pen.pick('of ', '')}{food.many}", (say(value, unit),), food.many


@construction("old and foreign units", 4)
def _(pen: Pen) -> Line:
    unit = pen.pick("decilitre", "centilitre", "gill", "tablespoon", "teaspoon")
    if unit in ("tablespoon", "teaspoon"):
        food = pen.food("powder", "oil", "splash")
        value = pen.of("1 2 3")
        words = (
            ("Tb.", "Tb", "Tbs.", "tablesp.", "tbsps")
            if unit == "tablespoon"
            else ("teasp.", "tsps", "tsps.")
        )
        words = tuple(word for word in words if value > 1 or "ps" not in word)
        return f"{pen.number(value)} {pen.pick(*words)} {food.many}", (say(value, unit),), food.many
    pen.at_home("UK")
    pen.units = pen.pick("plain", "full") if unit != "gill" else "full"
    food = pen.food("liquid")
    value = pen.of({"decilitre": "1 2 3 4 3/2 5/2", "centilitre": "5 10 20 25", "gill": "1/2 1 2"}[unit])
    return f"{pen.amount(value, unit)} {food.many}", (say(value, unit),), food.many
