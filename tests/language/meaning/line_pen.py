"""The hand that writes a drawn line: one author's habits for numbers, units, dashes and spaces.

An author keeps one way of writing through a line, so habits are chosen once for each line. Every word here
comes from a meaning already decided; nothing is read back out of text.
"""

import csv
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from random import Random
from typing import TypeVar

T = TypeVar("T")

KITCHENS = ("US", "UK", "AU", "IN", "CA")
METRIC = ("gram", "kilogram", "millilitre", "centilitre", "decilitre", "litre", "centimetre")
VULGAR = {
    Fraction(1, 2): "½", Fraction(1, 3): "⅓", Fraction(2, 3): "⅔", Fraction(1, 4): "¼", Fraction(3, 4): "¾",
    Fraction(1, 8): "⅛", Fraction(3, 8): "⅜", Fraction(5, 8): "⅝",
}  # fmt: skip
SHARES = {
    Fraction(1, 2): ("one-half", "a half"), Fraction(1, 3): ("one-third", "a third"),
    Fraction(2, 3): ("two-thirds", "two thirds"), Fraction(1, 4): ("one-quarter", "a quarter", "one-fourth"),
    Fraction(3, 4): ("three-quarters", "three quarters", "three-fourths"), Fraction(1, 8): ("one-eighth",),
}  # fmt: skip
SMALL = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen"
).split()
TENS = "zero ten twenty thirty forty fifty sixty seventy eighty ninety".split()

# Columns follow UNIT_HABITS; "one/many" where a plural differs.
UNIT_HABITS = ("plain", "stopped", "full", "capital", "loud", "loose")
UNIT_WORDS = {
    "teaspoon": "tsp|tsp.|teaspoon/teaspoons|Tsp|TSP|teasp.",
    "tablespoon": "tbsp|Tbsp.|tablespoon/tablespoons|Tbsp|TBSP|tbs",
    "cup": "cup/cups|cup/cups|cup/cups|Cup/Cups|CUP/CUPS|c.",
    "gram": "g|g.|gram/grams|g|G|gm/gms",
    "kilogram": "kg|kg.|kilogram/kilograms|Kg|KG|kilo/kilos",
    "ounce": "oz|oz.|ounce/ounces|Oz|OZ|oz/ozs",
    "pound": "lb|lb.|pound/pounds|Lb|LB|lb/lbs",
    "millilitre": "ml|ml.|millilitre/millilitres|mL|ML|ml/mls",
    "centilitre": "cl|cl.|centilitre/centilitres|cl|CL|cl",
    "decilitre": "dl|dl.|decilitre/decilitres|dL|DL|dl",
    "litre": "l|l.|litre/litres|L|L|ltr/ltrs",
    "fluid ounce": "fl oz|fl. oz.|fluid ounce/fluid ounces|Fl oz|FL OZ|fl.oz",
    "pint": "pint/pints|pt.|pint/pints|Pint/Pints|PINT/PINTS|pt",
    "quart": "qt|qt.|quart/quarts|Quart/Quarts|QT|qt/qts",
    "gill": "gill/gills|gill/gills|gill/gills|Gill/Gills|GILL/GILLS|gill/gills",
    "inch": "inch/inches|in.|inch/inches|inch/inches|INCH/INCHES|in",
    "centimetre": "cm|cm.|centimetre/centimetres|cm|CM|cm/cms",
}
AMERICAN = {"millilitre": "milliliter", "litre": "liter", "centimetre": "centimeter"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Food:
    """A food as the trade names it; `grams` is what a cup, a piece or a container of it weighs.

    The weights are rough and from memory: they only keep a drawn pair of amounts believable. A can of an
    American or Canadian food is in ounces.
    """

    one: str
    many: str
    group: str
    kitchens: tuple[str, ...]
    grams: Fraction
    preparations: tuple[str, ...]


@cache
def foods() -> tuple[Food, ...]:
    """Return every food of the table."""
    with (Path(__file__).parent / "line_foods.csv").open(encoding="utf-8", newline="") as table:
        return tuple(
            Food(
                one=row["one"],
                many=row["many"] or row["one"],
                group=row["group"],
                kitchens=KITCHENS if row["kitchens"] == "all" else tuple(row["kitchens"].split()),
                grams=Fraction(row["grams"] or 0),
                preparations=tuple(
                    word.strip(" ,") for word in row["preparations"].split(";") if word.strip(" ,")
                ),
            )
            for row in csv.DictReader(table)
        )


def in_words(number: int) -> str:
    """Spell a whole number under a thousand."""
    if number >= 100:
        rest = number % 100
        return f"{SMALL[number // 100]} hundred" + (f" and {in_words(rest)}" if rest else "")
    if number < 20:
        return SMALL[number]
    return TENS[number // 10] + (f"-{SMALL[number % 10]}" if number % 10 else "")


def decimal(value: Fraction) -> str:
    """Write a figure in decimals, of which it needs at most three."""
    return f"{float(value):.3f}".rstrip("0").rstrip(".")


class Pen:
    """One author at work on one line."""

    def __init__(self, random: Random) -> None:
        self.random = random
        self.kitchen = random.choice(KITCHENS)
        self.fractions = random.choices(
            ("vulgar", "spaced", "ascii", "hyphen", "and", "slash", "decimal"), (40, 8, 24, 5, 4, 3, 6)
        )[0]
        self.units = random.choices(UNIT_HABITS, (40, 14, 28, 8, 3, 7))[0]
        self.words = random.random() < 0.1
        self.glued = random.random() < (0.15 if self.kitchen in ("US", "CA") else 0.55)
        self.dash = random.choices(
            ("–", "-", " – ", " - ", "—", "‑", " to ", "to"), (25, 16, 5, 5, 2, 2, 44, 0)
        )[0]
        self.times = random.choice((" x ", " × ", "x", " X ", "×"))
        if self.words:
            self.units = "full"

    def pick(self, *options: T) -> T:
        """Return one of the options."""
        return self.random.choice(options)

    def chance(self, share: float) -> bool:
        """Return true in this share of lines."""
        return self.random.random() < share

    def of(self, values: str) -> Fraction:
        """Return one of the figures in a string of them."""
        return Fraction(self.random.choice(values.split()))

    def food(self, *groups: str) -> Food:
        """Return a food of the groups that this kitchen uses; move to another kitchen where it has none."""
        fits = [food for food in foods() if food.group in groups and self.kitchen in food.kitchens]
        if not fits:
            food = self.pick(*(food for food in foods() if food.group in groups))
            self.kitchen = self.pick(*food.kitchens)
            return food
        return self.pick(*fits)

    def at_home(self, *kitchens: str) -> None:
        """Move to one of these kitchens unless already in one."""
        if self.kitchen not in kitchens:
            self.kitchen = self.pick(*kitchens)

    def number(self, value: Fraction | int, unit: str = "", *, words: bool | None = None) -> str:
        """Write a figure as this author does before this unit."""
        value = Fraction(value)
        whole, part = divmod(value, 1)
        spelled = self.words and unit not in METRIC and value <= 20 if words is None else words
        if spelled and (not part or part in SHARES):
            if not part:
                return in_words(int(whole))
            share = self.pick(*SHARES[part])
            return f"{in_words(int(whole))} and {share}" if whole else share.replace("a ", "one-")
        if not part:
            return str(int(whole))
        if unit in METRIC and (part != Fraction(1, 2) or self.fractions not in ("vulgar", "ascii")):
            return decimal(value)
        if part not in VULGAR or (self.fractions == "decimal" and part.denominator in (2, 4)):
            return decimal(value)
        plain = f"{part.numerator}/{part.denominator}"
        if self.fractions in ("vulgar", "decimal"):
            return (str(whole) if whole else "") + VULGAR[part]
        if self.fractions == "slash":
            return (f"{whole} " if whole else "") + plain.replace("/", "⁄")
        if self.fractions == "spaced":
            return (f"{whole} " if whole else "") + VULGAR[part]
        joint = {"ascii": " ", "hyphen": "-", "and": " and "}[self.fractions]
        return (f"{whole}{joint}" if whole else "") + plain

    def unit(self, unit: str, value: Fraction | int = 1) -> str:
        """Spell a unit of measure, or put a piece word into the number its figure asks for."""
        if unit not in UNIT_WORDS:
            return unit if value <= 1 else plural(unit)
        one, _, many = UNIT_WORDS[unit].split("|")[UNIT_HABITS.index(self.units)].partition("/")
        word = many if many and value > 1 else one
        if self.units == "full" and self.kitchen == "US" and unit in AMERICAN:
            word = word.replace(unit, AMERICAN[unit])
        return word

    def join(self, number: str, unit: str) -> str:
        """Set a figure before the spelling of a unit, closed up where this author closes up metric units."""
        metric = unit.strip(".").casefold() in (
            "g",
            "kg",
            "ml",
            "l",
            "cl",
            "dl",
            "cm",
            "gm",
            "gms",
            "oz",
            "lb",
        )
        return number + ("" if self.glued and metric and number[-1] in "0123456789½¼¾⅓⅔⅛" else " ") + unit

    def amount(self, value: Fraction | int, unit: str) -> str:
        """Write one figure with its unit, or the bare figure of a count."""
        number = self.number(value, unit)
        return number if unit == "whole" else self.join(number, self.unit(unit, value))

    def span(self, low: Fraction | int, high: Fraction | int, unit: str) -> str:
        """Write a range of one unit."""
        dash = self.dash
        first, last = self.number(low, unit), self.number(high, unit)
        if self.words or self.fractions in ("hyphen", "and") or (" " in first + last and dash != " – "):
            dash = " to "
        if Fraction(high) - Fraction(low) == 1 and Fraction(low).denominator == 1 and self.chance(0.12):
            dash = " or "
        if unit == "whole":
            return first + dash + last
        if self.chance(0.06):
            return f"between {first} and {self.join(last, self.unit(unit, high))}"
        if self.chance(0.1) and dash != " or ":
            return self.amount(low, unit) + dash + self.amount(high, unit)
        return first + dash + self.join(last, self.unit(unit, high))

    def size(self, low: Fraction | int, unit: str, high: Fraction | int | None = None) -> str:
        """Write the size of one thing, as it stands before the thing's name."""
        hyphened = self.chance(0.65)
        first, last = (
            self.number(low, unit, words=False),
            self.number(low if high is None else high, unit, words=False),
        )
        word = self.unit(unit)
        if self.kitchen not in ("US", "CA") and unit in METRIC and self.units != "full":
            hyphened = self.chance(0.12)
        hyphened = hyphened and self.units not in ("loud", "loose")
        one = f"{last}-{word}" if hyphened else self.join(last, word)
        if high is None:
            return one
        if hyphened:
            return f"{first}- to {one}" if self.chance(0.6) or " " in first + last else f"{first}–{one}"
        return first + (" to " if " " in first + last or self.fractions == "hyphen" else self.dash) + one

    def cook(self, food: Food, name: str) -> str:
        """Follow the name of a food with what is done to it, or not."""
        if not food.preparations or self.chance(0.4):
            return name
        done = self.pick(*food.preparations)
        return f"{name}, {done}" if self.chance(0.93) else f"{name} ({done})"


def plural(word: str) -> str:
    """Return the plural of a piece word or of a container."""
    irregular = {"leaf": "leaves", "loaf": "loaves", "half": "halves", "knob": "knobs"}
    if word in irregular:
        return irregular[word]
    if word.endswith(("ch", "sh", "x", "s")):
        return word + "es"
    return word + "s"


def rounded(total: Fraction, step: int) -> Fraction:
    """Round a computed figure to a step a cook would print, never to nothing."""
    return max(Fraction(step), Fraction(round(total / step) * step))
