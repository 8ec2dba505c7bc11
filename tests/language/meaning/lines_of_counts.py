"""Lines that count foods or pieces, with a weight, a measure or a length beside the count."""

from fractions import Fraction

from tests.language.meaning.line_constructions import Line, construction
from tests.language.meaning.line_pen import Food, Pen, in_words, plural, rounded
from tests.language.meaning.statements import Statement, say

HALF = Fraction(1, 2)


def weighed(pen: Pen, grams: Fraction) -> tuple[Fraction, str]:
    """Put a rough weight into this kitchen's unit, rounded as a cook would print it."""
    if pen.kitchen in ("US", "CA"):
        if grams >= 450:
            return Fraction(max(1, round(grams / 454 * 4)), 4), "pound"
        return rounded(grams / 28, 1), "ounce"
    if grams >= 1000:
        return Fraction(round(grams / 100), 10), "kilogram"
    return rounded(grams, 25 if grams > 100 else 5), "gram"


def name_for(food: Food, value: Fraction | int) -> str:
    """Return the name of a counted food in the number its count asks for."""
    return food.one if value <= 1 else food.many


@construction("count", 5)
def _(pen: Pen) -> Line:
    food = pen.food("produce", "small", "egg", "citrus", "piece")
    value = pen.of("1 1 2 3 4 6")
    name = name_for(food, value)
    return f"{pen.number(value)} {pen.cook(food, name)}", (say(value, "whole"),), name


@construction("count with a size word", 5)
def _(pen: Pen) -> Line:
    food = pen.food("produce", "produce", "egg")
    value = pen.of("1 1 2 3 4")
    size = (
        pen.pick("large", "medium", "small")
        if food.group != "egg"
        else pen.pick("large", "free-range", "medium")
    )
    name = f"{size} {name_for(food, value)}"
    return f"{pen.number(value)} {pen.cook(food, name)}", (say(value, "whole"),), name


@construction("count in words", 2)
def _(pen: Pen) -> Line:
    food = pen.food("produce", "egg", "small")
    value = pen.pick(2, 3, 4, 6, 8, 12)
    word = in_words(value)
    return (
        f"{pen.pick(word, word.capitalize())} {pen.cook(food, food.many)}",
        (say(value, "whole"),),
        food.many,
    )


@construction("article for one", 2)
def _(pen: Pen) -> Line:
    food = pen.food("produce", "egg", "citrus")
    size = pen.pick("large ", "small ", "medium ", "")
    article = "an" if (size + food.one)[0] in "aeiou" else "a"
    return f"{pen.pick(article, article.capitalize())} {size}{food.one}", (say(1, "whole"),), size + food.one


@construction("dozen", 4)
def _(pen: Pen) -> Line:
    food = pen.food("egg", "small")
    value, words = pen.pick((12, "a dozen"), (12, "1 dozen"), (6, "half a dozen"), (6, "a half dozen"),
                            (24, "two dozen"), (24, "2 dozen"), (6, "half-a-dozen"),
                            (18, "1½ dozen"))  # fmt: skip
    words = pen.pick(words, words[0].upper() + words[1:])
    return f"{words} {food.many}", (say(value, "whole"),), food.many


@construction("range of counts", 3)
def _(pen: Pen) -> Line:
    food = pen.food("produce", "small", "citrus")
    low = pen.pick(1, 2, 3, 4)
    high = low + pen.pick(1, 1, 2)
    size = pen.pick("", "", "medium ", "small ") if food.group == "produce" else ""
    return (
        f"{pen.span(low, high, 'whole')} {size}{food.many}",
        (say(low, "whole", high=high),),
        size + food.many,
    )


@construction("about a count", 1)
def _(pen: Pen) -> Line:
    food = pen.food("produce", "small")
    value = pen.pick(3, 4, 6, 8, 20)
    bound, words = pen.pick(("about", "about {}"), ("about", "roughly {}"), ("at least", "at least {}"))
    return f"{words.format(pen.number(value))} {food.many}", (say(value, "whole", bound=bound),), food.many


@construction("part of one", 3)
def _(pen: Pen) -> Line:
    food = pen.food("produce", "citrus")
    words = pen.pick("½", "1/2", "half", "¼", "1½", "1 1/2")
    value = {"¼": Fraction(1, 4), "1½": Fraction(3, 2), "1 1/2": Fraction(3, 2)}.get(words, HALF)
    if words.startswith("half"):
        words = "half an" if food.one[0] in "aeio" else "half a"
    name = name_for(food, value)
    size = pen.pick("", "", "large ", "small ") if not words.startswith("half") else ""
    return (
        f"{words} {size}{name}{pen.pick('', '', ', chopped' if food.group == 'produce' else '')}",
        (say(value, "whole"),),
        size + name,
    )


@construction("count with the weight of all", 4)
def _(pen: Pen) -> Line:
    food = pen.food("produce", "piece")
    value = pen.pick(2, 3, 4, 6)
    weight, unit = weighed(pen, food.grams * value)
    about = pen.chance(0.35)
    inside = (
        pen.pick("about {}", "about {}", "approx. {}", "roughly {}")
        if about
        else pen.pick("{}", "{} total", "{} in total")
    )
    inside = inside.format(pen.amount(weight, unit))
    beside = say(weight, unit, bound="about" if about else "exactly", role="beside")
    size = pen.pick("", "large ", "medium ") if food.group == "produce" else ""
    name = size + food.many
    text = pen.pick(f"{name} ({inside})", f"{pen.cook(food, name)} ({inside})", f"{name}, {inside}")
    if text.endswith("))") or ") (" in text:
        text = f"{name} ({inside})"
    return f"{pen.number(value)} {text}", (say(value, "whole"), beside), name


@construction("count with the weight of each after it", 3)
def _(pen: Pen) -> Line:
    food = pen.food("piece", "produce")
    value = pen.pick(2, 3, 4, 6, 8)
    weight, unit = weighed(pen, food.grams)
    about = pen.chance(0.5)
    amount = f"about {pen.amount(weight, unit)}" if about else pen.amount(weight, unit)
    each = pen.pick(
        f"({amount} each)", f"({amount} each)", f", {amount} each", f"({amount} apiece)", f"(each {amount})"
    )
    beside = say(weight, unit, of="each", bound="about" if about else "exactly", role="beside")
    text = f"{pen.number(value)} {food.many}{'' if each[0] == ',' else ' '}{each}"
    return text, (say(value, "whole"), beside), food.many


@construction("count with the weight of each before the food", 4)
def _(pen: Pen) -> Line:
    food = pen.food("piece")
    value = pen.pick(1, 2, 4, 6)
    weight, unit = weighed(pen, food.grams)
    high = (
        weight + (2 if unit == "ounce" else 25) if pen.chance(0.5) and unit in ("ounce", "gram") else weight
    )
    size = pen.size(weight, unit, high if high != weight else None)
    name = name_for(food, value)
    text = f"{pen.number(value)} ({size}) {pen.cook(food, name)}"
    return text, (say(value, "whole"), say(weight, unit, high=high, of="each", role="beside")), name


@construction("one whole thing with its weight before it", 3)
def _(pen: Pen) -> Line:
    food = pen.food("joint")
    weight, unit = weighed(pen, food.grams)
    step = HALF if unit in ("pound", "kilogram") else Fraction(100)
    high = weight + step if pen.chance(0.6) else weight
    size = pen.size(weight, unit, high if high != weight else None)
    text = pen.pick(f"1 ({size}) {pen.cook(food, food.one)}", f"one {size} {pen.cook(food, food.one)}")
    return text, (say(1, "whole"), say(weight, unit, high=high, of="each", role="beside")), food.one


@construction("one whole thing with its weight after it", 3)
def _(pen: Pen) -> Line:
    food = pen.food("joint")
    weight, unit = weighed(pen, food.grams)
    high = weight + HALF if pen.chance(0.35) and unit in ("pound", "kilogram") else weight
    figure = pen.amount(weight, unit) if high == weight else pen.span(weight, high, unit)
    about = pen.chance(0.5) and "between" not in figure
    figure = f"about {figure}" if about else figure
    text = pen.pick(f"1 {food.one} ({figure})", f"1 {food.one}, {figure}", f"1 {food.one} ({figure})")
    beside = say(weight, unit, high=high, bound="about" if about else "exactly", role="beside")
    return text, (say(1, "whole"), beside), food.one


@construction("whole thing by weight alone", 2)
def _(pen: Pen) -> Line:
    food = pen.food("joint")
    weight, unit = weighed(pen, food.grams)
    name = food.one.removeprefix("whole ")
    return f"{pen.size(weight, unit)} {pen.cook(food, name)}", (say(weight, unit),), name


@construction("pieces with a range of weights", 3)
def _(pen: Pen) -> Line:
    food = pen.food("piece")
    value = pen.pick(4, 6, 8)
    low, unit = weighed(pen, food.grams * value)
    high = (
        low + {"pound": HALF, "kilogram": Fraction(1, 5), "ounce": Fraction(2), "gram": Fraction(100)}[unit]
    )
    span = pen.span(low, high, unit)
    total = pen.pick("", "", " total") if "between" not in span else ""
    text = f"{pen.number(value)} {food.many} ({span}{total})"
    return text, (say(value, "whole"), say(low, unit, high=high, role="beside")), food.many


@construction("weight with the count beside", 4)
def _(pen: Pen) -> Line:
    food = pen.food("produce", "piece")
    value = pen.pick(2, 3, 4, 5, 6)
    weight, unit = weighed(pen, food.grams * value)
    count = pen.number(value)
    sized = f"{count} {pen.pick('medium', 'large', 'small')}"
    bound, words = pen.pick(
        ("about", f"about {count}"),
        ("about", f"about {sized}"),
        ("about", f"approx. {count}"),
        ("exactly", sized),
    )
    trimmed = pen.pick("", ", trimmed") if food.group == "piece" else ""
    text = f"{pen.amount(weight, unit)} {food.many} ({words}){trimmed}"
    return text, (say(weight, unit), say(value, "whole", bound=bound, role="beside")), food.many


@construction("count with a measure beside", 3)
def _(pen: Pen) -> Line:
    food = pen.food("produce")
    pen.at_home("US", "AU", "CA", "IN")
    value = pen.pick(1, 1, 2, 3)
    measure = max(Fraction(1, 2), Fraction(round(food.grams * value / 70), 2))
    name = f"{pen.pick('large', 'medium', 'small')} {name_for(food, value)}"
    about = pen.chance(0.8)
    inside = f"{'about ' if about else ''}{pen.amount(measure, 'cup')}"
    beside = say(measure, "cup", bound="about" if about else "exactly", role="beside")
    return f"{pen.number(value)} {name}, chopped ({inside})", (say(value, "whole"), beside), name


@construction("bunch", 4)
def _(pen: Pen) -> Line:
    food = pen.food("herb", "green")
    value = pen.of("1 1 2 1/2 3")
    size = pen.pick("", "large ", "small ")
    contents = pen.pick("of ", "", "") + pen.cook(food, food.one)
    text = f"{pen.number(value)} {size}{pen.unit('bunch', value)} {contents}"
    return text, (say(value, "bunch"),), food.one


@construction("bunch with a measure or weight beside", 3)
def _(pen: Pen) -> Line:
    food = pen.food("green", "green", "herb")
    if food.group == "green" and pen.kitchen != "UK":
        value, unit, bound = pen.of("3 4 6 8"), "cup", "about"
        text = f"1 bunch {food.one}, leaves torn (about {pen.amount(value, unit)})"
    elif food.group == "green":
        value, unit, bound = pen.of("200 250 300"), "gram", "exactly"
        text = f"1 bunch {food.one} ({pen.amount(value, unit)}), shredded"
    else:
        value, unit, bound = pen.of("15 20 25 30"), "gram", "exactly"
        text = f"{pen.pick('1 small', 'a small', '1')} bunch of {food.one} ({pen.amount(value, unit)})"
    return text, (say(1, "bunch"), say(value, unit, bound=bound, role="beside")), food.one


@construction("sprigs and handfuls", 3)
def _(pen: Pen) -> Line:
    food = pen.food("woody", "herb")
    piece = pen.pick("sprig", "sprig", "handful", "stem") if food.group == "herb" else "sprig"
    if piece == "handful" or pen.chance(0.2):
        article = (
            pen.pick("a", "A", "1", "a large", "a small", "A generous")
            if piece == "handful"
            else pen.pick("a", "A", "1")
        )
        bound = "heaping" if "generous" in article else "exactly"
        return (
            f"{article} {piece} {pen.pick('of ', 'of ', '')}{food.one}",
            (say(1, piece, bound=bound),),
            food.one,
        )
    value = pen.pick(2, 3, 4, 6)
    return (
        f"{pen.number(value)} {plural(piece)} {pen.pick('of ', '', 'fresh ')}{food.one}",
        (say(value, piece),),
        food.one,
    )


@construction("leaves", 1)
def _(pen: Pen) -> Line:
    name = pen.pick("basil", "mint", "sage", "curry")
    value = pen.pick(8, 10, 12, 20)
    return f"{pen.number(value)} {name} leaves", (say(value, "leaf"),), name


@construction("cloves", 4)
def _(pen: Pen) -> Line:
    food = pen.food("garlic")
    value = pen.pick(1, 2, 3, 4, 6)
    size = pen.pick("", "", "large ", "fat ")
    word = pen.unit("clove", value)
    text = pen.pick(
        f"{size}{word} {pen.cook(food, 'garlic')}",
        f"{size}garlic {pen.cook(food, word)}",
        f"{word} of garlic",
    )
    return f"{pen.number(value)} {text}", (say(value, "clove"),), "garlic"


@construction("range of cloves", 2)
def _(pen: Pen) -> Line:
    low = pen.pick(1, 2, 3)
    text = pen.pick("garlic cloves", "cloves garlic", "cloves of garlic")
    return (
        f"{pen.span(low, low + 1, 'whole')} {text}, {pen.pick('crushed', 'minced')}",
        (say(low, "clove", high=low + 1),),
        "garlic",
    )


@construction("head", 2)
def _(pen: Pen) -> Line:
    name = pen.pick("garlic", "romaine lettuce", "cauliflower", "broccoli")
    value = pen.pick(1, 1, 2)
    size = pen.pick("", "", "large ", "small ")
    return (
        f"{pen.number(value)} {size}{pen.unit('head', value)} {pen.pick('of ', '')}{name}",
        (say(value, "head"),),
        name,
    )


@construction("pinch and dash", 3)
def _(pen: Pen) -> Line:
    food = pen.food("seasoning", "spice")
    word, name = pen.pick(
        ("pinch", food.many), ("pinch", food.many), ("dash", "hot sauce"), ("knob", "butter")
    )
    number = pen.pick("A", "a", "1", "A generous", "a good", "A large", "2")
    bound = "heaping" if number in ("A generous", "a good") else "exactly"
    value = 2 if number == "2" else 1
    of = "of " if value == 1 and number != "1" else pen.pick("of ", "")
    return f"{number} {pen.unit(word, value)} {of}{name}", (say(value, word, bound=bound),), name


@construction("slices", 2)
def _(pen: Pen) -> Line:
    food = pen.food("bread")
    value = pen.pick(2, 4, 6, 8)
    statements: tuple[Statement, ...] = (say(value, "slice"),)
    text = f"{pen.number(value)} {pen.pick('slices', 'slices', 'slices of')} {food.one}"
    if pen.chance(0.4):
        weight, unit = weighed(pen, food.grams * value)
        text += f" (about {pen.amount(weight, unit)})"
        statements += (say(weight, unit, bound="about", role="beside"),)
    return text, statements, food.one


@construction("parts of an egg", 2)
def _(pen: Pen) -> Line:
    value = pen.pick(1, 2, 3, 4)
    part = pen.pick("egg yolk", "egg white")
    size = pen.pick("", "large ")
    name = size + part + ("s" if value > 1 else "")
    tail = pen.pick("", "", ", beaten" if "yolk" in part else ", at room temperature")
    return f"{pen.number(value)} {name}{tail}", (say(value, "whole"),), name


@construction("eggs with their weight", 2)
def _(pen: Pen) -> Line:
    value = pen.pick(1, 2, 3, 4)
    name = f"{pen.pick('large', 'medium')} egg{'s' if value > 1 else ''}"
    pen.units = pen.pick("plain", "full")
    inside = pen.pick("about {}", "{}", "{} without shell")
    text = inside.format(pen.amount(50 * value, "gram"))
    bound = "about" if "about" in inside else "exactly"
    return (
        f"{pen.number(value)} {name} ({text})",
        (say(value, "whole"), say(50 * value, "gram", bound=bound, role="beside")),
        name,
    )


@construction("piece with a length", 4)
def _(pen: Pen) -> Line:
    food = pen.food("root")
    value = pen.of("1/2 1 3/2 2 3") if pen.kitchen == "US" else pen.of("2 3 4 5 5/2")
    unit = "inch" if pen.kitchen == "US" else "centimetre"
    if value.denominator != 1 and pen.fractions != "vulgar":
        pen.fractions = "decimal"  # "1 1 1/2-inch" is unreadable, and no author leaves it so
    length = pen.size(value, unit)
    piece = pen.pick("piece", "piece", "knob")
    text = pen.pick(
        f"1 ({length}) {piece}",
        f"1 {length} {piece}",
        f"one {length} {piece}",
        f"a {length} {piece}",
        f"1 x {length} {piece}",
    )
    return f"{text} {pen.pick('of ', '', 'of ')}{pen.cook(food, food.one)}", (
        say(1, piece), say(value, unit, of="each", role="beside"),
    ), food.one  # fmt: skip


@construction("length alone", 3)
def _(pen: Pen) -> Line:
    food = pen.food("root")
    value = pen.of("1/2 1 3/2 2 3") if pen.kitchen == "US" else pen.of("2 3 4 5 5/2")
    unit = "inch" if pen.kitchen == "US" else "centimetre"
    text = pen.pick(
        f"{pen.amount(value, unit)} of {food.one}",
        f"{pen.amount(value, unit)} {food.one}",
        f"{pen.size(value, unit)} piece {pen.pick('of ', '')}{food.one}",
    )
    return f"{text}{pen.pick('', ', grated', ', peeled')}", (say(value, unit),), food.one


@construction("stick with a length", 3)
def _(pen: Pen) -> Line:
    food = pen.food("stick")
    piece = food.one.rsplit(" ", 1)[1]
    count = pen.pick(1, 1, 2)
    value, unit = (pen.of("2 3 4"), "inch") if pen.kitchen == "US" else (pen.of("5 8 10"), "centimetre")
    length = pen.size(value, unit)
    name = name_for(food, count)
    text = pen.pick(f"{pen.number(count)} {length} {name}", f"{pen.number(count)} ({length}) {name}")
    return text, (say(count, piece), say(value, unit, of="each", role="beside")), food.one.rsplit(" ", 1)[0]


@construction("stalks and sticks", 2)
def _(pen: Pen) -> Line:
    food = pen.food("stick")
    value = pen.of("1 1 2 3")
    piece = food.one.rsplit(" ", 1)[1]
    return (
        f"{pen.number(value)} {pen.cook(food, name_for(food, value))}",
        (say(value, piece),),
        food.one.rsplit(" ", 1)[0],
    )


@construction("sticks of butter", 3)
def _(pen: Pen) -> Line:
    pen.at_home("US")
    food = pen.food("butter")
    value = pen.of("1/2 1 1 3/2 2")
    text = f"{pen.amount(value, 'stick')} {pen.pick('of ', '', '')}{food.one}"
    beside: dict[str, tuple[Fraction, str]] = {
        "cup": (value / 2, "cup"), "tablespoon": (value * 8, "tablespoon"), "ounce": (value * 4, "ounce"),
        "gram": (rounded(value * 113, 1), "gram"),
    }  # fmt: skip
    if pen.chance(0.35):
        return f"{text}, softened", (say(value, "stick"),), food.one
    amount, unit = beside[pen.pick(*beside)]
    figure = pen.amount(amount, unit)
    if pen.chance(0.25) and unit != "gram":
        text = f"{figure} ({pen.amount(value, 'stick')}) {food.one}"
        return text, (say(amount, unit), say(value, "stick", role="beside")), food.one
    text = pen.pick(
        f"{text} ({figure})", f"{pen.number(value)} {pen.unit('stick', value)} ({figure}) {food.one}"
    )
    return text, (say(value, "stick"), say(amount, unit, role="beside")), food.one


@construction("juice or zest of a fruit", 4)
def _(pen: Pen) -> Line:
    food = pen.food("citrus")
    value = pen.of("1 1 2 1/2")
    name = name_for(food, value)
    part = pen.pick("juice", "zest", "zest and juice", "finely grated zest", "grated zest and juice")
    number = (
        pen.pick("half a" + ("n" if name[0] == "o" else ""), pen.number(value))
        if value == HALF
        else pen.number(value)
    )
    text = pen.pick(
        f"{part} of {number} {name}",
        f"{part.capitalize()} of {number} {name}",
        f"{number} {name}, {part} only",
        f"{number} {name}, juiced",
    )
    return text, (say(value, "whole"),), name
