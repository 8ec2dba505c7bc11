"""What 100 g of a food holds, by USDA SR 28; what the table does not know stays unknown."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache, lru_cache

from cardsmith.frozen import frozen
from cardsmith.measure.larder import Food
from cardsmith.measure.patterns import cell
from cardsmith.reference import row_of, table

# The label's names (21 CFR 101.9(c)) and the columns of SR 28 that hold them per 100 g.
COLUMNS = {
    "water": "water_g",
    "calories": "energy_kcal",
    "total fat": "fat_g",
    "saturated fat": "saturated_fat_g",
    "cholesterol": "cholesterol_mg",
    "sodium": "sodium_mg",
    "total carbohydrate": "carbohydrate_g",
    "dietary fiber": "fibre_g",
    "total sugars": "sugars_g",
    "protein": "protein_g",
    "ash": "ash_g",
    "vitamin D": "vitamin_d_ug",
    "calcium": "calcium_mg",
    "iron": "iron_mg",
    "potassium": "potassium_mg",
}


@frozen
class Composition:
    """One food of SR 28, or of the house's own table; ``per_100`` holds only what the table gives."""

    description: str
    ndb_no: str
    own_source: str = ""  # who says so, where it is the house's own
    per_100: Mapping[str, Fraction]


def composition(food: Food | None) -> Composition | None:
    """What the house or SR 28 knows of a food of the larder; None where neither has a row of it."""
    if food is None:
        return None
    own = next(iter(food.own.get("composition", ())), None)
    return (
        _composition({**own, "description": food.name, "ndb_no": ""}) if own else composition_of(food.ndb_no)
    )


@cache
def composition_of(ndb_no: str) -> Composition | None:
    """The row of a number; None where there is none."""
    row = row_of("usda_sr28/foods", ndb_no) if ndb_no else None
    return _composition(row) if row else None


def _composition(row: Mapping[str, str]) -> Composition:
    return Composition(
        description=row["description"],
        ndb_no=row["ndb_no"],
        own_source=row.get("source", ""),
        per_100={name: Fraction(row[column]) for name, column in COLUMNS.items() if row[column]},
    )


@frozen
class KnownNutrients:
    """What SR 28 knows of one food; ``stands_in`` says why, where another food stands for it."""

    composition: Composition
    stands_in: str = ""


@cache
def _stand_ins() -> Mapping[str, tuple[str, str]]:
    return {row["food"]: (row["ndb_no"], row["why"]) for row in table("composition_stand_ins")}


@lru_cache(maxsize=4096)
def held(food: Food | None) -> KnownNutrients | None:
    """What SR 28 knows of a food, by its number in the larder, else by foods that stand for it."""
    if food is None:
        return None
    if (own := composition(food)) is not None:
        return KnownNutrients(composition=own)
    parts, why = _stand_ins().get(food.key, ("", ""))
    other = _mixed(parts) if parts else None
    return KnownNutrients(composition=other, stands_in=why) if other else None


def _mixed(parts: str) -> Composition | None:
    """One food by its number, or several with their shares: ``01053 0.74|01145 0.26``."""
    shares = [(composition_of(number), Fraction(share or 1)) for number, _, share in _cells(parts)]
    known = [(composition, share) for composition, share in shares if composition is not None]
    if len(known) < len(shares):
        return None
    (first, _), *others = known
    if not others:
        return first
    return Composition(
        description=" and ".join(composition.description for composition, _ in known),
        ndb_no="",
        own_source="",
        per_100={
            name: sum((composition.per_100[name] * share for composition, share in known), Fraction(0))
            for name in first.per_100
            if all(name in composition.per_100 for composition, _ in known)
        },
    )


def _cells(parts: str) -> Iterator[tuple[str, str, str]]:
    return (entry.partition(" ") for entry in cell(parts))
