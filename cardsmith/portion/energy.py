"""Energy from what a food is made of: to check the energy a table gives, and for the EU's declaration."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from cardsmith.frozen import frozen
from cardsmith.portion.estimate import Estimate, total
from cardsmith.reference import table

# kcal that come with a gram of what has no column: between acetic acid's 3.5 and alcohol's 6.93 (Merrill and
# Watt, Energy Value of Foods, USDA Agriculture Handbook 74; memory), and between nothing and acid.
_ALCOHOL, _ACID = Fraction(26, 5), Fraction(2)
_NO_MORE = Fraction(1, 100)  # of the energy: what rounded figures leave (common practice, no source)
_SEEN = Fraction(1, 2)  # g in 100 g: what is left over below this is rounding


@frozen
class EnergyFactor:
    """Energy of one gram; ``kilojoules`` is None where the rule gives none."""

    kcal: Fraction
    kilojoules: Fraction | None


@cache
def factors(system: str) -> Mapping[str, EnergyFactor]:
    """The factors of ``US`` or ``EU`` by component."""
    return {
        row["component"]: EnergyFactor(
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
    """Energy of one food by Annex XIV of Regulation (EU) 1169/2011, in kJ or kcal.

    ``total carbohydrate`` holds the fibre, which has a factor of its own; where nobody knows how much of it
    is fibre, all of it or none may be.
    """
    each = {
        part: (factor.kilojoules or Fraction(0)) if kilojoules else factor.kcal
        for part, factor in factors("EU").items()
    }
    parts = {"protein": "protein", "fat": "total fat", "alcohol": "alcohol", "organic acids": "organic acids"}
    carbohydrate, fibre = holds["total carbohydrate"], holds["dietary fiber"]
    whole = carbohydrate.times(each["carbohydrate"])
    less = each["carbohydrate"] - each["fibre"]
    of_fibre = carbohydrate.low if fibre.high is None else min(fibre.high, carbohydrate.low)
    digested = Estimate(
        low=whole.low - less * of_fibre,
        likely=whole.likely - less * min(fibre.likely, carbohydrate.likely),
        high=None if whole.high is None else whole.high - less * min(fibre.low, carbohydrate.likely),
    )
    return total([digested, *(holds[nutrient].times(each[part]) for part, nutrient in parts.items())])


@frozen
class Unlisted:
    """What SR 28 counts in a food's energy without a column of its own, in g per 100 g."""

    alcohol: Fraction
    acids: Fraction


def unlisted(per_100: Mapping[str, Fraction]) -> Unlisted | None:
    """The alcohol and acetic acid of a food of SR 28; None where its row leaves them open.

    SR 28 has carbohydrate by difference, so what water, protein, fat, carbohydrate and ash leave of 100 g is
    alcohol or, in vinegar, acetic acid ("Total proximates do not equal 100 %", SR 22, FOOTNOTE). The energy
    tells which: 6.93 kcal come with a gram of alcohol, some 3.5 with one of acid, and none with the carbon
    dioxide of baking soda or the piperine of pepper. Where figures leave out the ash, as a maker's do, there
    is neither if the energy is no more than that of protein, fat and carbohydrate.
    """
    fuels = ("protein", "total carbohydrate", "total fat")
    if any(part not in per_100 for part in (*fuels, "calories")):
        return None
    by = factors("US")
    others = sum((per_100[part] * by[part.removeprefix("total ")].kcal for part in fuels), start=Fraction(0))
    more = per_100["calories"] - others
    if not {"water", "ash"} <= per_100.keys():
        is_none = more <= _NO_MORE * per_100["calories"]
        return Unlisted(alcohol=Fraction(0), acids=Fraction(0)) if is_none else None
    left = 100 - sum((per_100[part] for part in (*fuels, "water", "ash")), start=Fraction(0))
    if left < _SEEN:
        return Unlisted(alcohol=Fraction(0), acids=Fraction(0))
    each = more / left
    return Unlisted(
        alcohol=left if each > _ALCOHOL else Fraction(0),
        acids=left if _ACID < each <= _ALCOHOL else Fraction(0),
    )
