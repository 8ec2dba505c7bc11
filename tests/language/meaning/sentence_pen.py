"""How one imagined writer puts figures, units and measures down; words and what they say go together."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from random import Random

Values = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What one numeral (or a range, or a compound) says; `low` and `high` of a clock are "h:mm"."""

    kind: str
    low: Fraction | str
    high: Fraction | str
    unit: str = ""
    purpose: str = ""
    bound: str = "exactly"
    same: bool = False


@dataclass(frozen=True, slots=True)
class Phrase:
    """Words and what they say."""

    text: str
    entries: tuple[Entry, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """One writer's habits, kept through a text."""

    draw: Random
    locale: str
    degree: str  # how a temperature is written: n the figure, S the letter, N the scale's name
    dash: str
    fraction: str
    minus: str
    short: int  # which abbreviation of a unit, or −1 for the whole word
    gap: str  # between a figure and an abbreviation
    spelt_measures: int  # whole numbers below this are words
    spelt_counts: int
    inside: bool = False  # within brackets already


DEGREES = (
    ["n°S"] * 8 + ["n °S"] * 5 + ["nS"] * 4 + ["n degrees S"] * 3 + ["n degrees N"] * 2
    + ["n\u00a0°S", "n° S", "n S", "n˚S", "nºS", "n º S", "n⁑", "n ⁑", "n deg S", "n deg. S", "n°¤"]
)  # fmt: skip
DASHES = [" to "] * 9 + ["–"] * 5 + ["-"] * 5 + [" – ", " - ", "\u2009–\u2009"]


def draw_hand(draw: Random, locale: str) -> Hand:
    """The habits of one writer from `locale` (US, UK, AU, IN, CA)."""
    return Hand(
        draw=draw,
        locale=locale,
        degree=draw.choice(DEGREES),
        dash=draw.choice(DASHES),
        fraction=draw.choice(["vulgar"] * 5 + ["slashed"] * 3 + ["decimal", "hyphened", "spaced"]),
        minus=draw.choice(["−", "−", "-", "-", "–", "minus "]),
        short=draw.choice([-1, -1, -1, 0, 0, 1, 2]),
        gap=draw.choice([" "] * 7 + ["", "", "\u00a0", "\u202f"]),
        spelt_measures=draw.choice([0] * 7 + [10, 13, 100]),
        spelt_counts=draw.choice([0, 0, 10, 10, 13, 100]),
    )


# ---- figures

ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen"
    " seventeen eighteen nineteen"
).split()
TENS = "_ _ twenty thirty forty fifty sixty seventy eighty ninety".split()
VULGAR = dict(zip("½⅓⅔¼¾⅛⅜⅝", map(Fraction, "1/2 1/3 2/3 1/4 3/4 1/8 3/8 5/8".split()), strict=True))
GLYPH = {value: glyph for glyph, value in VULGAR.items()}


def spelt(number: int) -> str:
    """A whole number under 1,000 in words: twenty-five, three hundred and fifty."""
    if number < 20:
        return ONES[number]
    if number < 100:
        return TENS[number // 10] + (f"-{ONES[number % 10]}" if number % 10 else "")
    rest = f" and {spelt(number % 100)}" if number % 100 else ""
    return f"{ONES[number // 100]} hundred{rest}"


def figure(hand: Hand, value: Fraction, *, below: int = 0) -> str:
    """`value` as the hand writes it, in words where it is whole and less than `below`."""
    if value < 0:
        return hand.minus + figure(hand, -value)
    whole, part = divmod(value, 1)
    if not part:
        return spelt(whole) if 0 < whole < below else f"{whole:,}"
    if (hand.fraction == "decimal" and 1000 % part.denominator == 0) or part not in GLYPH:
        return f"{float(value):g}"
    if hand.fraction == "vulgar":
        return f"{whole or ''}{GLYPH[part]}"
    between = {"slashed": " ", "hyphened": "-", "decimal": " "}.get(hand.fraction)
    if between is None:
        return f"{whole} {GLYPH[part]}" if whole else GLYPH[part]
    return f"{whole}{between}{part}" if whole else str(part)


def span(hand: Hand, values: Values, *, below: int = 0) -> str:
    """A value, or a range joined in the hand's way; no dash beside a minus or a slashed fraction."""
    low, high = values
    below = below if low.denominator == high.denominator == 1 else 0
    first, second = figure(hand, low, below=below), figure(hand, high, below=below)
    if low == high:
        return first
    wordy = first.isalpha() or second.isalpha() or low < 0 or any(mark in first + second for mark in " /-")
    return f"{first}{' to ' if wordy and not hand.dash.strip().isalpha() else hand.dash}{second}"


def pick(hand: Hand, ladder: str, *, ranged: float = 0.3, least: float = 0, most: float = 1e9) -> Values:
    """A rung of the ladder between `least` and `most`, or two neighbours as the ends of a range."""
    rungs = [Fraction(rung) for rung in ladder.split()]
    rungs = [rung for rung in rungs if least <= rung <= most]
    place = hand.draw.randrange(len(rungs))
    if place and hand.draw.random() < ranged:
        return rungs[place - 1], rungs[place]
    return rungs[place], rungs[place]


# ---- measures

UNITS = {  # unit: singular and plural words, then abbreviations singular/plural
    "second": "second seconds sec/secs s/s sec/sec",
    "minute": "minute minutes min/mins min/min min./min.",
    "hour": "hour hours hr/hrs h/h hr/hr",
    "day": "day days",
    "week": "week weeks",
    "month": "month months",
    "gram": "gram grams g/g g/g g/g",
    "kilogram": "kilogram kilograms kg/kg kg/kg kg/kg",
    "millilitre": "millilitre millilitres ml/ml mL/mL ml/ml",
    "litre": "litre litres litre/litres L/L l/l",
    "teaspoon": "teaspoon teaspoons tsp/tsp tsp./tsp. tsp/tsps",
    "tablespoon": "tablespoon tablespoons tbsp/tbsp Tbsp./Tbsp. tbsp/tbsps",
    "cup": "cup cups",
    "ounce": "ounce ounces oz/oz oz./oz. oz/oz",
    "fluid ounce": "fluid_ounce fluid_ounces fl_oz/fl_oz fl._oz./fl._oz. fl_oz/fl_oz",
    "pound": "pound pounds lb/lb lb./lb. lb/lbs",
    "quart": "quart quarts qt/qt qt./qt. quart/quarts",
    "pint": "pint pints pint/pints pint/pints pint/pints",
    "inch": "inch inches in/in in./in. inch/inches",
    "centimetre": "centimetre centimetres cm/cm cm/cm cm/cm",
    "millimetre": "millimetre millimetres mm/mm mm/mm mm/mm",
    "foot": "foot feet ft/ft ft./ft. foot/feet",
    "metre": "metre metres m/m m/m m/m",
}
ALWAYS_SHORT = {"millimetre", "centimetre", "gram", "kilogram", "millilitre"}


def unit_word(hand: Hand, unit: str, many: bool) -> tuple[str, str]:
    """The gap before the unit and its word in the hand's way."""
    singular, plural, *abbreviations = UNITS[unit].split()
    short = hand.short if hand.short >= 0 or unit not in ALWAYS_SHORT or hand.draw.random() < 0.2 else 0
    if short < 0 or not abbreviations:
        word = plural if many else singular
        if hand.locale == "US":
            word = word.replace("litre", "liter").replace("metre", "meter")
        return " ", word.replace("_", " ")
    if unit == "gram" and hand.locale == "IN":
        return hand.gap, hand.draw.choice(["g", "gm", "gms"])
    one, more = abbreviations[short].split("/")
    gap = hand.gap if one not in {"pint", "inch"} else " "
    return gap, (more if many else one).replace("_", " ")


def measured(hand: Hand, unit: str, values: Values) -> str:
    """Figures and unit: 20 to 25 minutes, ½ tsp."""
    short = unit in ALWAYS_SHORT or hand.short >= 0
    below = 0 if values[1].denominator > 1 or short else hand.spelt_measures
    gap, word = unit_word(hand, unit, values[1] > 1)
    text = span(hand, values, below=below)
    return text + (" " if text[-1].isalpha() else gap) + word


def entry(kind: str, values: Values, unit: str = "", purpose: str = "", *, same: bool = False) -> Entry:
    return Entry(kind=kind, low=values[0], high=values[1], unit=unit, purpose=purpose, same=same)


def beside(hand: Hand, first: str, second: str) -> str:
    """A measure and the same again in another unit."""
    forms = ["{} ({})"] * 6 + ["{}/{}", "{} / {}", "{} [{}]"]
    inside = ["{}/{}", "{} / {}", "{}; {}", "{} or {}"]
    open_forms = inside if hand.inside else forms
    if "/" in first + second:
        open_forms = [form for form in open_forms if "/" not in form]
    return hand.draw.choice(open_forms).format(first, second)
