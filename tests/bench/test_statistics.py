from __future__ import annotations

import csv
import io
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from cardsmith.bench.statistics import (
    HALF,
    LEVEL,
    TRIANGLE,
    paired,
    penalties,
    smallest,
    smallest_two_sided,
    t_interval,
    tail,
    tasters_for_difference,
    tasters_for_share,
    two_sided,
)

# Critical numbers for n = 6 … 60: FAO V7180E appendix A for the triangle test (ISO 4120), ISO 10399 table A.1
# for the duo-trio, the exact binomial elsewhere; the file names the source of each row.
_TABLE = Path(__file__).with_name("critical_numbers.csv").read_text(encoding="utf-8")
CRITICAL = list(csv.DictReader(io.StringIO(_TABLE)))


@pytest.mark.parametrize("row", CRITICAL, ids=lambda row: f"{row['test']}-{row['n']}")
def test_critical_numbers_are_the_published_ones(row: dict[str, str]) -> None:
    n = int(row["n"])
    for level in ("0.05", "0.01", "0.001"):
        wanted = int(row[f"critical_{level}"]) if row[f"critical_{level}"] else None
        if row["sided"] == "two-sided":
            assert smallest_two_sided(n, Fraction(level)) == wanted
        else:
            assert smallest(n, Fraction(row["chance_probability"]), Fraction(level)) == wanted


@given(st.integers(1, 60), st.data())
def test_the_exact_tail_is_scipys(n: int, data: st.DataObject) -> None:
    right = data.draw(st.integers(0, n))
    for chance in (TRIANGLE, HALF):
        assert float(tail(n, chance, right)) == pytest.approx(
            stats.binom.sf(right - 1, n, float(chance)), rel=1e-9
        )
    assert float(two_sided(n, right)) == pytest.approx(stats.binomtest(right, n).pvalue, rel=1e-9)


@pytest.mark.parametrize(("n", "right"), [(3, 4), (3, -1)])
def test_what_cannot_be_counted_is_refused(n: int, right: int) -> None:
    with pytest.raises(ValueError, match="can't be"):
        tail(n, HALF, right)


@given(st.lists(st.integers(1, 9), min_size=2, max_size=30))
def test_the_t_interval_is_scipys(scores: list[int]) -> None:
    found = t_interval(scores)
    assert found.mean == Fraction(sum(scores), len(scores))
    if len(set(scores)) > 1:
        low, high = stats.t.interval(0.95, len(scores) - 1, float(found.mean), stats.sem(scores))
        assert (found.low, found.high) == (pytest.approx(low), pytest.approx(high))
    assert not (len(set(scores)) == 1 and found.shows_a_difference)


def test_half_widths_at_a_spread_of_one_and_a_half() -> None:
    # t and normal tables: 1.5 × t(0.975, n−1) / √n is 1.6 for 6 tasters, 1.0 for 12, 0.7 for 20.
    for n, half in ((6, 1.57), (12, 0.95), (20, 0.70)):
        assert stats.t.ppf(0.975, n - 1) * 1.5 / n**0.5 == pytest.approx(half, abs=0.005)
    found = t_interval([4, 5, 6, 6, 7, 8])
    assert found.low is not None
    assert float(found.mean) - found.low == pytest.approx(stats.t.ppf(0.975, 5) * found.deviation / 6**0.5)


@pytest.mark.parametrize("deviation", [0.8, 1.5, 2.5])
def test_as_many_tasters_as_named_do_and_one_fewer_does_not(deviation: float) -> None:
    n = tasters_for_difference(deviation)
    assert n is not None

    def power(count: int) -> float:
        limit, shift = stats.t.ppf(0.975, count - 1), count**0.5 / deviation
        return float(stats.nct.sf(limit, count - 1, shift) + stats.nct.cdf(-limit, count - 1, shift))

    assert power(n) >= 0.8 > power(n - 1)


def test_as_many_tasters_as_named_notice() -> None:
    n = tasters_for_share(TRIANGLE, HALF)
    assert n is not None
    limit = smallest(n, TRIANGLE)
    assert limit is not None
    assert stats.binom.sf(limit - 1, n, 2 / 3) >= 0.8
    assert smallest(n, TRIANGLE, LEVEL) == limit


def test_only_those_who_tasted_both_are_paired() -> None:
    assert paired({1: 7, 2: 5, 4: 9}, {1: 6, 3: 2, 4: 9}) == (1, 0)


def test_penalties_by_hand() -> None:
    # Three find it right and like it 8, 7, 6 (mean 7); one too weak, likes it 4: 3 less; none too strong.
    weak, strong = penalties("salt", [(3, 8), (3, 7), (3, 6), (2, 4)])
    assert (weak.tasters, weak.of, weak.drop, weak.share) == (1, 4, 3, Fraction(1, 4))
    assert (strong.tasters, strong.drop) == (0, None)
