"""Cans as an edition's market sells them: of another size, the author is asked how many."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import table

CANS = frozenset({"can", "tin"})
NEAR = Fraction(3, 100)  # as a can's label is rounder than what is in it
# Smaller and larger ones (tomato paste, a caterer's) are sold in too many sizes to tell (common practice).
ORDINARY = (Fraction(350), Fraction(900))


def unsold(line: Ingredient, key: str) -> str:
    """What cans an edition sells, where none is of a line's size; else empty."""
    box = line.container
    if box is None or box.word not in CANS or box.each is None or box.each.dimension is not Dimension.MASS:
        return ""
    grams = box.each.middle
    sold = [row for row in table("edition_cans") if row["edition"] == key]
    near = any(abs(grams / Fraction(row["grams"]) - 1) <= NEAR for row in sold)
    if near or not ORDINARY[0] <= grams <= ORDINARY[1]:
        return ""
    return "; ".join(row["said"] for row in sold)
