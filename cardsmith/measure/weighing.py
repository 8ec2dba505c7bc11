"""From volume or count to weight and back, through the larder. Exact; what it rests on is said.

A cup is weighed in the form asked for, or in one that ``larder_forms.csv`` states to weigh the same; never in
another. Where the larder has neither there is no density, and an amount stays in its author's dimension.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache, lru_cache

from cardsmith.frozen import frozen
from cardsmith.measure.larder import Food, HouseholdMeasure
from cardsmith.measure.quantity import Bound, Quantity, UnlikeError
from cardsmith.measure.units import Dimension, Unit, units
from cardsmith.reference import row_of, table
from cardsmith.words import Figure, Said, joined

VOLUMES = ("cup", "tablespoon", "teaspoon", "millilitre", "fluid ounce", "pint", "quart")
# Of 80 weighings of one food in one form, published beside USDA SR 28 (USDA Home Economics Research Report
# No. 41, Food Buying Guide, extension services), seven of ten lie within a tenth of it: two forms that are
# nearer than that may be two weighings of one.
SPREAD = Fraction(1, 10)
POURED = frozenset({"liquid", "paste", "powder", "granule"})  # states that fill a cup alike, however cut
PIECES = ("one", "small", "medium", "large", "extra-large", "jumbo", "head", "bunch", "ear", "stalk", "clove")
PERCENT = Fraction(1, 100)


@frozen
class Weighing:
    """Grams per millilitre, or grams of one; ``low`` and ``high`` are what hands and lots make of it.

    Of one, ``grams`` is what is eaten of it, as USDA SR 28 weighs; ``bought`` is with peel, stone and core.
    """

    grams: Fraction
    low: Fraction
    high: Fraction
    form: str  # the larder form it was taken from
    exact_form: bool  # False where another form than the one asked for stands in
    basis: str  # "125 g per cup (USDA SR 28, food 20081, weight 1)"
    bought: Fraction
    bought_basis: str = ""  # why ``bought`` is more than ``grams``; empty where it is not


@frozen
class Density:
    """What a millilitre or one piece weighs: the only way from a volume or a count to a mass, and back."""

    per: Dimension  # VOLUME or COUNT
    grams: Fraction
    form: str
    basis: str  # the weighing and its source

    def mass(self, amount: Quantity) -> Quantity:
        """What ``amount`` weighs.

        Raises:
            UnlikeError: it is no volume, or no count, as this density wants.
        """
        if amount.dimension is not self.per:
            raise UnlikeError(f"{amount.written!r} is a {amount.dimension}, weighed is a {self.per}")
        return replace(amount.times(self.grams), unit=units()["gram"], high_unit=None)

    def amount(self, mass: Quantity, unit: Unit) -> Quantity:
        """How much weighs ``mass``, in ``unit``; raises as `mass` does."""
        if mass.dimension is not Dimension.MASS or unit.dimension is not self.per:
            raise UnlikeError(f"{mass.written!r} is a {mass.dimension}, and {unit.name} no {self.per}")
        return replace(mass.times(1 / self.grams), unit=unit, high_unit=None)


# How much more, or less, than level a spoon holds; common practice, no source.
UNLEVEL = {
    Bound.GENEROUS: (Fraction(9, 10), Fraction(3, 2)),
    Bound.ROUNDED: (Fraction(9, 10), Fraction(2)),
    Bound.HEAPING: (Fraction(9, 10), Fraction(3)),
    Bound.SCANT: (Fraction(2, 3), Fraction(11, 10)),
}
PLAIN = "plain"  # in larder_forms.csv, the form that no word names


@cache
def _falls() -> Mapping[str, tuple[str, ...]]:
    """The forms that may stand in for each, the nearest first."""
    return {
        row["form"].replace(PLAIN, ""): tuple(row["falls_to"].replace(PLAIN, "").split("|"))
        for row in table("larder_forms")
        if row["falls_to"]
    }


@cache
def _acts() -> Mapping[str, str]:
    return {row["form"].replace(PLAIN, ""): row["act"] for row in table("larder_forms")}


def act_of(form: str) -> str:
    """What makes a form: how a cup is filled (fill: packed), how the food is cut (cut: chopped), or what is
    made of it after it was measured (process: cream, whipped); empty for a word that is no form.
    """
    return _acts().get(form, "")


def _weighing(row: HouseholdMeasure, form: str, size: Fraction) -> Weighing:
    grams = row.grams / row.amount / size
    number = () if row.amount == 1 else (Figure(_plain(row.amount)), " ")
    of = joined("", *number, Said(row.measure))
    stands = Said(", taken for {form}", form=form) if row.form and form not in ("", row.form) else ""
    return Weighing(
        grams=grams,
        low=(row.grams_low or row.grams) / row.amount / size,
        high=(row.grams_high or row.grams) / row.amount / size,
        form=row.form,
        exact_form=row.form == form,
        basis=joined(
            "",
            Said("{weight} g per {measure}", weight=Figure(_plain(row.grams)), measure=of),
            f", {row.form}" if row.form else "",
            stands,
            f" ({row.source})",
        ),
        bought=grams,
    )


def _plain(number: Fraction) -> str:
    return f"{float(number):.6g}"


@lru_cache(maxsize=4096)
def density(food: Food, form: str = "") -> Weighing | None:
    """Grams per millilitre of ``food`` in ``form``; None where nobody weighed that or what may stand for it.

    What may: a stated fall (minced to chopped); a cup of what is poured or of a block of fat, however it is
    cut after; without a form, the usual one where all forms lie within `SPREAD`.
    """
    rows: dict[str, HouseholdMeasure] = {}
    for row in food.measures:
        if row.measure in VOLUMES:
            rows.setdefault(row.form, row)
    chosen = next((rows[form_there] for form_there in _standing(food, form) if form_there in rows), None)
    if chosen is None and not form and len(rows) > 1 and _apart(rows) <= SPREAD:
        chosen = next(iter(rows.values()))
    return _weighing(chosen, form, units()[chosen.measure].size) if chosen else None


def _standing(food: Food, form: str) -> tuple[str, ...]:
    """The form asked for and those that may stand in for it, the nearest first."""
    level = food.state in POURED or (food.state == "solid" and food.is_mainly("fat"))
    return (form, *_falls().get(form, ()), *([""] if level and act_of(form) == "cut" else []))


def _apart(rows: Mapping[str, HouseholdMeasure]) -> Fraction:
    """By how much the heaviest form is heavier than the lightest, as a share of that."""
    weights = [row.grams / row.amount / units()[row.measure].size for row in rows.values()]
    return max(weights) / min(weights) - 1


@lru_cache(maxsize=4096)
def handling(food: Food) -> tuple[Fraction, Fraction] | None:
    """The least and the most a millilitre of ``food`` weighs as people fill a cup; None where unknown."""
    ways = [density(food, form) for form in ("", "sifted", "spooned", "scooped", "packed")]
    known = [way for way in ways if way is not None and way.exact_form]
    return (min(way.low for way in known), max(way.high for way in known)) if known else None


@lru_cache(maxsize=4096)
def weight_of_one(food: Food, measure: str = "one", size: str = "") -> Weighing | None:
    """Grams of one piece, eaten and bought: by ``size`` (large), else by ``measure`` (clove, slice, one).

    Where neither is in the larder, the medium or the large one stands in and ``exact_form`` is False.
    """
    rows = {row.measure: row for row in reversed(food.measures) if row.measure not in VOLUMES}
    wanted = size or measure
    for name in (wanted, *(("one", "medium", "large") if measure == "one" else ())):
        if name in rows:
            weighing = _weighing(rows[name], "", Fraction(1))
            away, why = refuse(food) if name in PIECES and food.aisle == "produce" else (Fraction(0), "")
            return replace(
                weighing,
                form=name,
                exact_form=name == wanted or (not size and name == "one"),
                bought=weighing.grams / (1 - away),
                bought_basis=f"{_plain(away / PERCENT)} % {why}" if away else "",
            )
    return None


def weight_of_pack(food: Food, measure: str) -> Weighing | None:
    """Grams of one pack that a food is sold in, by its noun: an envelope and a sachet are packets."""
    nouns = (measure, "packet") if measure in {"sachet", "envelope", "package", "pack"} else (measure,)
    weighings = (weight_of_one(food, noun) for noun in nouns)
    return next((weighing for weighing in weighings if weighing is not None and weighing.exact_form), None)


@lru_cache(maxsize=4096)
def refuse(food: Food, text: str = "") -> tuple[Fraction, str]:
    """The share of a bought food that is cut away, and who says so; ``text`` is the line, in lower case.

    The house's trims count first, then ours, then what composition says is refuse; zero where none knows.
    """
    for row in (*food.own.get("trims", ()), *table("trims")):
        role = row["food"].removeprefix("role:")
        named = row["food"] == food.key or (role != row["food"] and food.is_mainly(role))
        if named and not any(word and word in text for word in row["unless"].split("|")):
            return Fraction(row["percent"]) * PERCENT, f"{row['why']}: {row['source']}"
    known = composition_row(food)
    percent = Fraction(known["refuse_percent"] or 0) if known else Fraction(0)
    if known is None or not percent:
        return Fraction(0), ""
    what = known["refuse_description"].strip().lower() or "refuse"
    return percent * PERCENT, f"{what}: {known.get('source') or f'USDA SR 28, food {food.ndb_no}'}"


def composition_row(food: Food) -> Mapping[str, str] | None:
    """What 100 g of a food hold: the house's own row (with its ``source``), else that of USDA SR 28."""
    own = next(iter(food.own.get("composition", ())), None)
    return own or (row_of("usda_sr28/foods", food.ndb_no) if food.ndb_no else None)
