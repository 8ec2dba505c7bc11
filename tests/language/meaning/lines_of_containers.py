"""Lines of cans, packets and sachets: how many, how large each, how much in all."""

from fractions import Fraction

from tests.language.meaning.line_constructions import Line, construction
from tests.language.meaning.line_pen import Food, Pen, decimal, in_words, rounded
from tests.language.meaning.statements import say


def can_word(pen: Pen) -> str:
    """Return this kitchen's word for a can."""
    return pen.pick("tin", "tin", "can") if pen.kitchen in ("UK", "AU", "IN") else "can"


def canned(pen: Pen) -> tuple[Food, Fraction, str, str]:
    """Choose a canned food with the size and the word for its can."""
    food = pen.food("canned", "canned", "poured")
    american = food.kitchens[0] == "US"
    unit = "ounce" if american else "millilitre" if food.group == "poured" else "gram"
    if american and pen.fractions in ("hyphen", "and"):
        pen.fractions = "decimal"
    return food, food.grams, unit, "can" if american else can_word(pen)


@construction("cans, size of each in brackets", 5)
def _(pen: Pen) -> Line:
    food, size, unit, word = canned(pen)
    value = pen.pick(1, 1, 2, 3)
    number = pen.number(value)
    contents = pen.pick("", "", "of ") + pen.cook(food, food.one)
    text = f"{number} ({pen.size(size, unit)}) {pen.unit(word, value)} {contents}"
    return text, (say(value, word), say(size, unit, of="each", role="beside")), food.one


@construction("cans, times sign", 4)
def _(pen: Pen) -> Line:
    food, size, unit, word = canned(pen)
    pen.at_home(*food.kitchens)
    pen.words = False
    value = pen.pick(1, 2, 2, 3)
    contents = pen.pick("", "", "of ") + pen.cook(food, food.one)
    text = f"{value}{pen.times}{pen.size(size, unit)} {pen.unit(word, value)} {contents}"
    return text, (say(value, word), say(size, unit, of="each", role="beside")), food.one


@construction("cans, bare sizes", 4)
def _(pen: Pen) -> Line:
    food, size, unit, word = canned(pen)
    value = pen.pick(1, 2, 2, 3)
    shown = (
        f"{pen.number(size, unit, words=False)}-{pen.unit(unit)}"
        if pen.units != "loud"
        else pen.size(size, unit)
    )
    number = in_words(value) if pen.chance(0.6) else str(value)
    text = f"{number} {shown} {pen.unit(word, value)} {pen.pick('', '', 'of ')}{pen.cook(food, food.one)}"
    return (
        pen.pick(text, text[0].upper() + text[1:]),
        (say(value, word), say(size, unit, of="each", role="beside")),
        food.one,
    )


@construction("cans, size after", 3)
def _(pen: Pen) -> Line:
    food, size, unit, word = canned(pen)
    value = pen.pick(2, 2, 3)
    each = pen.chance(0.5)
    amount = pen.amount(size if each else size * value, unit)
    total = (
        f"{amount} {pen.pick('each', 'each', 'apiece')}"
        if each
        else f"{amount} {pen.pick('total', 'in total', 'in all')}"
    )
    text = pen.pick(
        f"{pen.number(value)} {pen.unit(word, value)} ({total}) {food.one}",
        f"{pen.number(value)} {pen.unit(word, value)} {food.one} ({total})",
        f"{pen.number(value)} {pen.unit(word, value)} {food.one}, {total}",
    )
    beside = say(size if each else size * value, unit, of="each" if each else "all", role="beside")
    return text, (say(value, word), beside), food.one


@construction("one can by its size", 4)
def _(pen: Pen) -> Line:
    food, size, unit, word = canned(pen)
    article = pen.pick("", "", "", "a ", "A ")
    shown = pen.size(size, unit)
    article = article.replace("a", "an").replace("A", "An") if article and shown.startswith("8") else article
    text = f"{article}{shown} {word} {pen.pick('', 'of ')}{pen.cook(food, food.one)}"
    return text, (say(1, word), say(size, unit, of="each", role="beside")), food.one


@construction("cans without a size", 2)
def _(pen: Pen) -> Line:
    food, _size, _unit, word = canned(pen)
    value = pen.of("1 2 1/2 3/2")
    return (
        f"{pen.amount(value, word)} {pen.pick('of ', '', '')}{pen.cook(food, food.one)}",
        (say(value, word),),
        food.one,
    )


@construction("can of either size", 2)
def _(pen: Pen) -> Line:
    pen.at_home("US", "CA")
    food = pen.food("canned")
    low, high = pen.pick((14, 15), (Fraction(29, 2), 16), (15, 16)) if food.grams < 20 else (28, 32)
    pen.fractions = "decimal"
    return f"1 ({pen.size(low, 'ounce', Fraction(high))}) can {pen.cook(food, food.one)}", (
        say(1, "can"), say(low, "ounce", high=high, of="each", role="beside"),
    ), food.one  # fmt: skip


@construction("can in two systems", 3)
def _(pen: Pen) -> Line:
    pen.at_home("US", "CA")
    food = pen.food("canned", "pack")
    pen.fractions = "decimal"
    word = (
        "can" if food.group == "canned" else pen.pick("package", "block" if "tofu" in food.one else "package")
    )
    grams = rounded(food.grams * Fraction(2835, 100), 1)
    value = pen.pick(1, 1, 2)
    ounces = pen.join(decimal(food.grams), pen.unit("ounce"))
    metric = pen.amount(grams, "gram")
    sizes = pen.pick(f"{ounces}/{metric}", f"{ounces} / {metric}", f"{ounces}, {metric}")
    text = f"{pen.number(value)} ({sizes}) {pen.unit(word, value)} {pen.cook(food, food.one)}"
    statements = (
        say(value, word),
        say(food.grams, "ounce", of="each", role="beside"),
        say(grams, "gram", of="each", role="beside"),
    )
    return text, statements, food.one


@construction("packets and blocks", 4)
def _(pen: Pen) -> Line:
    food = pen.food("pack")
    american = food.kitchens[0] == "US"
    unit = "ounce" if american else "gram"
    words = {
        "cream cheese": "package",
        "frozen spinach": "package",
        "firm tofu": "block",
        "puff pastry": "block",
    }
    word = words.get(food.one, "package" if american else pen.pick("packet", "pack"))
    value = pen.pick(1, 1, 2)
    size = pen.size(food.grams, unit)
    noun = pen.unit(word, value)
    text = pen.pick(
        f"{pen.number(value)} ({size}) {noun}", f"{pen.number(value)} {noun} ({pen.amount(food.grams, unit)})"
    )
    of_all = text.endswith(")") and value > 1
    beside = say(
        food.grams * value if of_all else food.grams, unit, of="all" if of_all else "each", role="beside"
    )
    if of_all:
        text = f"{pen.number(value)} {noun} ({pen.amount(food.grams * value, unit)} total)"
    return f"{text} {pen.cook(food, food.one)}", (say(value, word), beside), food.one


@construction("sachets", 3)
def _(pen: Pen) -> Line:
    food = pen.food("sachet", "envelope")
    word = food.group
    unit = "gram" if word == "sachet" else pen.pick("gram", "ounce")
    size = food.grams if unit == "gram" else Fraction(1, 4)
    value = pen.pick(1, 1, 2)
    noun = pen.unit(word, value)
    each = say(size, unit, of="each", role="beside")
    if unit == "gram" and value == 1 and pen.chance(0.5):
        return (
            f"{pen.amount(size, unit)} {word} {pen.pick('of ', '', '')}{food.one}",
            (say(1, word), each),
            food.one,
        )
    text = pen.pick(
        f"{pen.number(value)} ({pen.size(size, unit)}) {noun}",
        f"{pen.number(value)} {pen.size(size, unit)} {noun}"
        if unit == "gram"
        else f"{pen.number(value)} ({pen.size(size, unit)}) {noun}",
    )
    return f"{text} {pen.pick('of ', '', '')}{food.one}", (say(value, word), each), food.one


@construction("can, drained, with a measure beside", 1)
def _(pen: Pen) -> Line:
    pen.at_home("US", "CA")
    food = pen.food("canned")
    while "tomatoes" in food.one:
        food = pen.food("canned")
    measure = pen.of("3/2 7/4")
    text = f"1 ({pen.size(food.grams, 'ounce')}) can {food.one}, drained (about {pen.amount(measure, 'cup')})"
    return text, (
        say(1, "can"), say(food.grams, "ounce", of="each", role="beside"),
        say(measure, "cup", bound="about", role="beside"),
    ), food.one  # fmt: skip
