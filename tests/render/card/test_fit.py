"""What speaks against a way to set a card: which of two an art director would rather have."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from types import SimpleNamespace

import pytest

from cardsmith.house.paper import card_size
from cardsmith.house.style import House
from cardsmith.render.card.blocks import CardBlock, CardBlocks
from cardsmith.render.card.fit import Layout, cost, settings
from cardsmith.render.card.places import places
from cardsmith.render.card.setting import Setting

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
        (replace(THREE, pages=4, air=2), THREE),  # the fourth side is filled with air between rows and steps
        (replace(THREE, pages=4), replace(THREE, pages=4, air=1)),
        (PICTURED, THREE),  # the fourth side has the picture, and none is blank
        (SMALLER, PICTURED),
        (replace(SMALLER, air=-1), replace(SMALLER, photo=None)),
        (replace(SMALLER, air=-1), PICTURED),
        (TWO_SIDES, SMALLER),
        (SMALLER, replace(SMALLER, air=-1)),
        (THREE, replace(SMALLER, photo=None, air=-1)),  # no picture vanishes
    ],
)
def test_the_better_of_two_ways_costs_less(better: Setting, worse: Setting, house: House) -> None:
    costs = [cost(one, [0.9] * one.text_pages, house.card, STANDS) for one in (better, worse)]
    assert costs[0] < costs[1]


def test_a_side_costs_more_the_emptier_it_is(house: House) -> None:
    full, third, half, bare = (
        cost(TWO_SIDES, (1.0, share), house.card, STANDS) for share in (1.0, 0.67, 0.5, 0.2)
    )
    assert full < third < half < bare


SIZE = card_size("5x7")
ROOMS = (
    float(SIZE.first_height),
    float(SIZE.first_height) - 2 * 9.5 * 1.32 / 4,
)  # of a front, of other pages


def blocks(rows: int, steps: int) -> CardBlocks:
    """A list of rows of a line, a method of steps of three lines, at 9.5 pt."""
    front = [CardBlock(kind="opening", height=60.0), CardBlock(kind="headnote", height=60.0)]
    front += [CardBlock(kind="thead" if not row else "tr", height=16.0, part=1) for row in range(rows + 1)]
    back = [CardBlock(kind="h2", height=26.0), *(CardBlock(kind="li", height=42.0) for _ in range(steps))]
    return CardBlocks(text=9.5, front=tuple(front), back=tuple(back))


def test_close_steps_take_a_quarter_of_a_line_less_each() -> None:
    loose, close = (
        blocks(10, 8).shares(replace(SMALLER, photo=None, air=-one), SIZE)[1] for one in (False, True)
    )
    assert loose - close == pytest.approx(8 * 9.5 * 1.32 / 4 / ROOMS[1])


def test_air_makes_rows_and_steps_higher() -> None:
    """The gaps of a list of five rows, of which one is above and below it, and those of eight steps."""
    made = [blocks(5, 8).shares(Setting(text=SMALL, sides=False, pages=4, air=air), SIZE) for air in (0, 2)]
    plain, loose = (shares[0] * ROOMS[0] + sum(share * ROOMS[1] for share in shares[1:]) for shares in made)
    assert loose - plain == pytest.approx((6 + 8) * 2 * 9.5 * 1.32 / 4)


def test_only_what_fills_its_cards_has_more_air(house: House) -> None:
    loose = [one for one in settings(replace(house.card, cards=2), STANDS) if one.air > 0]
    assert {one.air for one in loose} == {1, 2, 3}
    assert {(one.pages, one.sides, one.text) for one in loose} == {(4, False, house.card.text[0])}


def test_a_list_that_stays_whole_leaves_the_rest_of_a_side_empty() -> None:
    running = Setting(text=SMALL, sides=False, pages=3)
    made = blocks(25, 6)  # its list is higher than what the head leaves of the front
    whole, divided = (made.shares(replace(running, whole=one), SIZE) for one in (True, False))
    assert whole[0] == pytest.approx(120 / ROOMS[0])
    assert 0.95 < divided[0] <= 1
    assert sum(divided) > 0.95 * sum(whole)


def test_the_head_of_a_list_comes_again_where_it_goes_on() -> None:
    running = Setting(text=SMALL, sides=False, pages=2, whole=False)
    made = replace(blocks(40, 0), back=())
    shares = made.shares(running, SIZE)
    assert sum(share * room for share, room in zip(shares, ROOMS, strict=True)) == pytest.approx(
        120 + 41 * 16 + 16 + 9.5 * 1.32 / 4 * 3
    )


def test_a_headnote_that_turns_makes_room_on_the_front() -> None:
    sides = Setting(text=SMALL)
    stays, turned = (blocks(10, 4).shares(replace(sides, turned=one), SIZE) for one in (False, True))
    assert stays[0] - turned[0] == pytest.approx(60 / ROOMS[0])
    assert turned[1] - stays[1] == pytest.approx(60 / ROOMS[1])


def test_what_runs_over_is_more_than_a_page() -> None:
    assert max(blocks(30, 20).shares(Setting(text=SMALL), SIZE)) > 1


def page(*sections: str) -> SimpleNamespace:
    boxes = [
        SimpleNamespace(element_tag="section", element={"class": name}, children=()) for name in sections
    ]
    return SimpleNamespace(_page_box=SimpleNamespace(element_tag="html", children=boxes))


@pytest.mark.parametrize(("last", "fits"), [((), True), (("back",), False)])
def test_a_picture_over_a_whole_back_has_no_text_on_its_page(last: tuple[str, ...], fits: bool) -> None:
    """In two columns, what runs over would come beside it."""
    pages = [page("front", "back"), page(*last)]
    setting = replace(PICTURED, pages=2)
    assert Layout(setting=setting, html="", document=SimpleNamespace(pages=pages)).fits is fits
