"""One ingredient of the larder: its names, what it weighs, and what it does in a formula."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from fractions import Fraction

from cardsmith.frozen import frozen

NONE = Fraction(0)
MAIN_SHARE = Fraction(1, 2)  # of a food that mainly acts in a role

Own = Mapping[str, tuple[Mapping[str, str], ...]]


@frozen
class HouseholdMeasure:
    """What ``amount`` of a measure weighs, in grams; low and high where a source gives both."""

    form: str
    measure: str
    amount: Fraction
    grams: Fraction
    grams_low: Fraction | None
    grams_high: Fraction | None
    source: str
    place: str = ""  # the house's file and line; empty for ours


@frozen
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
    roles: Mapping[str, Fraction]  # mass share acting in each role
    ndb_no: str
    us_allergens: tuple[str, ...]
    eu_allergens: tuple[str, ...]
    origin: frozenset[str]
    measures: tuple[HouseholdMeasure, ...]
    source: str
    place: str = ""  # the house's file and line; empty for ours
    own: Own = field(default_factory=dict)  # the house's rows on it, by the names of their tables

    def share(self, role: str) -> Fraction:
        """The mass fraction of this food acting in ``role``; 0 where it has none."""
        return self.roles.get(role, NONE)

    def is_mainly(self, *roles: str) -> bool:
        """Whether half of this food, or more, acts in one of ``roles``."""
        return any(self.share(role) >= MAIN_SHARE for role in roles)

    @property
    def sure_origin(self) -> frozenset[str]:
        """Where it comes from whatever is bought; some curry pastes have no shrimp in them."""
        allergens = {*self.us_allergens, *self.eu_allergens}
        perhaps = {name.removeprefix("?") for name in allergens if name.startswith("?")}
        return self.origin - {
            allergen for allergen, names in SHOWN_AS.items() if perhaps & names and not allergens & names
        }

    def __hash__(self) -> int:
        """By the key alone, so that what is worked out for a food is quickly found again."""
        return hash(self.key)


SHOWN_AS = {  # the allergens an origin shows as; where they depend on the maker, so does the origin
    "milk": {"milk"},
    "egg": {"egg", "eggs"},
    "fish": {"fish"},
    "shellfish": {"crustacean shellfish", "crustaceans", "molluscs"},
}
