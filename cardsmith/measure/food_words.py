"""The words of a food's name: one spelling for each, those that only describe, and the form they name."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import cache, lru_cache

from cardsmith.reference import table
from cardsmith.regex import regex

_WORD = regex(r"[a-z0-9%]+(?:'[a-z]+)?")
IRREGULAR = {
    "leaves": "leaf",
    "halves": "half",
    "loaves": "loaf",
    "calves": "calf",
    "feet": "foot",
    "sloes": "sloe",
}
_SPELLED = {"yoghurt": "yogurt", "chilli": "chili", "chilly": "chili", "chily": "chili", "tinned": "canned"}


@lru_cache(maxsize=1 << 16)
def words(text: str) -> tuple[str, ...]:
    """``text`` as comparable words: lower case, no accents, hyphens apart, each in the singular."""
    plain = text.lower()
    if not plain.isascii():
        plain = unicodedata.normalize("NFKD", plain.replace("œ", "oe"))
        plain = "".join(letter for letter in plain if not unicodedata.combining(letter)).replace("’", "'")
    return tuple(map(_singular, _WORD.findall(plain)))


@lru_cache(maxsize=1 << 14)
def _singular(word: str) -> str:
    """One spelling for singular and plural; it need not be English, only the same for both."""
    singular = _one_of(word)
    return _SPELLED.get(singular, singular)


def _one_of(word: str) -> str:
    if not word.endswith(("s", "'")):
        return IRREGULAR.get(word, word)
    word = word.removesuffix("'s").removesuffix("'")
    if word in IRREGULAR:
        return IRREGULAR[word]
    for ending, singular in (("ies", "y"), ("oes", "o"), ("ches", "ch"), ("shes", "sh"), ("xes", "x")):
        if word.endswith(ending) and len(word) > len(ending) + 1:
            return word.removesuffix(ending) + singular
    keeps_its_s = word.endswith(("ss", "us")) or len(word) < 4
    return word if keeps_its_s else word.removesuffix("s")


@cache
def describing() -> dict[str, str]:
    """Words that describe without renaming a food, with the form they name: chopped, ripe, finely."""
    return {_singular(row["word"]): row["form"] for row in table("descriptors") if row["word"].isalpha()}


def form_of(word: str) -> str:
    """The larder's form that a describing word names: diced for "cubed"; empty for none."""
    return describing().get(_singular(word), "")


@lru_cache(maxsize=1 << 14)
def form_of_words(text: str) -> str:
    """The larder's form that a description names: minced for "finely minced", loose for "loosely packed".

    Of several the one that governs how a cup fills, by the order of ``larder_forms.csv``: packed before
    minced, minced before leaves. Empty where no form is named.
    """
    return form_named(words(text))


def form_named(phrase: tuple[str, ...]) -> str:
    """The form that single words name, as `words` spells them."""
    pairs, forms = _form_pairs(), []
    place = 0
    while place < len(phrase):
        pair = pairs.get(phrase[place : place + 2], "")
        forms.append(pair or describing().get(phrase[place], ""))
        place += 2 if pair else 1
    return min(filter(None, forms), key=_ranks().__getitem__, default="")


def by_weight(text: str) -> str:
    """``text`` without how a cup is filled, which says nothing of a weight.

    >>> by_weight("firmly packed light brown sugar"), by_weight("basil leaves, lightly packed, chopped")
    ('light brown sugar', 'basil leaves, chopped')
    >>> by_weight("tuna packed in oil"), by_weight("loose tea")
    ('tuna packed in oil', 'loose tea')
    >>> by_weight("spooned and leveled, sifted")
    'sifted'
    """
    kept = [piece for piece in text.split(", ") if not _fills().fullmatch(piece)]
    rest = ", ".join(kept)
    filled = _fills().match(rest)
    return rest[filled.end() :] if filled else rest


@cache
def _fills() -> re.Pattern[str]:
    """How a cup is filled, where a text begins with it: packed, lightly packed, spooned."""
    ways = {row["form"] for row in table("larder_forms") if row["act"] == "fill"}
    filling = (row["word"].split()[-1] for row in table("descriptors") if row["form"] in ways)
    filled = "|".join(sorted({word for word in filling if word.endswith("ed")}))
    return regex(
        rf"(?:(?:\w+ly|well|not) )?(?:{filled})(?: and \w+ed)?(?: +(?!in\b|into\b|with\b)|$)", re.IGNORECASE
    )


@cache
def _ranks() -> dict[str, int]:
    return {row["form"]: rank for rank, row in enumerate(table("larder_forms"))}


@cache
def _form_pairs() -> dict[tuple[str, ...], str]:
    """Forms that two words name together, and neither alone: loosely packed is not packed."""
    named = ((words(row["word"]), row["form"]) for row in table("descriptors") if row["form"])
    return {phrase: form for phrase, form in named if len(phrase) > 1}


def plainer(text: str) -> Iterator[str]:
    """``text``, then without what a phrase in it describes, then without all that stands behind the name.

    Several words may describe where none of them does alone: a free-range egg is not free of egg. Behind the
    name stands where it comes from (from a jar, d'Isigny), what it was bought on (on the bone), its strength.
    """
    yield text
    plain = _phrases().sub(" ", text)
    if plain != text:
        yield plain
    shorter = _BEHIND.sub("", plain)
    if shorter != plain:
        yield shorter


@cache
def _phrases() -> re.Pattern[str]:
    phrases = (row["word"] for row in table("descriptors") if not row["word"].isalpha())
    joined = "|".join(re.sub(r"[- ]", "[- ]", phrase) for phrase in sorted(phrases, key=len, reverse=True))
    return regex(rf"\b(?:{joined})\b", re.IGNORECASE)


_BEHIND = regex(
    r"(?i)\s(?:from an? \w+|on (?:the|its|their) \w+|for (?:the |your )?\w+(?:[ -]\w+)?"
    r"|(?:of|with|at) \S+(?: \S+){0,2} (?:acidity|acid|strength|nitrite|fat|cocoa)|(?:of|with) no [\w ]+"
    r"|made with(?:out)? [\w ]+|without [\w ]+|(?:d['’]|(?:d[eiu]|della?) )\w+)$"
)
