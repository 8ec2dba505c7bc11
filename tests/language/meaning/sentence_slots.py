# ruff: noqa: E501 - the rows of a table are easier to compare whole
"""Every slot a template may name, with its ladder of values for each country."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial

from tests.language.meaning.sentence_measures import (
    CUPS,
    MINUTES,
    SPOONS,
    VOLUMES,
    WEIGHTS,
    adjective,
    clock,
    compound,
    fraction_of,
    ladder_slot,
    mixed_hours,
    plain,
    sized,
    wells,
)
from tests.language.meaning.sentence_pen import (
    Hand,
    Phrase,
    beside,
    entry,
    figure,
    measured,
    pick,
    span,
    spelt,
)
from tests.language.meaning.sentence_temperatures import (
    POINTS,
    around_zero,
    delta,
    gas,
    oven,
    oven_fan,
    oven_range,
    oven_two,
    point,
    spelt_oven,
)


def count(hand: Hand, least: str, most: str, ranged: str = "0") -> Phrase:
    """A number of things."""
    low = hand.draw.randint(int(least), int(most))
    high = low + (hand.draw.choice([1, 2]) if hand.draw.random() < float(ranged) else 0)
    ends = (Fraction(low), Fraction(high))
    text = span(hand, ends, below=hand.spelt_counts)
    if high == low + 1 and high < 13 and hand.draw.random() < 0.3:
        text = span(replace(hand, dash=" or "), ends, below=hand.spelt_counts).replace(" to ", " or ")
    return Phrase(text, (entry("count", ends),))


def few(hand: Hand, least: str, most: str) -> Phrase:
    """A number of things before a size of theirs: six 6-ounce ramekins, 6 x 150 ml moulds."""
    number = hand.draw.randint(int(least), int(most))
    by = hand.locale not in {"US", "CA"} and hand.draw.random() < 0.3
    text = f"{number} {hand.draw.choice('x×')}" if by else spelt(number)
    return Phrase(text, (entry("count", (Fraction(number),) * 2),))


def said(kind: str, forms: str, unit: str = "") -> Callable[..., Phrase]:
    """A slot whose words are fixed, each with its value: "half the=1/2;two thirds of the=2/3"."""
    rows = [form.rsplit("=", 1) for form in forms.split(";")]

    def slot(hand: Hand) -> Phrase:
        text, value = hand.draw.choice(rows)
        ends = [Fraction(end) for end in value.split("..")]
        return Phrase(text, (entry(kind, (ends[0], ends[-1]), unit),))

    return slot


def bare(
    hand: Hand, least: str, most: str, purpose: str = "-", step: str = "5", kind: str = "unread"
) -> Phrase:
    """A figure without unit or scale; with a `kind`, a figure of that kind."""
    value = Fraction(int(step) * hand.draw.randint(-(-int(least) // int(step)), int(most) // int(step)))
    return Phrase(
        figure(hand, value).replace(",", ""), (entry(kind, (value, value), purpose=purpose.strip("-")),)
    )


def bare_range(hand: Hand, least: str, most: str, purpose: str = "-", step: str = "5") -> Phrase:
    low = int(step) * hand.draw.randint(-(-int(least) // int(step)), int(most) // int(step))
    ends = (Fraction(low), Fraction(low + int(step)))
    dash = hand.draw.choice(["-", "–", " to "])
    return Phrase(f"{ends[0]}{dash}{ends[1]}", (entry("unread", ends, purpose=purpose.strip("-")),))


def unit_figure(kind: str, ladder: str, forms: str, unit: str) -> Callable[..., Phrase]:
    """A slot for a figure in fixed words: "n W;n-watt"."""

    def slot(hand: Hand, ranged: str = "0") -> Phrase:
        values = pick(hand, ladder, ranged=float(ranged))
        text = hand.draw.choice(forms.split(";")).replace("n", "\0", 1)
        return Phrase(text.replace("\0", span(hand, values)), (entry(kind, values, unit),))

    return slot


def same_pair(kind: str, pairs: str) -> Callable[..., Phrase]:
    """An amount or length said twice: "1/2 cup=120 millilitre;..."."""

    def slot(hand: Hand) -> Phrase:
        sides = [side.split() for side in hand.draw.choice(pairs.split(";")).split("=")]
        if hand.draw.random() < 0.3 and hand.locale != "US":
            sides.reverse()
        values = [((Fraction(number),) * 2, unit) for number, unit in sides]
        words = [measured(hand, unit, value) for value, unit in values]
        entries = tuple(
            entry(kind, value, unit, same=place > 0) for place, (value, unit) in enumerate(values)
        )
        return Phrase(beside(hand, *words), entries)

    return slot


PAN_WORDS = {  # word slots by country; the last row serves the rest
    "pan": {"US CA": "pan", "UK AU IN": "tin"},
    "skillet": {"US CA": "skillet", "UK IN": "frying pan", "AU": "frypan"},
    "tray": {"US CA": "baking sheet", "UK IN": "baking tray", "AU": "oven tray"},
    "film": {"US CA AU": "plastic wrap", "UK IN": "cling film"},
    "paper": {"US CA": "parchment", "UK": "baking parchment", "AU": "baking paper", "IN": "butter paper"},
    "fridge": {"US CA": "refrigerator", "UK AU IN": "fridge"},
    "flour": {"US CA": "all-purpose flour", "UK AU": "plain flour", "IN": "maida"},
    "mince": {"US CA": "ground beef", "UK AU": "beef mince", "IN": "mutton keema"},
    "leaf": {"US CA IN": "cilantro", "UK AU": "coriander"},
    "caster": {"US CA": "granulated sugar", "UK AU IN": "caster sugar"},
    "stock": {"US CA": "broth", "UK AU IN": "stock"},
    "cookies": {"US CA": "cookies", "UK AU IN": "biscuits"},
    "broiler": {"US CA": "broiler", "UK AU IN": "grill"},
}
FREE_WORDS = {
    "cue": "until golden;until golden and set;until risen and firm;until the top is deep brown;until cooked through;"
    "until the edges are crisp;or until a skewer comes out clean;until bubbling at the edges",
    "soft": "until tender;until soft;until the sauce clings to a spoon;until reduced and glossy;until the lentils"
    " are tender;until the rice is cooked",
    "fried": "fritters;pakoras;doughnuts;chips;croquettes;chicken pieces;samosas;tofu cubes",
    "meat": "chicken thighs;pork shoulder;leg of lamb;turkey breast;beef brisket;stuffed chicken;meatloaf",
    "roast": "leg of lamb;rib of beef;fillet of beef;saddle of lamb;venison loin",
    "bake": "cake;loaf;traybake;gratin;pie;tart;crumble;lasagne",
    "veg": "carrots;potatoes;squash;cauliflower;onions;parsnips;beetroot",
    "herb": "dill;parsley;chives;mint;basil",
    "liquid": "stock;water;coconut milk;cream;buttermilk;cider",
    "fat": "oil;olive oil;ghee;butter;vegetable oil;sunflower oil",
}


def words(hand: Hand, name: str) -> Phrase:
    if name in PAN_WORDS:
        return Phrase(next(word for key, word in PAN_WORDS[name].items() if hand.locale in key.split()))
    return Phrase(hand.draw.choice(FREE_WORDS[name].split(";")))


RECTANGLES = ["9x13 inch = 23x33 centimetre", "8x8 inch = 20x20 centimetre", "9x5 inch", "17/2x9/2 inch", "10x15 inch",
              "13x9 inch = 33x23 centimetre", "11x7 inch"]  # fmt: skip
ROUNDS = [
    "9 inch = 23 centimetre",
    "8 inch = 20 centimetre",
    "10 inch",
    "6 inch = 15 centimetre",
    "12 inch",
    "11 inch",
]
METRIC_ROUNDS = [
    "20 centimetre",
    "23 centimetre = 9 inch",
    "18 centimetre",
    "25 centimetre",
    "20 centimetre = 8 inch",
]

SLOTS: dict[str, Callable[..., Phrase]] = {
    "oven": oven, "oven_two": oven_two, "oven_fan": oven_fan, "oven_range": oven_range, "gas": gas,
    "spelt_oven": spelt_oven, "around_zero": around_zero, "delta": delta,
    **{f"{purpose}_heat": point(purpose) for purpose in POINTS},
    "seconds": plain("second", "5 10 15 20 30 45 60 90", kind="duration"),
    "minutes": plain("minute", MINUTES, kind="duration"),
    "hours": plain("hour", "1 3/2 2 5/2 3 4 5 6 8 12", kind="duration"),
    "long_hours": plain("hour", "12 18 24 36 48", kind="duration", ranged=0.15),
    "days": plain("day", "1 2 3 4 5 7", kind="duration"),
    "weeks": plain("week", "1 2 3 4 6", kind="duration"),
    "months": plain("month", "1 2 3 4 6", kind="duration"),
    "part_hour": lambda hand: fraction_of(hand, "duration", "hour"),
    "part_cup": lambda hand: fraction_of(hand, "amount", "cup"),
    "compound": compound, "mixed_hours": mixed_hours, "clock": clock,
    "minute_adjective": adjective("duration", "minute", "5 10 15 20 30 45"),
    "second_adjective": adjective("duration", "second", "10 15 20 30"),
    "hour_adjective": adjective("duration", "hour", "1 2 4 8 12 24"),
    "cups": plain("cup", CUPS, kind="amount", ranged=0.15),
    "tablespoons": plain("tablespoon", "1 3/2 2 3 4", kind="amount", ranged=0.2),
    "teaspoons": plain("teaspoon", "1/4 1/2 3/4 1 3/2 2", kind="amount", ranged=0.2),
    "volume": ladder_slot("amount", {"cup|US CA": CUPS, "millilitre|UK IN": VOLUMES, "millilitre|AU CA": VOLUMES,
                                     "cup|AU IN": CUPS, "tablespoon|US UK AU IN CA": SPOONS}, 0.2),
    "pour": ladder_slot("amount", {"cup|US CA AU IN": "1/4 1/3 1/2 3/4", "millilitre|UK": "60 75 90 100",
                                   "tablespoon|UK": "2 3 4"}, 0.1),
    "weight": ladder_slot("amount", {"ounce|US": "2 3 4 6 8 12", "gram|UK AU IN CA": WEIGHTS, "pound|US": "1/2 1 3/2 2",
                                     "kilogram|UK AU IN CA": "1/2 1 3/2 2"}, 0.1),
    "small_weight": ladder_slot("amount", {"ounce|US": "1 2 3", "gram|UK AU IN CA": "20 25 30 40 50 60 75 90"}, 0.1),
    "portion": ladder_slot("amount", {"cup|US CA AU IN": "1/2 3/4 1 3/2", "millilitre|UK IN AU": "120 150 200 250"}, 0.1),
    "per_weight": ladder_slot("amount", {"gram|UK AU IN": "450 500"}, 0),
    "litres": ladder_slot("amount", {"quart|US": "1 3/2 2 3", "litre|UK AU IN CA": "1 3/2 2 3"}, 0.1),
    "twice_measured": same_pair("amount", "1 cup=240 millilitre;1/2 cup=120 millilitre;1 cup=120 gram;3/4 cup=90 gram;"
                                "2 tablespoon=30 millilitre;200 gram=7 ounce;450 gram=1 pound;1/4 cup=60 millilitre"),
    "rectangle": sized("vessel", {"US CA": RECTANGLES, "UK AU IN": ["20x30 centimetre", "33x23 centimetre = 13x9 inch",
                                  "30x20 centimetre", "23x23 centimetre"]}),
    "round": sized("vessel", {"US CA": ROUNDS, "UK AU IN": METRIC_ROUNDS}),
    "pot": sized("vessel", {"US CA": ["3 quart", "2 quart = 2 litre", "4 quart", "6 quart", "5 quart"],
                            "UK AU IN": ["3 litre", "2 litre", "5 litre", "4 litre"]}),
    "dish": sized("vessel", {"US CA": ["2 quart", "3 quart", "3/2 quart", "8 cup"], "UK AU IN": ["2 litre", "3/2 litre"]}),
    "loaf": sized("vessel", {"US CA": ["9x5 inch = 23x13 centimetre", "17/2x9/2 inch"],
                             "UK AU IN": ["900 gram = 2 pound", "450 gram = 1 pound", "900 gram"]}),
    "ramekin": sized("vessel", {"US CA": ["6 ounce = 180 millilitre", "4 ounce", "8 ounce"],
                                "AU": ["3/4 cup = 180 millilitre", "150 millilitre"],
                                "UK IN": ["150 millilitre", "200 millilitre", "175 millilitre"]}),
    "jar": sized("vessel", {"US CA": ["8 ounce = 250 millilitre", "1 pint", "1 quart", "12 ounce", "4 ounce"],
                            "UK AU IN": ["250 millilitre", "500 millilitre", "200 millilitre", "1 litre"]}),
    "wells": wells,
    "thick": ladder_slot("length", {"inch|US CA": "1/8 1/4 1/2 3/4 1", "centimetre|UK AU IN": "1/2 1 3/2 2",
                                    "millimetre|UK AU IN": "2 3 4 5 6 8"}, 0.15),
    "apart": ladder_slot("length", {"inch|US CA": "1 3/2 2 3", "centimetre|UK AU IN CA": "2 3 4 5"}, 0.15),
    "far": ladder_slot("length", {"inch|US CA": "4 5 6 8", "centimetre|UK AU IN": "10 12 15 20"}, 0.2),
    "thick_again": same_pair("length", "1/4 inch=6 millimetre;1/8 inch=3 millimetre;1 inch=5/2 centimetre;2 inch=5 centimetre;"
                             "1/2 inch=1 centimetre"),
    "cut": sized("length", {"US CA": ["1 inch", "1/2 inch = 1 centimetre", "3/4 inch", "1/4 inch", "2 inch = 5 centimetre"],
                            "UK AU IN": ["2 centimetre", "3 centimetre", "1 centimetre", "5 centimetre"]}),
    "rolled": sized("length", {"US CA": ["12x16 inch = 30x40 centimetre", "9x12 inch", "10x14 inch", "8x8 inch"],
                               "UK AU IN": ["30x40 centimetre", "20x30 centimetre", "25x35 centimetre"]}),
    "psi": unit_figure("pressure", "5 10 11 15", "n psi;n psi;n pounds per square inch;n PSI;n lb per sq in",
                       "pound per square inch"),
    "pressure_pounds": unit_figure("pressure", "5 10 11 15", "n pounds pressure;n lb pressure;n lbs pressure;"
                                   "n pounds of pressure", "pound per square inch"),
    "pounds_low": unit_figure("pressure", "10 11", "n pounds pressure;n lb pressure;n psi", "pound per square inch"),
    "pounds_high": unit_figure("pressure", "15", "n pounds pressure;n lb pressure;n psi", "pound per square inch"),
    "each_feet": unit_figure("altitude", "500 1000", "n feet;n ft", "foot"),
    "each_metres": unit_figure("altitude", "150 300", "n m;n metres", "metre"),
    "feet": unit_figure("altitude", "1000 3000 3500 5000 6000 7500 8000", "n feet;n ft;n ft.", "foot"),
    "metres": unit_figure("altitude", "300 500 900 1000 1500 2000", "n m;n metres;n metres", "metre"),
    "watts": unit_figure("power", "600 700 800 850 900 1000 1100", "n W;nW;n watts", "watt"),
    "watt_adjective": unit_figure("power", "700 800 900 1000", "n-watt;n W;nW", "watt"),
    "power_share": unit_figure("power", "30 40 50 60 70 80", "n%;n percent;n per cent;n %", "percent"),
    "percent": unit_figure("percent", "2 5/2 3 5", "n%;n percent;n per cent;n %", "percent"),
    "hydration": unit_figure("percent", "60 65 68 70 75 80", "n%;n percent;n per cent", "percent"),
    "cocoa": unit_figure("name", "55 60 64 70 72 85", "n%;n %;n percent;n per cent", ""),
    "count": count, "few": few, "bare": bare, "bare_range": bare_range,
    "share": said("ratio", "half the=1/2;half of the=1/2;two thirds of the=2/3;two-thirds of the=2/3;a third of the=1/3;"
                  "one third of the=1/3;a quarter of the=1/4;three quarters of the=3/4;three-quarters of the=3/4;"
                  "one quarter of the=1/4;⅓ of the=1/3;½ the=1/2;1/3 of the=1/3;¾ of the=3/4;2/3 of the=2/3;1/4 of the=1/4"),
    "by_share": said("ratio", "by half=1/2;by a third=1/3;by two thirds=2/3;by about half=1/2;by one third=1/3;"
                     "by a quarter=1/4;by one-third=1/3"),
    "parts": said("ratio", "3 parts=3;three parts=3;2 parts=2;two parts=2;4 parts=4;five parts=5;5 parts=5"),
    "part": said("ratio", "1 part=1;one part=1"),
    "several_times": said("times", "twice=2;twice more=2;three times=3;3 times=3;four times=4;two times=2;two or three times=2..3;"
                          "2 or 3 times=2..3;six times=6;3–4 times=3..4"),
    "dozen": said("count", "a dozen=12;two dozen=24;2 dozen=24;three dozen=36;half a dozen=6;1 dozen=12;4 dozen=48"),
    "step": said("reference", "step 2=2;step 3=3;step 1=1;Step 4=4;steps 2 and 3=2..3;steps 1 to 3=1..3;step two=2;step three=3"),
    "speed": said("reference", "speed 2=2;speed 4=4;speed 1=1;speed 6=6;speed two=2;setting 3=3;No. 2 speed=2"),
    "nozzle": said("reference", "No. 10=10;No. 8=8;no. 12=12;#10=10;number 4=4;size 6=6;Number 8=8"),
    "page": said("reference", "page 48=48;p. 112=112;page 7=7;p. 36=36;pp. 20–21=20..21"),
    "year": said("reference", "1962=1962;1987=1987;2004=2004;2019=2019;1974=1974"),
    "trial": said("reference", "trial 4=4;test 7=7;trial 12=12;test no. 3=3;batch 9=9"),
    "named": said("name", "five-spice powder=5;00 flour=0;2% milk=2;Chinese five-spice=5;five-spice=5;seven-spice mix=7;"
                  "0% yogurt=0;5% yogurt=5;20% cream=20;3% milk=3;T55 flour=55"),
    "half_and_half": said("name", "half-and-half=1/2;half and half=1/2"),
    "acid": said("name", "pH 4.2=4.2;pH of 4=4;pH of 3.8=3.8;pH 4.6=4.6"),
    "angle": said("name", "45-degree=45;45°=45;30-degree=30"),
}  # fmt: skip
SLOTS |= {name: partial(words, name=name) for name in PAN_WORDS | FREE_WORDS}
