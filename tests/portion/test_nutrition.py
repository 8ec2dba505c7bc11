from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.bench.formula.composition import composition_of, held
from cardsmith.measure.larder import load_larder
from cardsmith.portion.nutrition import nutrition, per_100, per_piece, per_portion
from cardsmith.portion.shares import shares
from cardsmith.reference import table
from tests.portion.kitchen import batch, facts, recipe

LOAF = ("500 g bread flour", "350 g water", "10 g fine salt")


def test_a_sum_is_that_of_the_table() -> None:
    """SR 28: 100 g of granulated sugar (19335) 387 kcal, of unsalted butter (01145) 717 and 81.11 g fat."""
    found = nutrition(shares(recipe("200 g granulated sugar", "50 g unsalted butter")))
    assert found.batch["calories"].likely == 2 * 387 + Fraction(717, 2)
    assert found.batch["total fat"].likely == Fraction("81.11") / 2
    assert found.batch["calories"].is_exact


def test_salt_is_sodium_times_two_and_a_half() -> None:
    """10 g of table salt (SR 28, 02047: 38.758 g of sodium in 100 g) declare 9.69 g of salt."""
    found = nutrition(shares(recipe("10 g fine salt")))
    assert found.batch["EU salt"].likely == Fraction("38.758") / 10 * Fraction(5, 2)


def test_an_empty_cell_is_unknown_and_never_zero() -> None:
    row = composition_of("20038")
    assert row is not None
    assert "total sugars" not in row.per_100  # oats: SR 28 gives no sugars
    found = nutrition(shares(recipe("100 g rolled oats", "10 g granulated sugar")))
    sugars = found.batch["total sugars"]
    assert (sugars.likely, sugars.high) == (Fraction("9.98"), None)
    assert found.unknown["total sugars"] == ("rolled oats",)
    assert not found.batch["calories"].is_lower_bound


@pytest.mark.parametrize("lacking", ["20 g glimmerroot", "salt, to taste"])
def test_what_nobody_knows_makes_every_figure_a_lower_bound(lacking: str) -> None:
    found = nutrition(shares(recipe("100 g rye flour", lacking)))
    assert all(one.is_lower_bound for one in found.batch.values())
    assert found.untabled + found.unweighed


def test_a_seasoning_without_a_weight_is_named_only() -> None:
    found = nutrition(shares(recipe("100 g granulated sugar", "4 sprigs fresh thyme")))
    assert found.uncounted == ("fresh thyme",)
    assert found.batch["calories"].is_exact


def test_water_lost_makes_100_g_of_the_finished_food_stronger() -> None:
    """860 g of dough bake to 750 g: 100 g of bread hold the salt of 114.7 g of dough."""
    of = recipe(*LOAF, kind="yeast-bread", yields="{makes: 1 loaf, serves: 10, piece: 750 g}")
    parts, _, done = batch(of)
    holds = nutrition(parts)
    hundred = per_100(holds, done)
    assert hundred is not None
    assert hundred["sodium"].likely == holds.batch["sodium"].likely * 100 / 750
    portion = per_portion(holds, done)
    assert portion is not None
    assert portion["sodium"].likely == holds.batch["sodium"].likely / 10


def test_without_a_weighing_the_usual_loss_bounds_100_g() -> None:
    of = recipe(*LOAF, kind="yeast-bread", yields="{serves: 10}")
    parts, mixed, done = batch(of)
    assert mixed.likely == 860
    hundred = per_100(nutrition(parts), done)
    assert hundred is not None
    (loss,) = (row for row in table("kind_losses") if row["kind"] == "yeast-bread")
    sodium = nutrition(parts).batch["sodium"].likely
    least, most = (860 * (1 - Fraction(loss[end]) / 100) for end in ("high", "low"))
    assert hundred["sodium"].high == sodium * 100 / least
    assert hundred["sodium"].low == sodium * 100 / most


def test_pieces_share_what_can_be_served() -> None:
    of = recipe("200 g rye flour", yields="{makes: 20 crackers, serves: 5}", kind="cracker")
    parts, _, done = batch(of, facts("rejects: 10 %", of))
    holds = nutrition(parts)
    piece, portion = per_piece(holds, done), per_portion(holds, done)
    assert piece is not None
    assert portion is not None
    assert piece["calories"].likely == holds.batch["calories"].likely / 20  # 18 share nine tenths
    assert portion["calories"].likely == 4 * piece["calories"].likely


def test_nothing_is_shared_out_without_a_yield() -> None:
    of = recipe("200 g rye flour", kind="pasta", yields="{makes: 2 cups}")
    parts, _, done = batch(of)
    holds = nutrition(parts)
    assert per_portion(holds, done) is None
    assert per_piece(holds, done) is None
    assert per_100(holds, done) is None  # pasta takes up water that no list has


def test_sugars_are_never_more_than_carbohydrate() -> None:
    """SR 28, whole milk (01211): 5.05 g of sugars by analysis, 4.80 g of carbohydrate by difference."""
    row = composition_of("01211")
    assert row is not None
    assert row.per_100["total sugars"] > row.per_100["total carbohydrate"]
    found = nutrition(shares(recipe("100 g whole milk"))).batch
    assert found["total sugars"].likely == row.per_100["total carbohydrate"]


def test_added_sugars_are_those_of_sugars_and_syrups() -> None:
    found = nutrition(shares(recipe("100 g whole milk", "10 g honey", "100 g raspberries"))).batch
    row = composition_of("19296")
    assert row is not None
    assert found["added sugars"].likely == row.per_100["total sugars"] / 10
    assert found["added sugars"].likely < found["total sugars"].likely


def test_a_plant_food_holds_no_cholesterol() -> None:
    row = composition_of("02068")  # red wine vinegar, for white: an empty cell
    assert row is not None
    assert "cholesterol" not in row.per_100
    assert nutrition(shares(recipe("30 g white wine vinegar"))).batch["cholesterol"].is_exact


def test_eu_carbohydrate_is_without_fibre() -> None:
    row = composition_of("20080")
    assert row is not None
    found = nutrition(shares(recipe("100 g whole-wheat flour"))).batch["EU carbohydrate"]
    assert found.likely == row.per_100["total carbohydrate"] - row.per_100["dietary fiber"]


def test_stand_ins_are_foods_that_the_larder_leaves_open() -> None:
    foods = load_larder().foods
    for row in table("composition_stand_ins"):
        assert foods[row["food"]].ndb_no == ""
        found = held(foods[row["food"]])
        assert found is not None
        assert found.stands_in == row["why"]
        assert found.composition.ndb_no in (row["ndb_no"], "")  # "" for several together
    assert held(None) is None


def test_a_cream_without_a_row_stands_as_cream_and_butter_of_its_fat() -> None:
    """Double cream holds 48 % fat at least (UK cream designations); 01053 has 36.08 g and 01145 81.11 g."""
    found = held(load_larder().foods["double-cream"])
    assert found
    assert abs(found.composition.per_100["total fat"] - 48) < Fraction(1, 10)


def test_general_factors_stand_beside_the_table() -> None:
    """Raspberries: 52 kcal in SR 28 (09302), 1.2 × 4 + 11.94 × 4 + 0.65 × 9 = 58.41 by 4, 4, 9."""
    found = nutrition(shares(recipe("100 g raspberries, washed", steps=("Eat them.",))))
    edible = Fraction(96, 100)  # 4 % caps, stems and spoiled berries
    assert found.batch["calories"].likely == 52 * edible
    assert found.atwater.likely == Fraction("58.41") * edible
    assert found.atwater_gap == Fraction("58.41") / 52 - 1
