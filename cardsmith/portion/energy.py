"""Energy from what a food is made of: to check the energy a table gives, and for the EU's declaration."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from cardsmith.portion.estimate import Estimate, total
from cardsmith.reference import table

ETHANOL = Fraction("6.93")  # kcal per g, the factor USDA SR 28 uses (Merrill and Watt, Handbook 74; memory)
_SEEN = Fraction(1, 2)  # g in 100 g: what is left over below this is rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class Factor:
    """Energy of one gram; ``kilojoules`` is None where the rule gives none."""

    kcal: Fraction
    kilojoules: Fraction | None


@cache
def factors(system: str) -> Mapping[str, Factor]:
    """The factors of ``US`` or ``EU`` by component."""
    return {
        row["component"]: Factor(
            kcal=Fraction(row["kcal"]),
            kilojoules=Fraction(row["kilojoules"]) if row["kilojoules"] else None,
        )
        for row in table("energy_factors")
        if row["system"] == system
    }


def atwater(holds: Mapping[str, Estimate]) -> Estimate:
    """kcal by the general Atwater factors, 4, 4, 9 and 7: a check on the table's own energy."""
    parts = {
        "protein": "protein",
        "carbohydrate": "total carbohydrate",
        "fat": "total fat",
        "alcohol": "alcohol",
    }
    by = factors("US")
    return total(holds[nutrient].times(by[part].kcal) for part, nutrient in parts.items())


def eu_energy(holds: Mapping[str, Estimate], *, kilojoules: bool) -> Estimate:
    """Energy by Annex XIV of Regulation (EU) 1169/2011, in kJ or kcal.

    ``EU carbohydrate`` is without fibre, which has a factor of its own.
    """
    parts = {
        "protein": "protein",
        "carbohydrate": "EU carbohydrate",
        "fat": "total fat",
        "alcohol": "alcohol",
        "fibre": "dietary fiber",
    }
    by = factors("EU")
    return total(
        holds[nutrient].times((by[part].kilojoules or Fraction(0)) if kilojoules else by[part].kcal)
        for part, nutrient in parts.items()
    )


def alcohol(per_100: Mapping[str, Fraction]) -> Fraction | None:
    """Grams of alcohol in 100 g of a food of SR 28; None where its row leaves it open.

    SR 28 gives carbohydrate by difference, so what water, protein, fat, carbohydrate and ash leave of
    100 g is alcohol, and where it is, the table's energy is higher than theirs by 6.93 kcal a gram. In
    baking soda what is left is carbon dioxide, and no energy comes of it.
    """
    parts = ("water", "protein", "total fat", "total carbohydrate", "ash")
    if any(part not in per_100 for part in (*parts, "calories")):
        return None
    left = 100 - sum((per_100[part] for part in parts), start=Fraction(0))
    if left < _SEEN:
        return Fraction(0)
    by = factors("US")
    others = (
        per_100["protein"] * by["protein"].kcal
        + per_100["total carbohydrate"] * by["carbohydrate"].kcal
        + per_100["total fat"] * by["fat"].kcal
    )
    return left if per_100["calories"] - others > left * ETHANOL / 2 else Fraction(0)
