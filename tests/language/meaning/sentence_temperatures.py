"""Slots for settings, points and changes of temperature."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from tests.language.meaning.sentence_pen import (
    Entry,
    Hand,
    Phrase,
    Values,
    beside,
    entry,
    figure,
    span,
    spelt,
)

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
    sign = (
        sign.replace("⁑", mark).replace("S", letter).replace("N", scale.title()).replace("¤", letter.lower())
    )
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
    return Fraction(
        5 * round(exact / 5) if change and value > 8 else max(1, round(exact)) if change else round(exact)
    )


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
    forms = (
        ["{}/{}", "{}_/_{}", "{},_or_{}"]
        if hand.inside
        else ["{}_({})"] * 5 + ["{}/{}", "{}_/_{}", "{}_or_{}"]
    )
    return oven_again(hand, hand.draw.choice(forms).format(first, second))


def oven_fan(hand: Hand) -> Phrase:
    uk = ["C_(v_@)", "C_(@_v)", "C/v_@", "C/v_@/G", "C_(v_@,_G)", "C/@_v/G", "C,_v_@,_G", "v_@/C/G",
          "C/@_v/F/G", "C_(@_v)_G"]  # fmt: skip
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
    return Phrase(
        degrees(hand, "celsius", (low, high)), (entry("temperature", (low, high), "celsius", "refrigerator"),)
    )


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
