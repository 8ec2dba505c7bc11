from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.portion.cost import Cost, cost, money
from cardsmith.portion.portion_file import NO_FACTS
from cardsmith.recipe.model import Recipe
from tests.portion.kitchen import batch, facts, prices, recipe, trials

ROLLS = "{makes: 20 rolls, serves: 10}"


def of(one: Recipe, *rows: str, stated: str = "", share: Fraction = Fraction(3, 10)) -> Cost:
    parts, _, done = batch(one, facts(stated, one) if stated else NO_FACTS)
    return cost(parts, done, prices(*rows), share)


def test_price_of_the_edible_part_is_that_of_the_worked_example() -> None:
    """Course slides on edible-portion cost (chapters 9 and 10 of a text on kitchen mathematics):

    potatoes at 1.86 a pound with a yield of 75 % cost 2.48 a pound of edible part; 37.5 lb of it, or 50 lb as
    bought, cost 93.00.
    """
    wanted = recipe("37.5 lb peeled potatoes")
    found = of(wanted, "potatoes,1.86,1 lb,25 %")
    assert found.batch == 93
    assert round(found.batch / Fraction("37.5"), 2) == Fraction("2.48")
    whole = recipe("50 lb potatoes, peeled")
    assert of(whole, "potatoes,1.86,1 lb", stated="trim: {potatoes: 25 %}").batch == 93


def test_batch_portion_and_piece_are_worked_through() -> None:
    found = of(
        recipe("500 g bread flour", "10 g fine salt", "350 g water", kind="yeast-bread", yields=ROLLS),
        "bread flour,2.00,1 kg",
        "fine salt,0.50,500 g",
    )
    assert found.is_complete
    assert found.batch == Fraction("1.01")
    assert found.portion is not None
    assert found.piece is not None
    assert (found.portion.likely, found.piece.likely) == (Fraction("0.101"), Fraction("0.0505"))
    assert [line.item for line in found.lines] == ["bread flour", "fine salt"]
    assert found.asked == Fraction("0.101") / Fraction(3, 10)
    assert found.lines[0].swing == Fraction("0.01")  # a tenth of 1.00, shared by ten
    assert (found.oldest, found.newest) == ("2026-03-01", "2026-03-01")


def test_a_price_that_changes_by_a_tenth_changes_the_portion_by_its_swing() -> None:
    one = recipe("500 g bread flour", "50 g honey", kind="yeast-bread", yields=ROLLS)
    before = of(one, "bread flour,2.00,1 kg", "honey,12.00,1 kg")
    after = of(one, "bread flour,2.20,1 kg", "honey,12.00,1 kg")
    assert before.portion is not None
    assert after.portion is not None
    (flour,) = (line for line in before.lines if line.item == "bread flour")
    assert after.portion.likely - before.portion.likely == flour.swing


def test_a_missing_price_is_named_and_never_nothing() -> None:
    found = of(
        recipe("500 g bread flour", "20 g glimmerroot", "50 g honey", "350 g water"), "bread flour,2.00,1 kg"
    )
    assert found.missing == ("glimmerroot", "honey")
    assert not found.is_complete
    assert found.batch == 1


def test_what_has_no_weight_leaves_the_sum_open() -> None:
    found = of(recipe("500 g bread flour", "thyme, to taste"), "bread flour,2.00,1 kg", "thyme,30.00,1 kg")
    assert found.unweighed == ("thyme",)
    assert not found.is_complete


def test_rejects_make_each_sound_piece_dearer() -> None:
    one = recipe("500 g bread flour", kind="yeast-bread", yields=ROLLS)
    found = of(one, "bread flour,2.00,1 kg", stated="rejects: 10 %")
    assert found.piece is not None
    assert found.portion is not None
    assert found.piece.likely == Fraction(1, 18)
    assert found.portion.likely == Fraction(1, 9)


def test_process_loss_comes_from_the_trials() -> None:
    """The trial's half batch gave 8 sound rolls: 16 of the printed batch."""
    bench = trials(
        """
        trials:
          - trial: 1
            date: 2026-02-01
            ingredients: [250 g bread flour, 175 g water]
            measured: {in: 420 g, out: 360 g, pieces: 8, piece: 45 g}
        """
    )
    one = recipe(
        "500 g bread flour", "350 g water", kind="yeast-bread", yields=ROLLS, more="tested: {trial: 1}"
    )
    parts, _, done = batch(one, bench=bench)
    found = cost(parts, done, prices("bread flour,2.00,1 kg"))
    assert found.piece is not None
    assert found.portion is not None
    assert (found.piece.likely, found.portion.likely) == (Fraction(1, 16), Fraction(1, 8))


def test_frying_oil_costs_what_the_food_takes_up() -> None:
    one = recipe("500 g rye flour", "1 litre sunflower oil, for deep-frying")
    found = of(one, "rye flour,2.00,1 kg", "sunflower oil,4.00,1 kg")
    (oil,) = (line for line in found.lines if line.item == "sunflower oil")
    assert oil.cost == Fraction(50 * 4, 1000)
    assert "takes up" in oil.working


def test_pieces_are_paid_by_the_piece() -> None:
    found = of(
        recipe("3 large eggs (150 g)", "100 g egg", "2 large egg yolks"),
        "eggs,3.60,12 large",
        "egg yolks,3.60,12 large",
    )
    assert {line.item: line.cost for line in found.lines} == {
        "eggs": Fraction("1.50"),
        "egg yolks": Fraction("0.60"),
    }


@pytest.mark.parametrize(
    ("amount", "told"),
    [("1.005", "1.01 EUR"), ("0.002", "0.002 EUR"), ("0", "0.00 EUR"), ("12", "12.00 EUR")],
)
def test_money_never_rounds_something_to_nothing(amount: str, told: str) -> None:
    assert money(Fraction(amount), "EUR") == told
