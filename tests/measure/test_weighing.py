"""Densities against weighings that do not come from the larder's own sources, and against physics."""

from __future__ import annotations

import csv
import statistics
from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.measure.larder import Food, load_larder
from cardsmith.measure.units import units
from cardsmith.measure.weighing import Weighing, density, handling, weight_of_one

DATA = Path(__file__).parents[1] / "data"
LARDER = load_larder()
CUP = units()["cup"].size
OUTLIER = 0.10
OTHER_NAMES = {"whole wheat (graham) flour": "whole wheat flour", "water, 20 C": "water"}
NOT_IN_THE_LARDER = {"orange soda"}


def _rows(name: str) -> list[dict[str, str]]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _weighing(row: dict[str, str]) -> Weighing | None:
    name = OTHER_NAMES.get(row["ingredient"], row["ingredient"])
    match = LARDER.find(f"{name}, {row['form']}") or LARDER.find(name)
    assert match or name in NOT_IN_THE_LARDER, name
    return density(match.food, match.form) if match else None


def _differences() -> list[tuple[dict[str, str], float]]:
    """Larder over weighing, less one, where the weighing is another source than SR 28."""
    found = []
    for row in _rows("food_buying_guide"):
        ours = _weighing(row)
        if ours and "do not count as independent" not in row["lineage"]:
            found.append((row, float(ours.grams * CUP) / float(row["g_per_cup_mid"]) - 1))
    return found


def test_half_the_densities_lie_within_five_percent_of_an_independent_weighing() -> None:
    """Most of the weighings are cups to the pound in quarter cups, which itself is 5 to 10 % coarse."""
    sizes = sorted(abs(difference) for _, difference in _differences())
    assert len(sizes) >= 60
    assert statistics.median(sizes) <= 0.045
    assert sizes[int(len(sizes) * 0.9)] <= 0.22
    assert abs(statistics.median(difference for _, difference in _differences())) <= 0.02  # no lean


def test_laboratory_means_agree_closest() -> None:
    """USDA Home Economics Research Report No. 41 weighed cups; the other rows are trade equivalences."""
    measured = [
        abs(difference)
        for row, difference in _differences()
        if row["measured_or_rounded"].startswith(("laboratory", "measured"))
    ]
    assert len(measured) >= 10
    assert statistics.median(measured) <= 0.05
    assert max(measured) <= 0.125


def test_every_outlier_is_explained_and_every_explanation_needed() -> None:
    explained = {
        (row["ingredient"], row["form"], row["grams_a_cup"]): row["explanation"]
        for row in _rows("density_outliers")
    }
    outliers = {
        (row["ingredient"], row["form"], row["g_per_cup_mid"])
        for row, difference in _differences()
        if abs(difference) > OUTLIER
    }
    assert outliers == set(explained)
    assert all(len(why) > 20 for why in explained.values())


# --- physics ------------------------------------------------------------------------------------------


def _weighed() -> list[tuple[Food, str, Weighing]]:
    found = []
    for food in LARDER.foods.values():
        for form in dict.fromkeys(measure.form for measure in food.measures):
            weighing = density(food, form)
            if weighing and weighing.exact_form:
                found.append((food, form, weighing))
    return found


# g/ml. Nothing in a kitchen is denser than salt without gaps (2.17, CRC Handbook, memory); a cup with air
# between the grains stays below 1.5. The lightest are puffed rice and loose leaves.
LIMITS = {
    "liquid": (Fraction("0.75"), Fraction("1.5")),
    "paste": (Fraction("0.2"), Fraction("1.6")),
    "powder": (Fraction("0.15"), Fraction("1.5")),
    "granule": (Fraction("0.08"), Fraction("1.5")),
    "leaf": (Fraction("0.01"), Fraction("1.2")),
    "piece": (Fraction("0.04"), Fraction("1.3")),
    "solid": (Fraction("0.05"), Fraction("1.3")),
}


def test_no_density_is_impossible() -> None:
    for food, form, weighing in _weighed():
        low, high = LIMITS["paste" if form == "whipped" else food.state]
        assert low <= weighing.low <= weighing.grams <= weighing.high <= high, (food.key, form)


@pytest.mark.parametrize(
    ("key", "grams_a_ml", "within"),
    [  # CRC Handbook of Chemistry and Physics (memory) but where another source stands beside the row
        ("water", 1.0, 0.005),  # FAO/INFOODS Density Database 1.0: 0.998
        ("olive-oil", 0.915, 0.02),  # Codex Alimentarius CXS 33: 0.910 to 0.916 at 20 °C
        ("honey", 1.42, 0.02),  # Codex Alimentarius CXS 12: 20 % water at most, 1.39 to 1.45
        ("whole-milk", 1.03, 0.01),
        ("heavy-cream", 1.0, 0.02),
        ("maple-syrup", 1.33, 0.03),
        ("vodka", 0.95, 0.02),  # 40 % alcohol by volume
        ("orange-juice", 1.038, 0.02),  # FAO/INFOODS Density Database 1.0
        ("unsalted-butter", 0.95, 0.03),
    ],
)
def test_liquids_have_their_physical_density(key: str, grams_a_ml: float, within: float) -> None:
    weighing = density(LARDER.foods[key])
    assert weighing is not None
    assert float(weighing.grams) == pytest.approx(grams_a_ml, rel=within)


@pytest.mark.parametrize(
    ("key", "lighter", "heavier"),
    [
        ("all-purpose-flour", "sifted", ""),
        ("bread-flour", "sifted", ""),
        ("cake-flour", "sifted", ""),
        ("all-purpose-flour", "spooned", "scooped"),
        ("confectioners-sugar", "sifted", ""),
    ],
)
def test_air_makes_lighter(key: str, lighter: str, heavier: str) -> None:
    light, heavy = density(LARDER.foods[key], lighter), density(LARDER.foods[key], heavier)
    assert light is not None
    assert heavy is not None
    assert light.exact_form
    assert light.grams < heavy.grams


def test_packed_brown_sugar_is_the_heaviest() -> None:
    sugar = LARDER.foods["light-brown-sugar"]
    packed, loose = density(sugar, "packed"), density(sugar, "unpacked") or density(sugar, "loose")
    assert packed is not None
    assert loose is None or not loose.exact_form or loose.grams < packed.grams
    ways = handling(sugar)
    assert ways is not None
    assert ways[1] >= packed.grams


def test_handling_spans_every_way_to_fill_a_cup() -> None:
    for food, form, weighing in _weighed():
        if form in {"", "sifted", "spooned", "scooped", "packed"}:
            ways = handling(food)
            assert ways is not None
            assert ways[0] <= weighing.low <= weighing.high <= ways[1], (food.key, form)


def test_the_basis_can_be_read_and_looked_up() -> None:
    sugar = density(LARDER.foods["granulated-sugar"])
    assert sugar is not None
    assert sugar.basis.startswith("200 g per cup (USDA SR 28, food 19335, weight 3")


def test_no_weighing_is_none_and_not_zero() -> None:
    unweighed = [food for food in LARDER.foods.values() if not food.measures]
    assert unweighed
    assert all(density(food) is None and weight_of_one(food) is None for food in unweighed)


@pytest.mark.parametrize(
    ("key", "size", "grams", "within"),
    [  # USDA AMS 56, weight classes: large eggs 24 oz a dozen in the shell; USDA SR 28 for what is inside
        ("egg", "large", 50, 0.01),
        ("egg", "medium", 44, 0.01),
        ("egg", "jumbo", 63, 0.01),
        ("egg-white", "large", 33, 0.02),
        ("egg-yolk", "large", 17, 0.02),
    ],
)
def test_eggs_weigh_what_their_class_says(key: str, size: str, grams: float, within: float) -> None:
    weighing = weight_of_one(LARDER.foods[key], "one", size)
    assert weighing is not None
    assert weighing.exact_form
    assert float(weighing.grams) == pytest.approx(grams, rel=within)


def test_white_and_yolk_make_the_egg() -> None:
    egg, white, yolk = (
        weight_of_one(LARDER.foods[key], "one", "large") for key in ("egg", "egg-white", "egg-yolk")
    )
    assert egg is not None
    assert white is not None
    assert yolk is not None
    assert float(white.grams + yolk.grams) == pytest.approx(float(egg.grams), rel=0.02)


def test_a_size_nobody_weighed_stands_in_openly() -> None:
    lemon = weight_of_one(LARDER.foods["lemon"], "one", "enormous")
    assert lemon is None or not lemon.exact_form


def test_sizes_are_in_order() -> None:
    order = ("small", "medium", "large", "extra-large", "jumbo")
    for food in LARDER.foods.values():
        weights = [
            measure.grams / measure.amount
            for size in order
            for measure in food.measures
            if measure.measure == size and not measure.form
        ]
        assert weights == sorted(weights), food.key


def test_a_density_has_the_bounds_its_source_gives() -> None:
    """Greek yogurt: 245 g a cup, by other tables from 227 to 260 g."""
    weighed = density(load_larder().foods["greek-yogurt"])
    assert weighed is not None
    cup = units()["cup"].size
    assert [one * cup for one in (weighed.low, weighed.grams, weighed.high)] == [227, 245, 260]


def test_without_a_form_the_usual_one_stands_where_two_weigh_about_alike() -> None:
    weighed = density(load_larder().foods["tomato"])
    assert weighed is not None
    assert (weighed.form, weighed.exact_form) == ("chopped", False)
