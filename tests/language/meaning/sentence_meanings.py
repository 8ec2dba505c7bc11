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
from pathlib import Path
from random import Random

from tests.language.meaning.sentence_pen import Entry, Hand, Phrase, draw_hand
from tests.language.meaning.sentence_slots import SLOTS

TEMPLATES = Path(__file__).with_name("sentence_templates.txt")
SLOT = re.compile(r"\{(?:(?P<bound>[=+a-z]+):)?(?P<name>[a-z_]+)(?P<arguments>(?: [^ }]+)*)\}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A text with its entries in the order of the text; `kind` names the construction."""

    text: str
    field: str
    kind: str
    entries: tuple[Entry, ...]


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
BOUNDS = {
    "about": "about",
    "least": "at least",
    "most": "at most",
    "scant": "scant",
    "heaping": "heaping",
    "more": "at least",
}
ONE_SIDED = {"least", "most", "=least", "=most", "+least", "+most", "+more"}  # of one figure, never a range


def bounded(hand: Hand, phrase: Phrase, bound: str) -> Phrase:
    """`phrase` with a bound: `about` says it before, `+most` after; for `=most` the template has the word."""
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
        phrase = between(inner, write, arguments) if slot["bound"] == "and" else write(inner, *arguments)
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
    """`number` texts, each construction as likely as another; a fifth of the steps have two or three."""
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
