"""Joint rounding against brute force: every combination tried, on cases small enough to try them all."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardsmith.rewrite.rounding.joint import Option, choose, drift, least_drift

ERRORS = st.integers(min_value=-100, max_value=100).map(lambda thousandths: Fraction(thousandths, 1000))
COSTS = st.integers(min_value=0, max_value=12).map(lambda halves: Fraction(halves, 2))
OPTIONS = st.builds(lambda error, cost: Option(error=error, cost=cost), ERRORS, COSTS)
AMOUNTS = st.lists(st.lists(OPTIONS, min_size=1, max_size=4), min_size=1, max_size=4)
LIMITS = st.sampled_from([Fraction(percent, 100) for percent in (0, 1, 2, 3, 5, 10)])


def _ratios_move(errors: tuple[Fraction, ...]) -> Fraction:
    """The most-moved ratio, pair by pair, as the word drift is defined."""
    pairs = ((one, other) for one in errors for other in errors)
    return max((1 + one) / (1 + other) - 1 for one, other in pairs)


def _every(amounts: list[list[Option]]) -> list[tuple[Option, ...]]:
    return list(product(*amounts))


@settings(max_examples=300)
@given(amounts=AMOUNTS, limit=LIMITS)
def test_choose_equals_brute_force(amounts: list[list[Option]], limit: Fraction) -> None:
    allowed = [
        picked for picked in _every(amounts) if _ratios_move(tuple(one.error for one in picked)) <= limit
    ]
    choice = choose(amounts, limit)
    if not allowed:
        assert choice is None
        return
    assert choice is not None
    least = min(
        (sum(one.cost for one in picked), sum(abs(one.error) for one in picked)) for picked in allowed
    )
    chosen = [options[pick] for options, pick in zip(amounts, choice.picks, strict=True)]
    assert (choice.cost, sum(abs(one.error) for one in chosen)) == least
    assert choice.cost == sum(one.cost for one in chosen)
    assert choice.drift == _ratios_move(tuple(one.error for one in chosen)) <= limit


@settings(max_examples=300)
@given(amounts=AMOUNTS)
def test_least_drift_equals_brute_force(amounts: list[list[Option]]) -> None:
    expected = min(_ratios_move(tuple(one.error for one in picked)) for picked in _every(amounts))
    assert least_drift(amounts) == expected
    assert choose(amounts, expected) is not None


@given(errors=st.lists(ERRORS, min_size=1, max_size=6).map(tuple))
def test_drift_is_that_of_the_worst_pair(errors: tuple[Fraction, ...]) -> None:
    assert drift(errors) == _ratios_move(errors)


def _option(error: str, cost: int = 1) -> Option:
    return Option(error=Fraction(error), cost=Fraction(cost))


def test_the_window_may_sit_off_zero() -> None:
    """All amounts 2 % larger for three scoops beats all exact for thirty."""
    amounts = [[_option("0", 10), _option("0.02", 1)] for _ in range(3)]
    choice = choose(amounts, Fraction("0.01"))
    assert choice is not None
    assert choice.picks == (1, 1, 1)
    assert choice.drift == 0


def test_one_stiff_amount_draws_the_others_with_it() -> None:
    """Eggs cannot be rounded: what else there is moves towards them."""
    eggs = [_option("0")]
    flour = [_option("-0.04", 1), _option("0.01", 5)]
    choice = choose([eggs, flour], Fraction("0.03"))
    assert choice is not None
    assert choice.picks == (0, 1)


def test_equal_costs_take_the_smaller_error() -> None:
    choice = choose([[_option("0.02"), _option("-0.01"), _option("0.03")]], Fraction("0.03"))
    assert choice is not None
    assert choice.picks == (1,)


def test_the_limit_itself_is_allowed() -> None:
    amounts = [[_option("0")], [_option("0.03")]]
    assert choose(amounts, Fraction("0.03")) is not None
    assert choose(amounts, Fraction("0.0299")) is None


@pytest.mark.parametrize("limit", [Fraction(0), Fraction(3, 100)])
def test_nothing_to_choose_costs_nothing(limit: Fraction) -> None:
    choice = choose([], limit)
    assert choice is not None
    assert (choice.picks, choice.cost, choice.drift) == ((), 0, 0)
    assert least_drift([]) == 0


def test_an_amount_without_options_has_no_choice() -> None:
    assert choose([[_option("0")], []], Fraction("0.03")) is None
