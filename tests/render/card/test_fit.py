"""What speaks against a way to set a card: which of two an art director would rather have."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardsmith.house.paper import card_size
from cardsmith.house.style import House
from cardsmith.render.card.fit import Heights, Setting, cost
from cardsmith.render.card.places import places

LARGE, SMALL = Fraction(21, 2), Fraction(19, 2)
STANDS = places(card_size("5x7"), Fraction(9), Fraction(1))
BACK = next(one for one in STANDS if one.name == "back")
SQUARE = next(one for one in STANDS if one.name == "square")
TWO_SIDES = Setting(text=LARGE, photo=SQUARE)
SMALLER = replace(TWO_SIDES, text=SMALL)
THREE = Setting(text=LARGE, photo=SQUARE, sides=False, pages=3)
PICTURED = replace(THREE, photo=BACK, pages=4)


@pytest.mark.parametrize(
    ("better", "worse"),
    [
        (PICTURED, THREE),  # the fourth side has the picture, and none is blank
        (SMALLER, PICTURED),
        (replace(SMALLER, close=True), replace(SMALLER, photo=None)),
        (replace(SMALLER, close=True), PICTURED),
        (TWO_SIDES, SMALLER),
        (SMALLER, replace(SMALLER, close=True)),
        (replace(SMALLER, photo=None, close=True), THREE),
    ],
)
def test_the_better_of_two_ways_costs_less(better: Setting, worse: Setting, house: House) -> None:
    costs = [cost(one, [0.9] * one.text_pages, house.card, STANDS) for one in (better, worse)]
    assert costs[0] < costs[1]


def test_a_side_that_is_more_than_a_third_empty_costs_more_the_emptier_it_is(house: House) -> None:
    full, third, half, bare = (
        cost(TWO_SIDES, (1.0, share), house.card, STANDS) for share in (1.0, 0.67, 0.5, 0.2)
    )
    assert full == third < half < bare


def test_close_steps_take_a_quarter_of_a_line_less_each() -> None:
    heights = Heights(text=9.5, front=300.0, back=440.0, headnote=60.0, gaps=8)
    size = card_size("5x7")
    loose, close = (heights.shares(replace(SMALLER, photo=None, close=one), size)[1] for one in (False, True))
    room = float(size.first_height) - 2 * 9.5 * 1.32 / 4
    assert loose - close == pytest.approx(8 * 9.5 * 1.32 / 4 / room)
