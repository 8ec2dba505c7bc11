"""The pans and pots of the list, for a batch of another size: 4 of the half-sheet pans.

What food is shaped or parted in is taken so often; what it is cooked loose in needs so much more room.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from cardsmith.house.style import House
from cardsmith.language.declension import declined, many, one
from cardsmith.language.spans import Kind, Span, Told
from cardsmith.language.word_classes import vessel_words
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.recipe.model import Recipe
from cardsmith.regex import regex
from cardsmith.rewrite.card.model import plain
from cardsmith.rewrite.card.prose import rewrite_spans
from cardsmith.rewrite.wording import fraction_text
from cardsmith.words import Said

# One of these holds a larger batch where it is larger itself (common practice, no source).
LOOSE = frozenset(
    "pot pots saucepan saucepans stockpot skillet skillets wok kettle casserole bowl bowls basin roaster "
    "cooker crock jug tub bucket frypan oven roasting frying".split()
)
FLAT = frozenset("sheet sheets tray trays".split())  # half as much lies on one as well
PLATES = frozenset("plate plates".split())  # of a pie; elsewhere what one eats from
ROOM = {Fraction(1, 2): "half the room of the {things}", Fraction(2): "twice the room of the {things}"}
_WORD = regex(r"[a-z]+")


def vessels_needed(recipe: Recipe, factor: Fraction, house: House) -> tuple[Said, ...]:
    """What a batch of ``factor`` times the size takes of each vessel in the list, in words."""
    return tuple(_needed(recipe, factor, house))


def _needed(recipe: Recipe, factor: Fraction, house: House) -> Iterator[Said]:
    vessels = vessel_words(recipe.tables) | PLATES
    for item in recipe.equipment:
        item_words = _WORD.findall(item.text.lower())
        noun = next((word for word in reversed(item_words) if word in vessels), "")
        loose = bool(LOOSE & {word for word, behind in pairwise((*item_words, "")) if behind not in FLAT})
        if not noun or (loose and factor < 1):
            continue  # a pot has room for less
        count, spans = _counted(spans_of(recipe, item.text, item.where))
        number = count * factor
        if number.denominator == 1 and not loose:
            spans = declined(spans, noun, many(noun) if number > 1 else one(noun))
            phrase = "{count} of the {things}" if number > 1 else "{count} {things}"
            yield Said(phrase, count=number, things=_named(spans, house))
        elif factor > 1 or not FLAT & set(item_words):
            room = ROOM.get(factor, "{size} times the room of the {things}")
            yield Said(room, size=fraction_text(factor), things=_named(spans, house))


def _counted(spans: tuple[Span, ...]) -> tuple[Fraction, tuple[Span, ...]]:
    """How many there are, and what they are: two · half-sheet pans."""
    match spans:
        case (Told(kind=Kind.COUNT, low=low), *others) if low.denominator == 1:
            return low, tuple(others)
        case _:
            return Fraction(1), spans


def _named(spans: tuple[Span, ...], house: House) -> str:
    return plain(rewrite_spans(spans, {}, house)).strip()
