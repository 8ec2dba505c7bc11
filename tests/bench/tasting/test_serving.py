from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.bench.model import Tasting
from cardsmith.bench.tasting.serving import (
    CODES,
    DUO_TRIOS,
    TRIANGLES,
    balanced_orders,
    right_code,
    servings,
    shuffled,
)
from cardsmith.finding import Where


def tasting(
    test: str = "triangle", tasters: int = 12, trials: tuple[int, ...] = (4, 6), seed: str = "417"
) -> Tasting:
    return Tasting(
        where=Where(file="trials.yaml"), name="salt", test=test, trials=trials, tasters=tasters, seed=seed
    )


@pytest.mark.parametrize("samples", [2, 3, 4, 5, 6])
def test_each_sample_stands_equally_often_in_each_place_and_after_each_other(samples: int) -> None:
    orders = balanced_orders(samples)
    places = Counter((place, sample) for order in orders for place, sample in enumerate(order))
    after = Counter(pair for order in orders for pair in pairwise(order))
    assert set(places.values()) == {len(orders) // samples}
    assert len(places) == samples**2
    assert len(set(after.values())) == 1
    assert len(after) == samples * (samples - 1)


@pytest.mark.parametrize(("test", "design"), [("triangle", TRIANGLES), ("duo-trio", DUO_TRIOS)])
def test_every_order_is_served_equally_often(test: str, design: tuple[tuple[int, ...], ...]) -> None:
    orders = Counter(tuple(cup.trial for cup in one.cups) for one in servings(tasting(test)))
    assert set(orders.values()) == {12 // len(design)}
    assert len(orders) == len(design)


def test_the_same_seed_serves_the_same_and_another_does_not() -> None:
    assert servings(tasting()) == servings(tasting())
    assert servings(tasting()) != servings(tasting(seed="418"))
    first = servings(tasting())[0]  # as printed: a sheet must come out the same in any release
    assert [(cup.code, cup.trial) for cup in first.cups] == PRINTED


PRINTED = [("709", 6), ("748", 4), ("310", 4)]


def test_no_code_of_a_test_of_difference_stands_twice() -> None:
    codes = [cup.code for one in servings(tasting(tasters=200)) for cup in one.cups]
    assert len(codes) == 600
    assert len(set(codes)) == 600
    assert set(codes) <= set(CODES)


def test_a_trial_bears_one_code_where_it_is_scored() -> None:
    served = servings(tasting("liking", trials=(4, 6, 7)))
    assert len({(cup.code, cup.trial) for one in served for cup in one.cups}) == 3


@pytest.mark.parametrize("test", ["triangle", "duo-trio"])
def test_the_right_code_is_the_odd_or_the_matching_one(test: str) -> None:
    for one in servings(tasting(test)):
        right = one.trial_of(right_code(tasting(test), one))
        others = [cup.trial for cup in one.cups]
        assert others.count(right) == (1 if test == "triangle" else 2)
    with pytest.raises(ValueError, match="no right answer"):
        right_code(tasting("liking"), servings(tasting("liking"))[0])


@given(st.lists(st.integers()), st.text())
def test_shuffling_loses_nothing(items: list[int], seed: str) -> None:
    assert sorted(shuffled(items, seed)) == sorted(items)
