"""The chemistry of leavening: the acid a list brings, what soda needs of it, and the gas that comes of it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from cardsmith.check.formula.browning import is_browned
from cardsmith.check.formula.likely import likely_kinds
from cardsmith.check.parts import without_trimmings
from cardsmith.check.subject import Subject
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Food
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import table

CARBON_DIOXIDE = Fraction("44.01")  # g/mol
SODA = Fraction("84.01")  # g/mol, NaHCO3
GAS_OF_POWDER = Fraction(12, 100)  # share of its mass, at least: leavening_bases.csv
# Once 80 °C is passed, soda that met no acid gives half its gas: 2 NaHCO3 → Na2CO3 + H2O + CO2.
GAS_BY_HEAT = Fraction(1, 2)


@frozen
class KitchenAcid:
    """How much acid foods bring, in mmol to a gram that meet soda; ``dry`` for a leavening acid."""

    foods: tuple[str, ...]
    low: Fraction
    typical: Fraction
    high: Fraction
    dry: bool


@frozen
class Usual:
    """What leavening a kind usually has, each as a share of the flour."""

    gas_low: Fraction | None  # as baking powder; None where none at all will do
    powder: Fraction
    soda: Fraction
    soda_alone: bool  # whether soda has work to do without an acid
    soda_left: Fraction  # the most that nobody tastes


@cache
def kitchen_acids() -> tuple[KitchenAcid, ...]:
    """Every food that meets soda; of the rows that fit a food the first holds."""
    power = {
        row["acid"]: 1000 * Fraction(row["protons"]) / Fraction(row["molar_mass"]) for row in table("acids")
    }
    acids: list[KitchenAcid] = []
    for row in table("kitchen_acids"):
        scale = power[row["acid"]] / 100 if row["unit"] == "%" else Fraction(1, 100)
        low, typical, high = (Fraction(row[end]) * scale for end in ("low", "typical", "high"))
        if not low <= typical <= high or not row["source"]:
            raise ValueError(f"kitchen_acids.csv: {row['told']}: figures out of order, or no source")
        foods = tuple(row["foods"].split("|"))
        acids.append(KitchenAcid(foods=foods, low=low, typical=typical, high=high, dry=row["dry"] == "yes"))
    return tuple(acids)


@cache
def usual_leavening() -> Mapping[str, Usual]:
    """The kinds whose leavening is judged."""
    return {
        row["kind"]: Usual(
            gas_low=Fraction(row["gas_low"]) / 100 if row["gas_low"] else None,
            powder=Fraction(row["gas_typical"]) / 100,
            soda=Fraction(row["soda_typical"]) / 100,
            soda_alone=row["soda_alone"] == "yes",
            soda_left=Fraction(row["soda_left"]) / 100,
        )
        for row in table("leavening_kinds")
    }


def acid_of(food: Food | None) -> KitchenAcid | None:
    """What acid a food brings; None where it brings none worth counting."""
    return next((acid for acid in kitchen_acids() if is_of(food, acid.foods)), None)


@cache
def _bases() -> tuple[tuple[tuple[str, ...], Fraction], ...]:
    """Foods that need an acid, with the mmol of it that a gram needs."""
    return tuple(
        (tuple(row["foods"].split("|")), 1000 * Fraction(row["bicarbonate"]) / Fraction(row["molar_mass"]))
        for row in table("leavening_bases")
        if row["molar_mass"]
    )


def bicarbonate(food: Food | None) -> Fraction:
    """The mmol of acid that a gram of a food needs; 0 where it is no soda."""
    return next((needs for foods, needs in _bases() if is_of(food, foods)), Fraction(0))


@frozen
class Leavening:
    """The leavening of the parts that rise: masses in g, acids and soda in mmol."""

    flour: Fraction
    soda: Fraction  # g, as sodium bicarbonate
    powder: Fraction  # g, also that of self-rising flour
    acid_low: Fraction
    acid: Fraction
    acid_high: Fraction
    dry: Fraction  # g of leavening acids
    dry_acid: Fraction  # mmol of them
    soda_line: Ingredient | None
    powder_line: Ingredient | None
    dry_line: Ingredient | None
    sour: tuple[tuple[Ingredient, Fraction], ...]  # lines that bring acid, in mmol as a rule
    browned: bool  # whether bakers take soda for the colour of such a list
    has_unknown: bool  # a line that nobody knows may bring an acid
    whites: bool  # egg white apart, which cream of tartar steadies

    @property
    def base(self) -> Fraction:
        """What the soda needs of acid, in mmol."""
        return 1000 * self.soda / SODA

    @property
    def lift(self) -> Fraction:
        """All gas, as the grams of baking powder that give as much."""
        met = min(self.base, self.acid_high)
        gas = met + (self.base - met) * GAS_BY_HEAT
        return self.powder + gas * CARBON_DIOXIDE / 1000 / GAS_OF_POWDER

    def left(self, acid: Fraction) -> Fraction:
        """Grams of soda that so much acid (mmol) leaves over."""
        return max(self.base - acid, Fraction(0)) * SODA / 1000


def leavened_kind(subject: Subject) -> str:
    """The author's kind, where its leavening is judged; else the first that the list can be, where soda has
    no work without an acid in any of them."""
    usual = usual_leavening()
    if subject.recipe.kind:
        return subject.kind if subject.kind in usual else ""
    likely = [likeness.kind for likeness in likely_kinds(subject)]
    sure = all(kind in usual and not usual[kind].soda_alone for kind in likely)
    return likely[0] if likely and sure else ""


def leavening(subject: Subject) -> Leavening | None:
    """The leavening of a recipe; None where its kind is not judged, or something has no weight."""
    return leavening_of_any(subject) if leavened_kind(subject) else None


def leavening_of_any(subject: Subject) -> Leavening | None:
    """The leavening of whatever has flour; None where something that matters has no weight."""
    parts = subject.components
    core = without_trimmings(parts)  # dry and wet may be parts of their own
    rising = tuple(
        part for part in parts if part in core or any(_leavens(line.food) for line in part.ingredients)
    )
    lines = subject.formula(rising).lines
    if any(
        mass is None and (_leavens(line.food) or acid_of(line.food) or _share(line, "flour"))
        for line, mass in lines
    ):
        return None
    weighed = [(line, mass.grams) for line, mass in lines if mass is not None and line.food is not None]
    flour = _total(weighed, "flour")
    if not flour:
        return None
    sour = [(line, grams, acid) for line, grams in weighed if (acid := acid_of(line.food))]
    dry = [(line, grams * acid.typical) for line, grams, acid in sour if acid.dry]
    sodas = [(line, grams * bicarbonate(line.food)) for line, grams in weighed if bicarbonate(line.food)]
    powders = [(line, grams * _share(line, "baking-powder")) for line, grams in weighed]
    powders = [(line, grams) for line, grams in powders if grams]
    return Leavening(
        flour=flour,
        soda=_sum(sodas) * SODA / 1000,
        powder=_sum(powders),
        acid_low=sum((grams * acid.low for _, grams, acid in sour), Fraction(0)),
        acid=sum((grams * acid.typical for _, grams, acid in sour), Fraction(0)),
        acid_high=sum((grams * acid.high for _, grams, acid in sour), Fraction(0)),
        dry=sum((grams for _, grams, acid in sour if acid.dry), Fraction(0)),
        dry_acid=_sum(dry),
        soda_line=sodas[0][0] if sodas else None,
        powder_line=max(powders, key=lambda pair: pair[1])[0] if powders else None,
        dry_line=dry[0][0] if dry else None,
        sour=tuple((line, grams * acid.typical) for line, grams, acid in sour),
        browned=is_browned(subject, weighed, flour),
        has_unknown=any(line.food is None for line, _ in lines),
        whites=any(_share(line, "egg-white") == 1 for line, _ in weighed),
    )


def _share(line: Ingredient, role: str) -> Fraction:
    return line.food.share(role) if line.food else Fraction(0)


def _total(weighed: list[tuple[Ingredient, Fraction]], role: str) -> Fraction:
    return sum((grams * _share(line, role) for line, grams in weighed), Fraction(0))


def _sum(pairs: list[tuple[Ingredient, Fraction]]) -> Fraction:
    return sum((amount for _, amount in pairs), Fraction(0))


def _leavens(food: Food | None) -> bool:
    return food is not None and (food.share("baking-powder") > 0 or bicarbonate(food) > 0)
