from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from cardsmith.portion.estimate import NOTHING, UNKNOWN, Estimate, between, exactly, total

AMOUNTS = st.fractions(0, 1000, max_denominator=100)


@st.composite
def estimates(draw: st.DrawFn) -> Estimate:
    low, likely, high = sorted(draw(st.tuples(AMOUNTS, AMOUNTS, AMOUNTS)))
    return Estimate(low=low, likely=likely, high=draw(st.sampled_from([high, None])))


def ordered(one: Estimate) -> bool:
    return one.low <= one.likely and (one.high is None or one.likely <= one.high)


@given(estimates(), estimates(), AMOUNTS)
def test_bounds_stay_in_order(one: Estimate, other: Estimate, factor: Fraction) -> None:
    assert ordered(one + other)
    assert ordered(one.times(factor))
    if other.likely:
        assert ordered(one.over(other))


@given(estimates(), estimates())
def test_what_is_unknown_stays_unknown(one: Estimate, other: Estimate) -> None:
    assert (one + other).is_lower_bound == (one.is_lower_bound or other.is_lower_bound)


def test_unknown_adds_nothing_and_says_so() -> None:
    found = total([exactly(3), UNKNOWN])
    assert (found.low, found.likely, found.high) == (3, 3, None)
    assert not found.is_exact
    assert total([]) == NOTHING
    assert between(Fraction(4), Fraction(6)).likely == 5


def test_dividing_by_a_range_turns_its_ends_round() -> None:
    found = exactly(12).over(between(Fraction(4), Fraction(6)))
    assert (found.low, found.likely, found.high) == (2, Fraction(12, 5), 3)
