"""Energy from components against USDA SR 28's own, with what sets them apart."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.bench.formula.composition import composition_of
from cardsmith.portion.energy import Unlisted, atwater, eu_energy, factors, unlisted
from cardsmith.portion.estimate import NOTHING, UNKNOWN, Estimate, exactly
from cardsmith.reference import table

with Path(__file__).with_name("specific_factors.csv").open(encoding="utf-8", newline="") as file:
    GROUPS = list(csv.DictReader(file))
COMPONENTS = ("protein_g", "fat_g", "carbohydrate_g")
# Rounding of SR 28: energy to 1 kcal, components to 0.01 g; factors are given to 0.01 kcal.
ROUNDING, SHARE = Fraction(2), Fraction(2, 100)


def rows(group: str) -> Iterator[tuple[Fraction, tuple[Fraction, ...]]]:
    for row in table("usda_sr28/foods"):
        if row["food_group"] == group and row["energy_kcal"] and all(row[name] for name in COMPONENTS):
            yield Fraction(row["energy_kcal"]), tuple(Fraction(row[name]) for name in COMPONENTS)


def agrees(energy: Fraction, parts: tuple[Fraction, ...], by: tuple[Fraction, ...]) -> bool:
    own = sum((part * factor for part, factor in zip(parts, by, strict=True)), start=Fraction(0))
    return abs(own - energy) <= max(ROUNDING, energy * SHARE)


@pytest.mark.parametrize("row", GROUPS, ids=lambda row: row["food_group"])
def test_energy_of_sr28_is_that_of_the_general_or_the_specific_factors(row: dict[str, str]) -> None:
    """4,420 foods in all. What is left has factors of its own: bran, lemons, cocoa, mixed dishes, drinks."""
    general = tuple(factors("US")[name].kcal for name in ("protein", "fat", "carbohydrate"))
    specific = tuple(Fraction(row[name]) for name in ("protein", "fat", "carbohydrate"))
    found = [agrees(*one, general) or agrees(*one, specific) for one in rows(row["food_group"])]
    assert len(found) > 100
    assert sum(found) >= Fraction(row["least_share"]) * len(found)


def test_the_foods_checked_are_many() -> None:
    assert sum(len(list(rows(row["food_group"]))) for row in GROUPS) > 4000


@pytest.mark.parametrize(
    ("number", "why"),
    [
        ("09150", "citric acid counts 2.47 kcal/g where 4 is taken for carbohydrate"),
        ("20077", "bran is mostly fibre, which counts little"),
        ("19165", "cocoa is fibre and tannin, which count little"),
        ("18369", "the carbon dioxide of baking powder is counted as carbohydrate"),
    ],
)
def test_general_factors_are_far_too_high_where_carbohydrate_is_not_digested(number: str, why: str) -> None:
    known = composition_of(number)
    assert known is not None
    holds = {name: exactly(value) for name, value in known.per_100.items()} | {"alcohol": NOTHING}
    assert atwater(holds).likely > known.per_100["calories"] * Fraction(3, 2), why


@pytest.mark.parametrize(
    ("number", "alcohol", "acids"),
    [
        ("14037", "33.39", "0"),  # spirits of 80 proof: 40 % by volume at 0.79 g/ml, 33.4 % by weight
        ("14084", "10.36", "0"),  # table wine
        ("02050", "34.33", "0"),  # vanilla extract, 35 % by volume (21 CFR 169.175) or more
        ("02048", "0", "5.09"),  # cider vinegar: "Contains 5% acetic acid" (SR 22, FOOTNOTE)
        ("02053", "0", "5.14"),  # distilled vinegar: the same note
        ("18372", "0", "0"),  # baking soda: what is left is carbon dioxide
        ("02030", "0", "0"),  # black pepper
        ("20081", "0", "0"),  # flour
    ],
)
def test_what_has_no_column_is_told_apart(number: str, alcohol: str, acids: str) -> None:
    known = composition_of(number)
    assert known is not None
    found = unlisted(known.per_100)
    assert found is not None
    assert abs(found.alcohol - Fraction(alcohol)) < Fraction(1, 10)
    assert abs(found.acids - Fraction(acids)) < Fraction(1, 10)


def test_an_open_row_leaves_alcohol_open() -> None:
    assert unlisted({"water": Fraction(90), "calories": Fraction(40)}) is None
    assert unlisted(dict.fromkeys(("water",), Fraction(100))) != Unlisted(
        alcohol=Fraction(0), acids=Fraction(0)
    )


def dish(**parts: int) -> dict[str, Estimate]:
    names = {"fat": "total fat", "carbohydrate": "total carbohydrate", "protein": "protein"}
    holds = {names[name]: exactly(grams) for name, grams in parts.items()}
    none = ("alcohol", "organic acids", "dietary fiber")
    return holds | dict.fromkeys(none, NOTHING)


def test_energy_of_the_worked_example() -> None:
    """10 g fat, 20 g carbohydrate, 5 g protein: 190 kcal (US), 795 kJ (EU): label_examples.csv."""
    holds = dish(fat=10, carbohydrate=20, protein=5)
    assert atwater(holds).likely == 190
    assert eu_energy(holds, kilojoules=True).likely == 795
    assert eu_energy(holds, kilojoules=False).likely == 190


def test_fibre_and_alcohol_have_factors_of_their_own_in_the_eu() -> None:
    holds = dish(fat=0, carbohydrate=30, protein=0) | {"dietary fiber": exactly(10), "alcohol": exactly(10)}
    assert eu_energy(holds, kilojoules=True).likely == 20 * 17 + 10 * 8 + 10 * 29
    assert eu_energy(holds, kilojoules=False).likely == 20 * 4 + 10 * 2 + 10 * 7


def test_fibre_that_nobody_knows_bounds_the_energy() -> None:
    """30 g of carbohydrate are 510 kJ without any fibre, and 240 kJ as nothing but fibre."""
    holds = dish(fat=0, carbohydrate=30, protein=0) | {"dietary fiber": UNKNOWN}
    found = eu_energy(holds, kilojoules=True)
    assert (found.low, found.likely, found.high) == (240, 510, 510)


@pytest.mark.parametrize(
    ("calories", "protein", "fat", "carbohydrate", "is_none"),
    [(362, "22", "30", "1.5", True), (18, "0", "0", "0.04", False), (83, "0.07", "0", "2.6", False)],
)
def test_figures_without_ash_hold_no_alcohol_where_their_energy_is_told(
    calories: int, protein: str, fat: str, carbohydrate: str, is_none: bool
) -> None:
    """A cheese's 4 · 22 + 9 · 30 + 4 · 1.5 = 364 kcal leave nothing of 362; a wine's leave most."""
    row = {"protein": protein, "total fat": fat, "total carbohydrate": carbohydrate, "calories": calories}
    found = unlisted({name: Fraction(value) for name, value in row.items()})
    assert found == (Unlisted(alcohol=Fraction(0), acids=Fraction(0)) if is_none else None)
