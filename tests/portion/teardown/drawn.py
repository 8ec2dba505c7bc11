"""Formulas drawn first, and labels made from them by the rules of the laws."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from hypothesis import assume
from hypothesis import strategies as st

from cardsmith.bench.formula.composition import held as known_of
from cardsmith.measure.larder import load_larder
from cardsmith.portion.label import declared
from cardsmith.portion.nutrition import per_100_of
from cardsmith.portion.teardown.labels import Teardown
from cardsmith.portion.teardown.load import read_teardown
from cardsmith.portion.teardown.programme import Bounds, Feasible
from cardsmith.portion.teardown.schema import ENERGY, NUTRIENTS

PANTRY = [
    "all-purpose flour", "whole-grain rye flour", "granulated sugar", "unsalted butter", "olive oil", "eggs",
    "honey", "sesame seeds", "whole milk", "fine salt", "almonds", "raisins", "rolled oats",
]  # fmt: skip


TWO = Fraction(2, 100)


def held(item: str, nutrient: str) -> Fraction:
    match = load_larder().find(item)
    assert match is not None, item
    return per_100_of(match.food)[nutrient].likely


def water_in(item: str) -> Fraction:
    if item == "water":
        return Fraction(1)
    match = load_larder().find(item)
    known = known_of(match.food) if match else None
    assert known is not None
    return known.composition.per_100["water"] / 100


@dataclass(frozen=True)
class Formula:
    """Grams of each food that is mixed for 100 g of the finished product."""

    grams: dict[str, Fraction]  # water among them, perhaps of nothing

    @property
    def mixed(self) -> Fraction:
        return sum(self.grams.values(), Fraction(0))

    @property
    def kept_water(self) -> Fraction:
        return 100 - (self.mixed - self.grams["water"])

    @property
    def moisture(self) -> Fraction:
        return sum((grams * water_in(item) for item, grams in self.grams.items()), 100 - self.mixed)

    @property
    def lost(self) -> Fraction:
        return self.mixed - 100

    def holds(self, nutrient: str) -> Fraction:
        foods = [(item, grams) for item, grams in self.grams.items() if grams]
        return sum((grams * held(item, nutrient) / 100 for item, grams in foods), Fraction(0))


def panel(formula: Formula, law: str, grams: Fraction, calories: str) -> str:
    """A nutrition panel of so many grams; US calories by 4, 4 and 9 kcal, or without fibre."""
    plain = {key: name for key, name in NUTRIENTS[law].items() if key != "energy"}
    amounts = {key: formula.holds(name) * grams / 100 for key, name in plain.items()}
    if law == "US" and calories != "table":
        digested = amounts["total_carbohydrate"]
        digested -= amounts["dietary_fiber"] if calories == "digested" else 0
        amounts["calories"] = 4 * amounts["protein"] + 4 * digested + 9 * amounts["total_fat"]
    told_of = [f"{key}: {declared(plain[key], amount)}" for key, amount in amounts.items()]
    if law == "EU":
        units = ("kJ", "kcal")
        both = (declared(name, formula.holds(name) * grams / 100) for name in ENERGY)
        energy = (one.removesuffix(f" {unit}") + f" {unit}" for one, unit in zip(both, units, strict=True))
        told_of.append(f"energy: {' / '.join(energy)}")
    return ", ".join(told_of)


def us_label(formula: Formula, serving: Fraction, calories: str, by_left: bool, last: set[str]) -> str:
    """21 CFR 101.4: by weight as mixed; what is 2 % or less of that may stand behind its line."""
    grams = {item: weight for item, weight in formula.grams.items() if weight}
    if formula.lost >= formula.grams["water"]:
        grams.pop("water", None)
    elif by_left:
        grams["water"] = formula.kept_water
    ordered = sorted(grams, key=lambda item: -grams[item])
    small = [item for item in ordered if item in last and grams[item] <= formula.mixed * TWO]
    main = [item for item in ordered if item not in small]
    if not main:
        main, small = ordered, []
    lines = ["law: US", f"ingredients: [{', '.join(main)}]"]
    lines += [f"two_percent_or_less: [{', '.join(sorted(small))}]"] if small else []
    lines += [f"serving: {int(serving + Fraction(1, 2))} g"]
    lines += [f"per_serving: {{{panel(formula, 'US', serving, calories)}}}"]
    return "\n".join(lines)


def rounded(share: Fraction) -> str:
    """UK guidance: to the nearest whole number, below 5 % to the nearest half."""
    step = Fraction(1) if share >= 5 else Fraction(1, 2)
    return f"{float(int(share / step + Fraction(1, 2)) * step):g} %"


def eu_label(formula: Formula, told_of: set[str], listed: bool, shuffle: int) -> str:
    """Regulation (EU) 1169/2011, Annex VII, A and Annex VIII: water by what is left, small ones anyhow."""
    grams = {item: weight for item, weight in formula.grams.items() if weight and item != "water"}
    kept = formula.kept_water
    if kept > 5 or (kept > 0 and listed):
        grams["water"] = kept
    ordered = sorted(grams, key=lambda item: -grams[item])
    last = [item for item in ordered if grams[item] < 2]
    for turn, item in enumerate(sorted(last)):
        if (shuffle >> turn) & 1:
            last.remove(item)
            last.append(item)
    ordered = [item for item in ordered if grams[item] >= 2] + last
    shown = [f"{item} ({rounded(grams[item])})" if item in told_of else item for item in ordered]
    lines = ["law: EU", f"ingredients: [{', '.join(shown)}]"]
    return "\n".join([*lines, f"per_100_g: {{{panel(formula, 'EU', Fraction(100), '')}}}"])


def inside(bounds: Bounds, truth: Fraction) -> bool:
    near = 1e-6 * (1 + float(truth))
    return bounds.least - near <= truth and (bounds.most is None or truth <= bounds.most + near)


def taken(text: str) -> Teardown:
    found, findings = read_teardown(text.encode(), "teardown.yaml", load_larder())
    assert [str(one) for one in findings] == []
    assert found is not None
    return found


def holds_truth(found: Feasible, formula: Formula, text: str) -> None:
    assert found.clash == (), text
    for one, bounds in found.ranges:
        assert inside(bounds, formula.grams.get(one.text, Fraction(0))), (one.text, bounds, text)
    assert found.lost is not None
    assert found.moisture is not None
    assert inside(found.lost, formula.lost), text
    assert inside(found.moisture, formula.moisture), text


@st.composite
def formulas(draw: st.DrawFn) -> Formula:
    items = draw(st.lists(st.sampled_from(PANTRY), min_size=2, max_size=8, unique=True))
    mixed = {item: Fraction(draw(st.integers(1, 400))) for item in items}
    mixed["water"] = Fraction(draw(st.one_of(st.just(0), st.integers(1, 400))))
    water = sum((grams * water_in(item) for item, grams in mixed.items()), Fraction(0))
    left = sum(mixed.values(), Fraction(0)) - water * draw(st.fractions(0, 1, max_denominator=40))
    assume(left >= sum(mixed.values(), Fraction(0)) / 10)  # MOST_LOST
    return Formula({item: grams * 100 / left for item, grams in mixed.items()})


CRISP = Formula(  # honey is under 2 % of the 125 g mixed, and 2.45 g of 100 g of the product; all water left
    {item: Fraction(grams) for item, grams in {
        "all-purpose flour": "62.5", "sesame seeds": "20", "olive oil": "13.05", "honey": "2.45",
        "fine salt": "2", "water": "25",
    }.items()}
)  # fmt: skip


DEMO = Path(__file__).parents[3] / "recipes/seeded-crackers/teardown.yaml"
