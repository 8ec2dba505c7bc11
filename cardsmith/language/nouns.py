"""Which nouns a bare number counts: two leeks, a leg of lamb; never 200 flour.

>>> from cardsmith.measure.larder import load_larder
>>> larder = load_larder()
>>> [countable(noun, Fraction(2), larder) for noun in ("leeks", "sea bass", "red onion", "bowls")]
[True, True, True, True]
>>> [countable(noun, Fraction(2), larder) for noun in ("sugar", "olive oil", "butter", "oats")]
[False, False, False, False]
>>> countable("whole cloves", Fraction(6), larder), countable("lentils", Fraction(150), larder)
(True, False)
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

from cardsmith.measure.larder import IRREGULAR, Food, Larder, words
from cardsmith.measure.units import Dimension, units
from cardsmith.reference import table
from cardsmith.regex import regex

MANY = 30  # more than that of something unknown, or as small as raisins, nobody counts
FEW = 12  # of what is mostly weighed or poured
MOST = 60  # of what the larder weighs by the piece; "75 prunes" are grams
# First words that are counted whatever follows: "1 recipe pie dough", "2 batches caramel".
_PORTIONS = frozenset((word,) for word in ("recipe", "batch", "quantity", "portion", "serving"))
_ONES = frozenset({"one", "small", "medium", "large", "extra-large", "jumbo", "head", "ear"})
_POURED = frozenset({"liquid", "paste", "powder"})
_OF = regex(r"\s+(?:of|with|in|for|on|from|per)\s+", re.IGNORECASE)
_WORD = regex(r"[^\W\d_]+(?:['’][^\W\d_]+)*")


@cache
def _table() -> dict[str, str]:
    return {row["noun"]: row["counted"] for row in table("counted_nouns")}


@cache
def _pieces() -> frozenset[str]:
    """Nouns that units.csv counts: a clove, a loaf, a piece."""
    counted = (unit for unit in units().values() if unit.dimension is Dimension.COUNT)
    return frozenset(word for unit in counted for word in words(unit.name)[-1:])


def is_counted(word: str) -> bool:
    """Whether a word is counted as it stands, without an English plural: "30 biscotti"."""
    return _table().get(word) == "plural"


def countable(noun: str, number: Fraction, larder: Larder) -> bool:
    """Whether ``number`` counts what ``noun`` names, with any words before it; else it lacks a unit.

    What is poured, or weighed by the grain, is never counted; what the larder weighs by the piece is. For the
    rest English decides: a plural, or one of a singular, and not too many.
    """
    first = _OF.split(noun.strip(), maxsplit=1)[0]
    match = larder.find(noun) or larder.find(first)
    spelled = _WORD.findall(first)
    if not spelled:
        return False
    last = words(spelled[-1])[-1:]
    singular = last[0] if last else spelled[-1].lower()
    kind = _table().get(singular, "")
    if not kind and singular in _pieces():
        kind = "yes"
    plural = is_plural(spelled[-1])
    fits = plural or number <= 1
    if words(spelled[0])[-1:] in _PORTIONS:
        return number <= MANY
    if match is not None:
        return _of_food(match.food, kind, number, fits=fits, plural=plural)
    if kind == "no":
        return plural and number <= FEW  # two milk puddings
    if kind in {"yes", "plural"}:
        return number <= MOST
    return fits and number <= MANY


def _of_food(food: Food, kind: str, number: Fraction, *, fits: bool, plural: bool) -> bool:
    if food.state in _POURED:
        return kind == "yes" and fits and number <= MANY  # cloves, a nutmeg: names that ground ones share
    if food.aisle == "meat" and not fits and kind != "plural":
        return False  # "3 boneless lamb shoulder" lacks its pounds
    if any(measure.measure in _ONES for measure in food.measures):
        return number <= MOST
    if kind == "no":
        return plural and food.us_print == "count" and number <= FEW  # two Yorkshire puddings
    if kind in {"yes", "plural"}:
        return number <= MOST
    if food.state == "granule" or kind == "few":
        return plural and number <= MANY
    return fits and number <= MOST


def is_plural(word: str) -> bool:
    """Whether an English word looks like a plural."""
    low = word.lower().replace("’", "'")
    if low in IRREGULAR or low in {"feet", "geese", "teeth", "oxen", "mice"}:
        return True
    return len(low) > 2 and low.endswith("s") and not low.endswith(("ss", "us", "'s"))
