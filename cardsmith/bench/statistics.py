"""The statistics of small panels: exact binomial tests in fractions, t intervals, and sample sizes.

Sources: triangle test ISO 4120, duo-trio ISO 10399, paired comparison ISO 5495 (binomial tests with chance
1/3, 1/2, 1/2); just-about-right scales and penalties ASTM MNL63.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import cache

from cardsmith.bench.numerics import scipy
from cardsmith.frozen import frozen

TRIANGLE, HALF = Fraction(1, 3), Fraction(1, 2)  # what guessing alone gets right
LEVEL = Fraction(1, 20)
POWER = Fraction(4, 5)
MOST = 2000  # tasters; beyond, no number is named


def tail(tasters: int, chance: Fraction, right: int) -> Fraction:
    """The probability that at least ``right`` of ``tasters`` are right by guessing alone; exact.

    Raises:
        ValueError: more right than tasters, or a chance that is none.
    """
    if not 0 <= right <= tasters or not 0 < chance < 1:
        raise ValueError(f"{right} of {tasters} at a chance of {chance} can't be")
    return sum(
        (
            math.comb(tasters, count) * chance**count * (1 - chance) ** (tasters - count)
            for count in range(right, tasters + 1)
        ),
        Fraction(0),
    )


@cache
def smallest(tasters: int, chance: Fraction, level: Fraction = LEVEL) -> int | None:
    """The smallest number of right answers that guessing reaches no more often than ``level``.

    None where not even all right answers would suffice.
    """
    return next((right for right in range(tasters + 1) if tail(tasters, chance, right) <= level), None)


def two_sided(tasters: int, picked: int) -> Fraction:
    """The exact two-sided probability of so uneven a split when nobody has a preference."""
    return min(Fraction(1), 2 * tail(tasters, HALF, max(picked, tasters - picked)))


def smallest_two_sided(tasters: int, level: Fraction = LEVEL) -> int | None:
    """The smallest majority that shows a preference; None where not even unanimity would."""
    majorities = range((tasters + 1) // 2, tasters + 1)
    return next((picked for picked in majorities if two_sided(tasters, picked) <= level), None)


@frozen
class Interval:
    """A mean of scores with its t interval; the ends are None for a single score."""

    count: int
    mean: Fraction
    deviation: float  # standard deviation with n − 1
    low: float | None
    high: float | None
    confidence: Fraction

    @property
    def shows_a_difference(self) -> bool:
        """Whether the interval of a mean of differences excludes zero; never where all scores agree.

        Scores without any spread leave the t interval without width: that shows nothing.
        """
        if self.low is None or self.high is None or not self.deviation:
            return False
        return self.low > 0 or self.high < 0


def t_interval(scores: Sequence[int | Fraction], confidence: Fraction = 1 - LEVEL) -> Interval:
    """The mean of ``scores`` and the interval that a t distribution gives it.

    Raises:
        ValueError: there are no scores.
    """
    count = len(scores)
    if not count:
        raise ValueError("no scores")
    mean = Fraction(sum(map(Fraction, scores)), count)
    if count == 1:
        return Interval(count=1, mean=mean, deviation=0.0, low=None, high=None, confidence=confidence)
    deviation = math.sqrt(sum((Fraction(score) - mean) ** 2 for score in scores) / (count - 1))
    half = float(scipy("stats").t.ppf(float((1 + confidence) / 2), count - 1)) * deviation / math.sqrt(count)
    return Interval(
        count=count,
        mean=mean,
        deviation=deviation,
        low=float(mean) - half,
        high=float(mean) + half,
        confidence=confidence,
    )


def paired(scores: Mapping[int, int], others: Mapping[int, int]) -> tuple[int, ...]:
    """The differences of those who scored both, by taster; the others are left out."""
    return tuple(scores[who] - others[who] for who in sorted(scores.keys() & others.keys()))


def tasters_for_difference(deviation: float, difference: Fraction = Fraction(1)) -> int | None:
    """How many must taste both for a true mean difference to show four times in five; None for too many.

    ``deviation`` is that of the differences. A paired t test, two-sided at 5 %, by the noncentral t.
    """
    if not deviation:
        return None
    stats = scipy("stats")
    # The normal distribution needs no more than the t does: nothing below it can do.
    first = math.floor((1.959964 + 0.841621) ** 2 * (deviation / float(difference)) ** 2)
    for count in range(max(first, 3), MOST):
        limit = stats.t.ppf(float(1 - LEVEL / 2), count - 1)
        shift = float(difference) * math.sqrt(count) / deviation
        power = stats.nct.sf(limit, count - 1, shift) + stats.nct.cdf(-limit, count - 1, shift)
        if power >= float(POWER):
            return count
    return None


@cache
def tasters_for_share(chance: Fraction, share: Fraction, *, sides: int = 1) -> int | None:
    """How many tasters show, four times in five, a difference that ``share`` of people truly notice.

    The others guess. The next six larger numbers must do so too, since the power of the exact
    binomial test rises in a sawtooth. None for 200 and more.
    """
    true = share + (1 - share) * chance

    def shows(count: int) -> bool:
        limit = smallest(count, chance) if sides == 1 else smallest_two_sided(count)
        return limit is not None and tail(count, true, limit) >= POWER

    for count in range(3, 200):
        if shows(count) and all(shows(count + more) for more in range(1, 7)):
            return count
    return None


@frozen
class Penalty:
    """One side of one attribute: how many find it off, and how much less they like it."""

    attribute: str
    side: str  # too weak, too strong
    tasters: int
    of: int
    drop: Fraction | None  # mean liking of those for whom it is just right, less that of these

    @property
    def share(self) -> Fraction:
        """The share of tasters who say so."""
        return Fraction(self.tasters, self.of)


def penalties(attribute: str, scored: Sequence[tuple[int, int]]) -> tuple[Penalty, ...]:
    """The penalties of one attribute from pairs of just-about-right (1 to 5) and liking (1 to 9)."""
    right = [liking for scale, liking in scored if scale == 3]
    sides = (
        ("too weak", [liking for scale, liking in scored if scale < 3]),
        ("too strong", [liking for scale, liking in scored if scale > 3]),
    )
    return tuple(
        Penalty(
            attribute=attribute,
            side=side,
            tasters=len(likings),
            of=len(scored),
            drop=Fraction(sum(right), len(right)) - Fraction(sum(likings), len(likings))
            if right and likings
            else None,
        )
        for side, likings in sides
    )
