"""What a batch holds by USDA SR 28: an estimate from tables, in which unknown is never zero."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache

from cardsmith.bench.formula.composition import held
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Food
from cardsmith.portion.energy import atwater, eu_energy, unlisted
from cardsmith.portion.estimate import NOTHING, UNKNOWN, Estimate, exactly, total
from cardsmith.portion.finished import Finished
from cardsmith.portion.shares import LineShare

HUNDREDTH = Fraction(1, 100)
_NAMES = (
    "calories",
    "total fat",
    "saturated fat",
    "cholesterol",
    "sodium",
    "total carbohydrate",
    "dietary fiber",
    "total sugars",
    "protein",
    "vitamin D",
    "calcium",
    "iron",
    "potassium",
)
# SR 28 assumes none in foods of these origins and leaves some cells empty all the same (memory).
WITHOUT_CHOLESTEROL = frozenset({"plant", "mineral", "fungus", "yeast"})
_REST = (
    "added sugars",
    "alcohol",
    "organic acids",
    "EU carbohydrate",
    "EU energy in kJ",
    "EU energy in kcal",
)
OPEN_IF_UNWEIGHED = (*_NAMES, *_REST)
# What other laws declare under another name; and the EU's salt (Regulation (EU) 1169/2011, Annex I), g of mg.
# Australia's factors of energy are the EU's for all that a panel names (schedule 11; memory).
_SAME_ELSEWHERE = {
    "EU fat": "total fat",
    "EU saturates": "saturated fat",
    "EU sugars": "total sugars",
    "EU fibre": "dietary fiber",
    "EU protein": "protein",
    "AU energy in kJ": "EU energy in kJ",
    "AU protein": "protein",
    "AU fat": "total fat",
    "AU saturates": "saturated fat",
    "AU carbohydrate": "EU carbohydrate",
    "AU sugars": "total sugars",
    "AU sodium": "sodium",
}
SALT_OF_SODIUM = Fraction(5, 2) / 1000


@lru_cache(maxsize=4096)
def per_100_of(food: Food | None) -> Mapping[str, Estimate]:
    """Per 100 g of one food by all names of a declaration; empty where no row of SR 28 stands for it."""
    if (of := held(food)) is None or food is None:
        return {}
    known = of.composition
    holds = {name: exactly(known.per_100[name]) if name in known.per_100 else UNKNOWN for name in _NAMES}
    if holds["cholesterol"].high is None and food.origin and food.origin <= WITHOUT_CHOLESTEROL:
        holds["cholesterol"] = NOTHING
    holds["total sugars"] = _no_more_than(holds["total sugars"], holds["total carbohydrate"])
    more = unlisted(known.per_100)
    holds["alcohol"] = UNKNOWN if more is None else exactly(more.alcohol)
    holds["organic acids"] = UNKNOWN if more is None else exactly(more.acids)
    # Sugar added as such: 21 CFR 101.9(c)(6)(iii) names sugars, syrups, honey and concentrated juice.
    holds["added sugars"] = holds["total sugars"] if food.aisle == "sugar" else NOTHING
    holds["EU carbohydrate"] = _without_fibre(holds)
    holds["EU energy in kJ"] = eu_energy(holds, kilojoules=True)
    holds["EU energy in kcal"] = eu_energy(holds, kilojoules=False)
    declared = {name: holds[own] for name, own in _SAME_ELSEWHERE.items()}
    return {**holds, **declared, "EU salt": holds["sodium"].times(SALT_OF_SODIUM)}


def _no_more_than(part: Estimate, whole: Estimate) -> Estimate:
    """A part held to its whole: SR 28 analyses sugars, and has carbohydrate by difference."""
    if part.high is None or whole.high is None:
        return part
    return exactly(min(part.likely, whole.likely))


def _without_fibre(holds: Mapping[str, Estimate]) -> Estimate:
    """The EU's carbohydrate: SR 28's, which is by difference, less fibre."""
    carbohydrate, fibre = holds["total carbohydrate"], holds["dietary fiber"]
    if carbohydrate.high is None:
        return UNKNOWN
    if fibre.high is None:  # between none and all of it may be fibre
        return Estimate(low=Fraction(0), likely=carbohydrate.likely, high=carbohydrate.high)
    return exactly(max(carbohydrate.likely - fibre.likely, Fraction(0)))


@frozen
class Nutrition:
    """What one batch holds, by nutrient, in its label's unit; and which foods leave it open."""

    batch: Mapping[str, Estimate]
    unknown: Mapping[str, tuple[str, ...]]  # nutrient: items whose cell is empty in SR 28
    unweighed: tuple[str, ...]  # items without a weight, which every nutrient lacks
    uncounted: tuple[str, ...]  # seasonings without a weight: named, too little to move a figure
    untabled: tuple[str, ...]  # items of which SR 28 has no row
    stand_ins: tuple[str, ...]  # "flaky sea salt: Salt, table (the same salt in another grain)"
    own: tuple[str, ...]  # "Fenwick blue (the maker's label)": figures of the house, in place of SR 28's
    atwater: Estimate  # kcal of the batch by the general factors

    @property
    def atwater_gap(self) -> Fraction | None:
        """How far the general Atwater factors stand from the table's energy, as a share of it."""
        own = self.batch["calories"].likely
        return self.atwater.likely / own - 1 if own else None


def of_batch(shares: tuple[LineShare, ...], nutrient: str) -> Estimate:
    """What one batch holds of a nutrient: the sum over all lines, by what is eaten of each."""
    counted = (share for share in shares if share.is_counted)
    known = total(
        _amount(per_100_of(share.line.food).get(nutrient, UNKNOWN), share.eaten) for share in counted
    )
    left_open = UNKNOWN if any(share.spoils_sums for share in shares) else NOTHING
    return (known + left_open).times(HUNDREDTH)


def nutrition(shares: tuple[LineShare, ...]) -> Nutrition:
    """What one batch holds of everything, and what of it nobody knows."""
    unknown: dict[str, list[str]] = {}
    untabled: list[str] = []
    stand_ins: list[str] = []
    own: list[str] = []
    for share in shares:
        if not share.is_counted:
            continue
        item = share.line.item
        known = held(share.line.food)
        if known is None or share.line.food is None:
            untabled.append(item)
            continue
        if known.stands_in:
            stand_ins.append(f"{item}: {known.composition.description} ({known.stands_in})")
        if known.composition.own_source:
            own.append(f"{item} ({known.composition.own_source})")
        for name, each in per_100_of(share.line.food).items():
            if each.high is None and name in OPEN_IF_UNWEIGHED:
                unknown.setdefault(name, []).append(item)
    batch = {name: of_batch(shares, name) for name in (*OPEN_IF_UNWEIGHED, *_SAME_ELSEWHERE, "EU salt")}
    return Nutrition(
        batch=batch,
        unknown={name: tuple(dict.fromkeys(items)) for name, items in unknown.items()},
        unweighed=tuple(share.line.item for share in shares if share.spoils_sums),
        uncounted=tuple(
            share.line.item
            for share in shares
            if not (share.is_counted or share.spoils_sums or share.line.optional)
        ),
        untabled=tuple(dict.fromkeys(untabled)),
        stand_ins=tuple(dict.fromkeys(stand_ins)),
        own=tuple(dict.fromkeys(own)),
        atwater=atwater(batch),
    )


def _amount(per_100: Estimate, hundreds: Estimate) -> Estimate:
    """What this many hundreds of grams hold; both figures may be ranges."""
    if hundreds.is_one_figure:
        return per_100.times(hundreds.low)
    high = None if per_100.high is None or hundreds.high is None else per_100.high * hundreds.high
    return Estimate(low=per_100.low * hundreds.low, likely=per_100.likely * hundreds.likely, high=high)


def per_100(nutrition: Nutrition, finished: Finished) -> Mapping[str, Estimate] | None:
    """Per 100 g of the finished food; None where its weight is unknown."""
    if finished.mass is None or not finished.mass.likely:
        return None
    mass = finished.mass.times(Fraction(1, 100))
    kept = finished.kept
    return {name: _shared(estimate, kept).over(mass) for name, estimate in nutrition.batch.items()}


def per_portion(nutrition: Nutrition, finished: Finished) -> Mapping[str, Estimate] | None:
    """Per portion as it is served; None where the recipe doesn't say how many it serves."""
    return _each(nutrition, finished, finished.portions)


def per_piece(nutrition: Nutrition, finished: Finished) -> Mapping[str, Estimate] | None:
    """Per sound piece; None where nothing is counted."""
    return _each(nutrition, finished, finished.pieces)


def _each(nutrition: Nutrition, finished: Finished, of: Estimate | None) -> Mapping[str, Estimate] | None:
    if of is None or not of.likely:
        return None
    sound = finished.sound
    return {name: _shared(estimate, sound).over(of) for name, estimate in nutrition.batch.items()}


def of_portion(shares: tuple[LineShare, ...], nutrient: str, finished: Finished) -> Estimate | None:
    """One nutrient of a portion as it is served; None where the recipe doesn't say how many it serves."""
    portions = finished.portions
    if portions is None or not portions.likely:
        return None
    return _shared(of_batch(shares, nutrient), finished.sound).over(portions)


def _shared(estimate: Estimate, share: Estimate) -> Estimate:
    if share.is_one_figure:
        return estimate if share.low == 1 else estimate.times(share.low)
    high = None if estimate.high is None or share.high is None else estimate.high * share.high
    return Estimate(low=estimate.low * share.low, likely=estimate.likely * share.likely, high=high)
