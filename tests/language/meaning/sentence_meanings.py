"""Draw method sentences and other fields from their meaning, so that what they say is known beforehand.

A template of `sentence_templates.txt` is a sentence with slots. Each slot draws a meaning (an oven of 180 °C,
a rest of 20 to 25 minutes), writes it in the hand of one imagined writer, and hands back words and entries
together; no text is ever read to find its entries.

Conventions where readers may fairly differ:

- A compound time is in minutes (1 h 30 is 90), and so is a range whose ends have different units.
- A proportion (1:3, 3 parts to 1) is two ratios, one for each figure.
- An entry that says the one before again carries that one's bound and purpose.
- The wells of a muffin tin are a vessel's: 12 cups where the text says 12-cup, else 12 without a unit.
- A size of a cutter, a nozzle or a baked thing is a length.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from random import Random

TEMPLATES = Path(__file__).with_name("sentence_templates.txt")
SLOT = re.compile(r"\{(?:(?P<bound>[=+a-z]+):)?(?P<name>[a-z_]+)(?P<arguments>(?: [^ }]+)*)\}")

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A text with its entries in the order of the text; `kind` names the construction."""

    text: str
    field: str
    kind: str
    entries: tuple[Entry, ...]


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
    if hand.fraction == "decimal" and 1000 % part.denominator == 0 or part not in GLYPH:
        return f"{float(value):g}"
    if hand.fraction == "vulgar":
        return f"{whole or ''}{GLYPH[part]}"
    between = {"slashed": " ", "hyphened": "-", "decimal": " "}.get(hand.fraction)
    if between is None:
        return f"{whole} {GLYPH[part]}" if whole else GLYPH[part]
    return f"{whole}{between}{part}" if whole else str(part)


def span(hand: Hand, values: Values, *, below: int = 0) -> str:
    """A value, or a range joined in the hand's way; a dash never stands before a minus or a fraction's own."""
    low, high = values
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
    gap = hand.gap if one != "pint" and one != "inch" else " "
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


def ladder_slot(kind: str, units: dict[str, str], ranged: float) -> Callable[..., Phrase]:
    """A slot that draws a value from the ladder of one of the units the writer's country uses."""

    def slot(hand: Hand, least: str = "0", most: str = "1e9") -> Phrase:
        open_units = [key for key in units if hand.locale in key.split("|")[1].split()]
        key = hand.draw.choice(open_units)
        unit = key.split("|")[0]
        values = pick(hand, units[key], ranged=ranged, least=float(least), most=float(most))
        return Phrase(measured(hand, unit, values), (entry(kind, values, unit),))

    return slot


def plain(name: str, ladder: str, *, kind: str, ranged: float = 0.3) -> Callable[..., Phrase]:
    return ladder_slot(kind, {f"{name}|US UK AU IN CA": ladder}, ranged)


CUPS = "1/4 1/3 1/2 2/3 3/4 1 5/4 3/2 2 3"
SPOONS = "1/2 1 3/2 2 3"
WEIGHTS = "20 25 30 40 50 60 75 100 120 150 200 250 300"
VOLUMES = "30 50 60 75 100 120 150 200 250 300"
MINUTES = "1 2 3 4 5 6 8 10 12 15 18 20 25 30 35 40 45 50 55"


def fraction_of(hand: Hand, kind: str, unit: str) -> Phrase:
    """Halves and quarters of a unit as people say them: an hour and a half, three quarters of an hour."""
    word, article = unit, "an" if unit == "hour" else "a"
    forms = {
        f"half {article} {word}": "1/2",
        f"{article} {word} and a half": "3/2",
        f"one and a half {word}s": "3/2",
        f"two and a half {word}s": "5/2",
        f"three quarters of {article} {word}": "3/4",
        f"three-quarters of {article} {word}": "3/4",
        f"a quarter of {article} {word}": "1/4",
        f"a half {word}" if unit == "hour" else f"a third of a {word}": "1/2" if unit == "hour" else "1/3",
        f"{article} {word}": "1",
    }
    text = hand.draw.choice(list(forms))
    return Phrase(text, (entry(kind, (Fraction(forms[text]),) * 2, unit),))


def compound(hand: Hand, ranged: str = "") -> Phrase:
    """Hours and minutes in one time, in minutes; `ranged` makes it a range of two."""
    hours, minutes = hand.draw.choice([1, 1, 1, 2, 2, 3]), hand.draw.choice([5, 10, 15, 20, 30, 40, 45])
    s = "s" if hours > 1 else ""
    written = {
        -1: ["{h} hour{s} {m} minutes", "{h} hour{s} and {m} minutes", "{h} hour{s}, {m} minutes"],
        0: ["{h} hr{s} {m} mins", "{h} hr {m} mins", "{h} hr{s} {m}"],
        1: ["{h} h {m} min", "{h}h{m}m", "{h}h {m}m", "{h} h {m}", "{h}h{m}"],
        2: ["{h} hr {m} min.", "{h} hr. {m} min.", "{h} hours {m}" if s else "{h} hour {m}"],
    }
    form = hand.draw.choice(written[hand.short])
    if hand.short < 0 and hand.spelt_measures > 10:
        h, m = spelt(hours), spelt(minutes)
    else:
        h, m = str(hours), str(minutes)
    text = form.format(h=h, m=m, s=s)
    low = Fraction(60 * hours + minutes)
    if not ranged:
        return Phrase(text, (entry("duration", (low, low), "minute"),))
    high = low + hand.draw.choice([10, 15, 20])
    if high % 60 == 0:
        high += 5
    more = "s" if high >= 120 else ""
    later = form.replace("hour2", "hour").format(h=high // 60, m=high % 60, s=more)
    if hand.short == 2 and not form.endswith("."):
        later = f"{high // 60} hour{more} {high % 60}"
    joined = text if h.isdigit() else form.format(h=hours, m=minutes, s=s)
    return Phrase(f"{joined} to {later}", (entry("duration", (low, high), "minute"),))


def mixed_hours(hand: Hand) -> Phrase:
    """A range from minutes to hours, in minutes."""
    low = Fraction(hand.draw.choice([30, 40, 45, 50]))
    high = hand.draw.choice([Fraction(1), Fraction(1), Fraction(5, 4), Fraction(3, 2)])
    tail = "an hour" if high == 1 and hand.draw.random() < 0.3 else measured(hand, "hour", (high, high))
    text = f"{measured(hand, 'minute', (low, low))} to {tail}"
    return Phrase(text, (entry("duration", (low, high * 60), "minute"),))


def adjective(kind: str, unit: str, ladder: str) -> Callable[..., Phrase]:
    """A measure before a noun: a 20-minute rest, a two-hour chill."""

    def slot(hand: Hand) -> Phrase:
        values = pick(hand, ladder, ranged=0.15)
        form = hand.draw.choice(["{}-{}", "{}-{}", "{} {}"])
        text = span(replace(hand, dash=" to "), values, below=hand.spelt_counts)
        return Phrase(form.format(text.replace(" to ", "- to "), unit), (entry(kind, values, unit),))

    return slot


def clock(hand: Hand, least: str, most: str) -> Phrase:
    """A time of the day between two full hours."""
    hour = hand.draw.randint(int(least), int(most))
    minute = hand.draw.choice([0, 0, 0, 15, 30, 45])
    value = f"{hour}:{minute:02}"
    half = "am" if hour < 12 else "pm"
    twelve = (hour - 1) % 12 + 1
    mark = {"US": ":", "UK": "."}.get(hand.locale, hand.draw.choice(":."))
    figures = f"{twelve}{mark}{minute:02}" if minute else str(twelve)
    forms = [f"{figures} {half}", f"{figures}{half}", f"{figures} {half[0]}.{half[1]}.", f"{figures} {half.upper()}"]
    if minute or hour > 12:
        forms.append(f"{hour:02}:{minute:02}")
    if not minute:
        when = "in the morning" if hour < 12 else "in the afternoon" if hour < 18 else "in the evening"
        if hour != 12:
            forms += [f"{twelve} o'clock {when}", f"{spelt(twelve)} {when}"]
    return Phrase(hand.draw.choice(forms), (Entry(kind="clock", low=value, high=value),))


# ---- temperatures

LETTER = {"celsius": "C", "fahrenheit": "F"}
OVEN = [  # Celsius, Fahrenheit, gas mark: common practice, no source
    tuple(map(Fraction, row.split()))
    for row in (
        "110 225 1/4", "120 250 1/2", "140 275 1", "150 300 2", "160 325 3", "180 350 4", "190 375 5",
        "200 400 6", "220 425 7", "230 450 8",
    )
]  # fmt: skip
POINTS = {  # purpose: Celsius least, most, width of a range
    "fat": (160, 190, 10), "core": (54, 96, 3), "syrup": (110, 154, 4), "bath": (52, 88, 2),
    "refrigerator": (2, 5, 2), "freezer": (-24, -16, 3), "room": (18, 25, 3), "dough": (22, 27, 2),
    "milk": (38, 85, 4), "custard": (76, 84, 2), "chocolate": (28, 46, 1), "water": (35, 95, 4),
    "proof": (26, 35, 3), "smoker": (100, 135, 10), "grill": (180, 260, 20), "pan": (180, 220, 10),
}  # fmt: skip


def degrees(hand: Hand, scale: str, values: Values) -> str:
    """Figures and scale in the hand's way."""
    letter, sign = LETTER[scale], hand.degree
    mark = {"celsius": "℃", "fahrenheit": "℉"}[scale]
    sign = sign.replace("⁑", mark).replace("S", letter).replace("N", scale.title()).replace("¤", letter.lower())
    figures = span(hand, values)
    if values[0] != values[1] and hand.draw.random() < 0.25:
        low, high = (figure(hand, value) for value in values)
        joint = hand.dash if hand.dash.strip().isalpha() else " to "
        if "°" in sign and hand.draw.random() < 0.5:
            return sign.replace("n", f"{low}°{joint}{high}", 1)
        return sign.replace("n", low, 1) + joint + sign.replace("n", high, 1)
    return sign.replace("n", figures, 1)


def other_scale(scale: str, value: Fraction, *, change: bool = False) -> Fraction:
    """`value` in the other scale, to the degree."""
    shift = 0 if change else 32
    exact = (value - shift) * 5 / 9 if scale == "fahrenheit" else value * 9 / 5 + shift
    return Fraction(5 * round(exact / 5) if change and value > 8 else max(1, round(exact)) if change else round(exact))


def scale_of(hand: Hand) -> str:
    return {"US": "fahrenheit", "CA": hand.draw.choice(["celsius", "fahrenheit"])}.get(hand.locale, "celsius")


def two_scales(hand: Hand, kind: str, scale: str, values: Values, purpose: str = "") -> Phrase:
    """A temperature or difference, sometimes said again in the other scale."""
    entries: tuple[Entry, ...] = (entry(kind, values, scale, purpose),)
    text = degrees(hand, scale, values)
    if hand.draw.random() < 0.3:
        low, high = (other_scale(scale, value, change=kind == "difference") for value in values)
        (other,) = {"celsius", "fahrenheit"} - {scale}
        text = beside(hand, text, degrees(hand, other, (low, high)))
        entries += (entry(kind, (low, high), other, purpose, same=True),)
    return Phrase(text, entries)


def point(purpose: str) -> Callable[..., Phrase]:
    """A slot for a temperature of something told by the words around it; arguments are °C."""
    usual_least, usual_most, width = POINTS[purpose]

    def slot(hand: Hand, least: str = "", most: str = "", ranged: str = "0.25") -> Phrase:
        low = Fraction(hand.draw.randint(int(least or usual_least), int(most or usual_most)))
        if usual_most > 150:
            low = Fraction(5 * round(low / 5))
        ends = (low, low + (width if hand.draw.random() < float(ranged) else 0))
        scale = scale_of(hand)
        if scale == "fahrenheit":
            step = 1 if purpose in {"refrigerator", "dough", "chocolate", "custard"} else 5
            first = step * Fraction(round((ends[0] * 9 / 5 + 32) / step))
            ends = (first, first if ends[0] == ends[1] else first + max(step, 2) * max(1, width // 3))
        return two_scales(hand, "temperature", scale, ends, purpose)

    return slot


def oven(hand: Hand, least: str = "0", most: str = "999") -> Phrase:
    """One oven setting in one scale; `least` and `most` in °C."""
    row = hand.draw.choice([row for row in OVEN if int(least) <= row[0] <= int(most)])
    scale = scale_of(hand)
    value = row[0] if scale == "celsius" else row[1]
    return Phrase(degrees(hand, scale, (value,) * 2), (entry("temperature", (value,) * 2, scale, "oven"),))


def gas_words(hand: Hand, mark: Fraction) -> str:
    word = hand.draw.choice(["gas mark", "gas mark", "Gas Mark", "gas", "Gas"])
    return f"{word} {figure(replace(hand, fraction='vulgar'), mark)}"


def gas(hand: Hand) -> Phrase:
    """A gas mark alone."""
    mark = hand.draw.choice(OVEN)[2]
    return Phrase(gas_words(hand, mark), (entry("temperature", (mark, mark), "gas mark", "oven"),))


def oven_again(hand: Hand, form: str) -> Phrase:
    """One oven setting in several scales, laid out by `form`: C, F, v (fan, °C) and G (gas mark)."""
    c, f, mark = hand.draw.choice([row for row in OVEN if row[0] >= 140])
    values = {"C": (c, "celsius"), "F": (f, "fahrenheit"), "v": (c - 20, "celsius"), "G": (mark, "gas mark")}
    words: list[str] = []
    entries: list[Entry] = []
    for sign in form.replace("_", " "):
        if sign not in values:
            words.append(sign)
            continue
        value, scale = values[sign]
        words.append(gas_words(hand, mark) if sign == "G" else degrees(hand, scale, (value, value)))
        entries.append(entry("temperature", (value, value), scale, "oven", same=bool(entries)))
    return Phrase("".join(words).replace("@", "fan").replace("&", "fan-forced"), tuple(entries))


def oven_two(hand: Hand) -> Phrase:
    us = hand.locale == "US" or (hand.locale == "CA" and hand.draw.random() < 0.6)
    first, second = ("F", "C") if us else ("C", "F")
    forms = ["{}/{}", "{}_/_{}", "{},_or_{}"] if hand.inside else ["{}_({})"] * 5 + ["{}/{}", "{}_/_{}", "{}_or_{}"]
    return oven_again(hand, hand.draw.choice(forms).format(first, second))


def oven_fan(hand: Hand) -> Phrase:
    uk = ["C_(v_@)", "C_(@_v)", "C/v_@", "C/v_@/G", "C_(v_@,_G)", "C/@_v/G", "C,_v_@,_G", "v_@/C/G", "C/@_v/F/G",
          "C_(@_v)_G"]  # fmt: skip
    return oven_again(hand, hand.draw.choice(uk if hand.locale == "UK" else ["C_(v_&)", "C_(v_@)", "C/v_&"]))


def oven_range(hand: Hand, least: str = "1") -> Phrase:
    place = hand.draw.randrange(int(least), len(OVEN))
    scale = scale_of(hand)
    column = 0 if scale == "celsius" else 1
    ends = (OVEN[place - 1][column], OVEN[place][column])
    return Phrase(degrees(hand, scale, ends), (entry("temperature", ends, scale, "oven"),))


def delta(hand: Hand, least: str = "1", most: str = "5", ranged: str = "0.15") -> Phrase:
    """A change or distance of temperature; arguments in °C."""
    scale = scale_of(hand)
    low = hand.draw.randint(int(least), int(most))
    low = 5 * round(low / 5) if low > 5 else low
    if scale == "fahrenheit":
        low = 25 * max(1, low // 12) if low > 8 else low * 2
    high = low + (max(1, low // 3) if hand.draw.random() < float(ranged) else 0)
    return two_scales(hand, "difference", scale, (Fraction(low), Fraction(high)))


def around_zero(hand: Hand) -> Phrase:
    """A range of Celsius that begins below zero, with words or a dash between."""
    low, high = Fraction(-hand.draw.randint(1, 6)), Fraction(hand.draw.randint(0, 6))
    return Phrase(degrees(hand, "celsius", (low, high)), (entry("temperature", (low, high), "celsius", "refrigerator"),))


def spelt_oven(hand: Hand) -> Phrase:
    row = hand.draw.choice(OVEN)
    scale = scale_of(hand)
    value = row[0] if scale == "celsius" else row[1]
    number = spelt(int(value))
    if hand.draw.random() < 0.4 and 100 <= value < 200:
        number = number.replace("one hundred", "a hundred")
    if hand.locale in {"US", "CA"} and hand.draw.random() < 0.6:
        number = number.replace(" and ", " ")
    text = f"{number} degrees {scale.title()}"
    return Phrase(text, (entry("temperature", (value,) * 2, scale, "oven"),))


# ---- vessels and lengths


def sized(kind: str, sizes: dict[str, list[str]]) -> Callable[..., Phrase]:
    """A slot for a size by country: each size is "a unit [b unit]", sides joined by x, the second the same."""

    def slot(hand: Hand) -> Phrase:
        options = next(rows for locales, rows in sizes.items() if hand.locale in locales.split())
        first, *again = hand.draw.choice(options).split(" = ")
        written: list[str] = []
        entries: list[Entry] = []
        for number, size in enumerate([first, *again]):
            if number and hand.draw.random() < 0.5:
                break
            figures, unit = size.split()
            sides = [Fraction(side) for side in figures.split("x")]
            written.append(size_words(hand, sides, unit))
            entries += [entry(kind, (side, side), unit, same=number > 0) for side in sides]
        return Phrase(written[0] if len(written) == 1 else beside(hand, *written), tuple(entries))

    return slot


def size_words(hand: Hand, sides: list[Fraction], unit: str) -> str:
    """A size before its vessel: 9-by-13-inch, 20 cm, 900g, 3-quart."""
    words, shorts = UNITS[unit].split()[0], UNITS[unit].split()[2:]
    if unit in {"inch", "quart", "cup", "pint", "ounce", "pound"}:
        end = f"-{words}" if hand.short < 0 or not shorts else hand.draw.choice([f"-{words}", f" {shorts[1][:3].strip('/')}"])
        if unit == "inch" and hand.short == 0:
            end = hand.draw.choice(["-inch", "-in.", '"', "″"])
        elif unit == "ounce":
            end = hand.draw.choice(["-ounce", "-oz", "-oz.", " oz"])
        elif unit == "pound":
            end = hand.draw.choice(["lb", " lb", "-pound"])
        elif unit == "quart":
            end = hand.draw.choice(["-quart", "-quart", "-qt", "-qt."])
    else:
        short = {"litre": "-litre", "centimetre": "cm", "gram": "g", "millilitre": "ml"}[unit]
        if unit == "litre" and hand.locale in {"US"}:
            short = "-liter"
        end = short if short[0] == "-" else hand.draw.choice([" ", "", "-"]) + short
    joint = hand.draw.choice(["-by-", " x ", "x", " × ", "×", " by "])
    inner = replace(hand, fraction=hand.fraction if hand.fraction in {"vulgar", "slashed"} else "vulgar")
    below = hand.spelt_counts if len(sides) == 1 and end.startswith("-") and unit != "ounce" else 0
    if joint == "-by-" and end[:1] not in "-":
        joint = " x "
    return joint.join(figure(inner, side, below=below) for side in sides) + end


def wells(hand: Hand) -> Phrase:
    number = Fraction(hand.draw.choice([6, 12, 12, 24]))
    if hand.locale in {"US", "CA"}:
        return Phrase(f"{number}-cup", (entry("vessel", (number,) * 2, "cup"),))
    return Phrase(f"{number}-hole", (entry("vessel", (number,) * 2),))


# ---- counts, shares, names


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


def bare(hand: Hand, least: str, most: str, purpose: str = "-", step: str = "5", kind: str = "unread") -> Phrase:
    """A figure without unit or scale; with a `kind`, a figure of that kind."""
    value = Fraction(int(step) * hand.draw.randint(-(-int(least) // int(step)), int(most) // int(step)))
    return Phrase(figure(hand, value).replace(",", ""), (entry(kind, (value, value), purpose=purpose.strip("-")),))


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
        entries = tuple(entry(kind, value, unit, same=place > 0) for place, (value, unit) in enumerate(values))
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
ROUNDS = ["9 inch = 23 centimetre", "8 inch = 20 centimetre", "10 inch", "6 inch = 15 centimetre", "12 inch", "11 inch"]
METRIC_ROUNDS = ["20 centimetre", "23 centimetre = 9 inch", "18 centimetre", "25 centimetre", "20 centimetre = 8 inch"]

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
SLOTS |= {name: lambda hand, name=name: words(hand, name) for name in PAN_WORDS | FREE_WORDS}

BEFORE = {
    "about": "about around roughly approximately approx. ~".split(),
    "least": ["at least", "a minimum of", "no less than"],
    "most": ["up to", "no more than", "at most"],
    "scant": ["a scant", "scant"],
    "heaping": ["a heaping", "a generous", "a rounded", "a heaped", "heaped"],
}
AFTER = {
    "least": [" or above", " or higher", " or more"],
    "most": [" or below", " or colder", " or lower"],
    "more": [" or more", " or longer"],
    "about": [" or so"],
}
BOUNDS = {"about": "about", "least": "at least", "most": "at most", "scant": "scant", "heaping": "heaping", "more": "at least"}
ONE_SIDED = {"least", "most", "=least", "=most", "+least", "+most", "+more"}  # of one figure, never a range


def bounded(hand: Hand, phrase: Phrase, bound: str) -> Phrase:
    """`phrase` with a bound: `about` says it before, `+most` after, `=most` leaves the word to the template."""
    key = bound.lstrip("=+")
    if key == "maybe":
        return bounded(hand, phrase, "about") if hand.draw.random() < 0.25 else phrase
    entries = tuple(replace(each, bound=BOUNDS[key]) for each in phrase.entries)
    if bound[0] == "=":
        return Phrase(phrase.text, entries)
    if bound[0] == "+":
        return Phrase(phrase.text + hand.draw.choice(AFTER[key]), entries)
    word = hand.draw.choice(BEFORE[key])
    text = phrase.text
    if word.startswith("a ") and key in {"scant", "heaping"}:
        text = re.sub(r"^(1|one)\s*", "", text)
    if word == "~" and not text[0].isdigit():
        word = "about"
    return Phrase(word + ("" if word == "~" else " ") + text, entries)


def between(hand: Hand, write: Callable[..., Phrase], arguments: list[str]) -> Phrase:
    """A range whose ends are joined by "and", for a template that says "between"."""
    hand = replace(hand, dash=" and ")
    while True:
        phrase = write(hand, *arguments)
        if phrase.entries[0].low != phrase.entries[0].high and " and " in phrase.text:
            return phrase


def fill(hand: Hand, template: str) -> Phrase:
    """The template's slots drawn and written in one hand, from left to right."""
    text, end = "", 0
    entries: tuple[Entry, ...] = ()
    for slot in SLOT.finditer(template):
        text += template[end : slot.start()]
        end = slot.end()
        inner = replace(hand, inside=text.count("(") > text.count(")"))
        write, arguments = SLOTS[slot["name"]], slot["arguments"].split()
        if slot["bound"] == "and":
            phrase = between(inner, write, arguments)
        else:
            phrase = write(inner, *arguments)
        while slot["bound"] in ONE_SIDED and any(each.low != each.high for each in phrase.entries):
            phrase = write(inner, *arguments)
        if slot["bound"] and slot["bound"] != "and":
            phrase = bounded(inner, phrase, slot["bound"])
        text += phrase.text
        entries = (*entries, *phrase.entries)
    return Phrase(tidied(text + template[end:]), entries)


def tidied(text: str) -> str:
    """Articles that fit, a capital first, one point where an abbreviation ends the sentence."""
    text = re.sub(r"\b([aA])\(n\) (?=8|1[18](?!\d)|[aei]|o(?!ne)|hour)", r"\1n ", text)
    text = re.sub(r"\b([aA])\(n\) ", r"\1 ", text)
    text = re.sub(r"(?<=[A-Za-z])\.\.(?!\.)", ".", text)
    return text[0].upper() + text[1:]


def read_templates(path: Path = TEMPLATES) -> dict[tuple[str, str], list[str]]:
    """Templates by (field, kind): a line "# field: kind" heads those that follow it."""
    templates: dict[tuple[str, str], list[str]] = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("# "):
            field, _, kind = line[2:].partition(": ")
            templates[field, kind] = []
        elif line:
            templates[field, kind].append(line)
    return templates


def draw_one(draw: Random, field: str, kinds: list[str], templates: list[str]) -> Drawn | None:
    """One text of the templates, in the hand of a writer from a country they all allow, if there is one."""
    locales = set("US UK AU IN CA".split())
    sentences = []
    for template in templates:
        allowed, _, sentence = template[1:].partition("] ") if template[0] == "[" else ("", "", template)
        locales &= set(allowed.split()) or locales
        sentences.append(sentence if len(templates) == 1 or sentence.endswith(".") else f"{sentence}.")
    if not locales:
        return None
    hand = draw_hand(draw, draw.choice(sorted(locales)))
    phrases = [fill(hand, sentence) for sentence in sentences]
    text = " ".join(phrase.text for phrase in phrases)
    if draw.random() < 0.1 and re.search(r"[a-z]{4}\.$", text):
        text = text[:-1]
    entries = tuple(each for phrase in phrases for each in phrase.entries)
    return Drawn(text=text, field=field, kind=" + ".join(kinds), entries=entries)


def draw_sentences(seed: int, number: int) -> list[Drawn]:
    """`number` texts, every construction as likely as another; a fifth of the steps are of two or three sentences."""
    draw = Random(seed)
    templates = read_templates()
    steps = [key for key in templates if key[0] == "step"]
    drawn: list[Drawn] = []
    while len(drawn) < number:
        keys = [draw.choice(list(templates))]
        if keys[0][0] == "step" and draw.random() < 0.2:
            keys += draw.sample(steps, draw.choice([1, 2]))
        sentences = [draw.choice(templates[key]) for key in keys]
        one = draw_one(draw, keys[0][0], [kind for _, kind in keys], sentences)
        if one is not None:
            drawn.append(one)
    return drawn
