"""The statement of agreement says what the columns do."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.flow import prepare
from cardsmith.house.publication import Publication
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from cardsmith.proof.agreement import agreement
from cardsmith.rewrite.card.numbers import numbers
from cardsmith.rewrite.rounding.amounts import round_amounts

ROOT = Path(__file__).parents[2]
DEMO = Publication(root=ROOT)


@pytest.mark.parametrize("name", DEMO.names())
def test_no_part_of_a_demo_card_moves_its_ratios_more_than_was_chosen(name: str) -> None:
    """Worked out from the printed card, and by the choice of its measures: the same worst ratio."""
    house = load_house(ROOT)
    file = DEMO.file(name)
    card = prepare(name, file.read_bytes(), "recipe.yaml", load_larder(), house).card
    assert card is not None
    found = agreement(card, numbers(card, house), house)
    chosen = round_amounts(card.recipe, house).drift
    for place, system in enumerate(house.order):
        worst = max((one.moved[place] for one in found.drifts), default=Fraction(0))
        # Parts that share an amount are chosen together, so the choice answers for more ratios.
        assert worst <= chosen[system]
        if len(card.parts) == 1:
            assert worst == chosen[system]
    assert all(one.held for one in found.drifts)


def test_the_worst_error_is_that_of_one_line() -> None:
    text = (
        "title: Thins\ningredients: [200 g whole-grain rye flour, 5 g fine salt, 110 g water]\n"
        "steps: [Mix and bake at 160 °C.]"
    )
    house = load_house(ROOT)
    card = prepare("thins", text.encode(), "recipe.yaml", load_larder(), house).card
    assert card is not None
    us, metric = agreement(card, numbers(card, house), house).worst
    # ¾ + ⅛ tsp of salt at 292 g per cup of 48 tsp: 5.3229 g for 5 g.
    assert (us.number.what, us.error) == ("fine salt", Fraction(7, 8) * Fraction(292, 48) / 5 - 1)
    assert metric.error == 0
