"""A measure for one of another: ``per pound``, ``to the kilo``; what a measure holds: ``a cup is 240 ml``.

    rate       = ("per" | time "/" | ["for"] ("every" | "each") | time "to the" | measure "a") unit
                 ["and a half"] [noun] | ("every" | "each") length
    alone      = "inch" "-" ("thick" | "long" | …) | "inch" noun, no number before it
    definition = measure … ("is" | "holds" | "=") amount { … amount measure }

>>> from cardsmith.language.prose.sentences import readings
>>> def read(text):
...     return [f"{one.kind}: {one.text}" for one in readings(text)]
>>> read("Roast 25 minutes to the kilo."), read("Prick it every inch and a half.")
(['duration: 25 minutes', 'amount: the kilo'], ['length: inch and a half'])
>>> read("Wrap each in foil."), read("Score it at every inch.")
([], ['length: inch'])
>>> read("Cut inch-thick slices or an inch piece."), read("Trim to half an inch of fat.")
(['length: inch', 'length: inch'], ['length: half an inch'])
>>> read("A US cup here is 240 ml, yours may be a 250 ml cup.")
['name: 240 ml', 'name: 250 ml']
"""

from __future__ import annotations

from fractions import Fraction

from cardsmith.language.figures.amounts import Amount
from cardsmith.language.figures.numbers import ARTICLES, Form, number_at
from cardsmith.language.figures.terms import and_a_part
from cardsmith.language.figures.unit_words import UnitFound, unit_at
from cardsmith.language.noun_phrases import phrase_at, vessel_at
from cardsmith.language.tokens import DASHES, SLASHES, Tokens
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import WEIGHED, Dimension, System

_RATED = WEIGHED | {Dimension.LENGTH}
_DEFINING = frozenset({"is", "are", "holds", "hold", "=", "means"})
_BEFORE_VERB = 3  # tokens: "a US cup here is 240 ml"
_FARTHEST = 20  # tokens; so that time grows with the length of a text


def rate_at(tokens: Tokens, at: int, measures: System) -> Amount | None:
    """``per pound of meat``, ``for every inch of thickness``: one of a unit, whose number goes unsaid."""
    counted = tokens[at].low in {"every", "each"}
    to_the = tokens.words(at, "to", "the") and unit_at(tokens, at - 1) is not None  # 25 minutes to the kilo
    slash = tokens[at].text in SLASHES and tokens[at].glued and _is_time(tokens, at - 1)  # 15 min/lb
    a_unit = tokens[at].low in ARTICLES and _is_measured(tokens, at - 1)  # 20 minutes a pound
    said = (
        tokens[at].low == "per"
        or to_the
        or slash
        or a_unit
        or (counted and tokens[at - 1].low in {"for", "to"})
    )
    unit_found = unit_at(tokens, at + 1 + to_the, measures)
    part = and_a_part(tokens, unit_found.end) if unit_found else None
    if unit_found is None or not (said or (counted and (part or _is_spelled_length(tokens, unit_found)))):
        return None
    if unit_found.unit.dimension not in _RATED or unit_found.unit.system is System.VAGUE:
        return None
    if vessel_at(tokens, unit_found.end) is not None:
        return None  # "to each quart jar"
    number, end = (1 + part[0], part[1]) if part else (Fraction(1), unit_found.end)
    first = unit_found.first - (to_the or a_unit)
    size = unit_found.unit.to_base(number)
    quantity = Quantity(
        low=size, high=size, unit=unit_found.unit, written=tokens.between(first + a_unit, end)
    )
    return Amount(quantity, first, end, unit_found.first, dotted=unit_found.dotted and not part)


def unit_alone_at(tokens: Tokens, at: int) -> Amount | None:
    """One inch that is a word for a size: ``inch-thick slices``, ``an inch piece``."""
    unit_found = unit_at(tokens, at) if tokens[at].low == "inch" else None
    before = number_at(tokens, at - 1 - (tokens[at - 1].text in DASHES))
    if unit_found is None or (before is not None and before.form is not Form.ARTICLE):
        return None
    joined = tokens[at + 1].text in DASHES and tokens[at + 2].glued
    if not (tokens[at + 2].low.isalpha() if joined else phrase_at(tokens, at + 1).words):
        return None
    quantity = Quantity(
        low=unit_found.unit.size, high=unit_found.unit.size, unit=unit_found.unit, written=tokens[at].text
    )
    return Amount(quantity, at, unit_found.end, at, joined=True)


def _is_spelled_length(tokens: Tokens, unit_found: UnitFound) -> bool:
    """``every inch``; but "wrap each in foil"."""
    spelled = tokens[unit_found.first].text
    return unit_found.unit.dimension is Dimension.LENGTH and spelled.isalpha() and len(spelled) > len("in")


def _is_time(tokens: Tokens, at: int) -> bool:
    unit_found = unit_at(tokens, at - (tokens[at].text == "."))
    return unit_found is not None and unit_found.unit.dimension is Dimension.DURATION


def _is_measured(tokens: Tokens, at: int) -> bool:
    """Whether a unit with a number before it ends at token ``at``."""
    dotted = tokens[at].text == "."
    unit_found = unit_at(tokens, at - dotted)
    counted = unit_found is not None and number_at(tokens, unit_found.first - 1) is not None
    return counted and unit_found is not None and unit_found.end == at + 1


def is_definition(tokens: Tokens, amount: Amount) -> bool:
    """Whether an amount says what a measure holds, or names the other one: "if you use a 250 ml cup"."""
    named = tokens[amount.first - 1].low in _DEFINING or _is_measure(tokens, unit_at(tokens, amount.end))
    for verb in range(amount.first - 1, max(amount.first - _FARTHEST, 0), -1):
        if tokens.is_stop(verb) and tokens[verb].text != ";":
            return False
        subject = (unit_at(tokens, at) for at in range(verb - _BEFORE_VERB, verb))
        defined = tokens[verb].low in _DEFINING and any(_is_measure(tokens, unit) for unit in subject)
        if named and defined:
            return True
    return False


def _is_measure(tokens: Tokens, unit_found: UnitFound | None) -> bool:
    """Whether a word is a measure that holds something, and no part of a vessel's name: "a pint jar"."""
    volume = unit_found is not None and unit_found.unit.dimension is Dimension.VOLUME
    return volume and unit_found is not None and vessel_at(tokens, unit_found.end) is None
