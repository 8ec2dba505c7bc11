"""The larder: what an ingredient is called, what a cup of it weighs, and what it does in a formula."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseholdMeasure:
    """What ``amount`` of a measure weighs, in grams; low and high where a source gives both."""

    form: str
    measure: str
    amount: Fraction
    grams: Fraction
    grams_low: Fraction | None
    grams_high: Fraction | None
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Food:
    """One ingredient of the larder."""

    key: str
    name: str
    uk_name: str
    aliases: tuple[str, ...]
    generic: tuple[str, ...]  # names too vague for print
    aisle: str
    state: str  # powder, granule, liquid, paste, solid, piece, leaf
    us_print: str  # volume, weight or count
    roles: Mapping[str, Fraction] = field(hash=False)  # mass share acting in each role
    ndb_no: str
    us_allergens: tuple[str, ...]
    eu_allergens: tuple[str, ...]
    origin: frozenset[str]
    measures: tuple[HouseholdMeasure, ...]
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """How a text names a food."""

    food: Food
    name: str  # the larder's name or alias that was found
    form: str  # a form of the food named in the text (chopped, sifted), else ""
    generic: bool  # whether the name is too vague for print


@dataclass(frozen=True, slots=True, kw_only=True)
class Larder:
    """Every food by its key, and the look-up by name."""

    foods: Mapping[str, Food]

    def find(self, text: str) -> Match | None:
        """The food that ``text`` names, by the longest larder name in it; None rather than a guess."""
        raise NotImplementedError

    def nearest(self, text: str) -> tuple[str, ...]:
        """Up to three larder names most like ``text``, the nearest first."""
        raise NotImplementedError
