"""Slots for amounts, times and the sizes of vessels."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from tests.language.meaning.sentence_pen import (
    UNITS,
    Entry,
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
        2: ["{h} hr {m} min.", "{h} hr. {m} min.", "{h} hour{s} {m}"],
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
    later = form.format(h=high // 60, m=high % 60, s="s" if high >= 120 else "")
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
    forms = [
        f"{figures} {half}",
        f"{figures}{half}",
        f"{figures} {half[0]}.{half[1]}.",
        f"{figures} {half.upper()}",
    ]
    if minute or hour > 12:
        forms.append(f"{hour:02}:{minute:02}")
    if not minute:
        when = "in the morning" if hour < 12 else "in the afternoon" if hour < 18 else "in the evening"
        if hour != 12:
            forms += [f"{twelve} o'clock {when}", f"{spelt(twelve)} {when}"]
    return Phrase(hand.draw.choice(forms), (Entry(kind="clock", low=value, high=value),))


# ---- vessels and lengths


def sized(kind: str, sizes: dict[str, list[str]]) -> Callable[..., Phrase]:
    """A slot for a size by country: each is "a unit = b unit", sides joined by x, the second optional."""

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
        end = (
            f"-{words}"
            if hand.short < 0 or not shorts
            else hand.draw.choice([f"-{words}", f" {shorts[1].partition('/')[0]}"])
        )
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
