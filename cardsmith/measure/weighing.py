"""From volume or count to weight and back, through the larder. Exact; what it rests on is said."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from cardsmith.measure.larder import Food, HouseholdMeasure
from cardsmith.measure.units import units

VOLUMES = ("cup", "tablespoon", "teaspoon", "millilitre", "fluid ounce", "pint", "quart")


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighing:
    """Grams per millilitre, or grams of one; ``low`` and ``high`` are what hands and lots make of it."""

    grams: Fraction
    low: Fraction
    high: Fraction
    form: str  # the larder form it was taken from
    exact_form: bool  # False where the form asked for is not in the larder and the usual one stands in
    basis: str  # "125 g per cup (USDA SR 28, food 20081, weight 1)"


def _weighing(row: HouseholdMeasure, form: str, size: Fraction) -> Weighing:
    grams = row.grams / row.amount / size
    each = f"{_plain(row.grams)} g per {'' if row.amount == 1 else f'{_plain(row.amount)} '}{row.measure}"
    return Weighing(
        grams=grams,
        low=(row.grams_low or row.grams) / row.amount / size,
        high=(row.grams_high or row.grams) / row.amount / size,
        form=row.form,
        exact_form=row.form == form or not form,
        basis=f"{each}{f', {row.form}' if row.form else ''} ({row.source})",
    )


def _plain(number: Fraction) -> str:
    return f"{float(number):.6g}"


@lru_cache(maxsize=4096)
def density(food: Food, form: str = "") -> Weighing | None:
    """Grams per millilitre of ``food`` in ``form``, else in its usual form; None where nobody weighed it."""
    rows = [row for row in food.measures if row.measure in VOLUMES]
    chosen = next((row for row in rows if row.form == form), rows[0] if rows else None)
    return _weighing(chosen, form, units()[chosen.measure].size) if chosen else None


@lru_cache(maxsize=4096)
def handling(food: Food) -> tuple[Fraction, Fraction] | None:
    """The least and the most a millilitre of ``food`` weighs as people fill a cup; None where unknown."""
    ways = [density(food, form) for form in ("", "sifted", "spooned", "scooped", "packed")]
    known = [way for way in ways if way is not None and way.exact_form]
    return (min(way.low for way in known), max(way.high for way in known)) if known else None


@lru_cache(maxsize=4096)
def weight_of_one(food: Food, measure: str = "one", size: str = "") -> Weighing | None:
    """Grams of one piece: by ``size`` (large), else by ``measure`` (clove, slice, one).

    Where neither is in the larder, the medium or the large one stands in and ``exact_form`` is False.
    """
    rows = {row.measure: row for row in reversed(food.measures) if row.measure not in VOLUMES}
    wanted = size or measure
    for name in (wanted, *(("one", "medium", "large") if measure == "one" else ())):
        if name in rows:
            found = _weighing(rows[name], "", Fraction(1))
            return Weighing(
                grams=found.grams,
                low=found.low,
                high=found.high,
                form=name,
                exact_form=name == wanted or (not size and name == "one"),
                basis=found.basis,
            )
    return None
