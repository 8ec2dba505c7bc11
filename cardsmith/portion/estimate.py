"""A figure that is known within bounds: the least, the likeliest, and the most it can be. Exact."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from cardsmith.frozen import frozen

ZERO = Fraction(0)


@frozen
class Estimate:
    """``high`` is None where something is unknown, so that ``likely`` is the least that is known of it."""

    low: Fraction
    likely: Fraction
    high: Fraction | None

    def __add__(self, other: Estimate) -> Estimate:
        if self.is_one_figure and other.is_one_figure:  # one sum does for three
            return _one_figure(self.low + other.low)
        high = None if self.high is None or other.high is None else self.high + other.high
        return Estimate(low=self.low + other.low, likely=self.likely + other.likely, high=high)

    def times(self, factor: Fraction) -> Estimate:
        """So many times as much; ``factor`` is not negative."""
        if self.is_one_figure:
            return _one_figure(self.low * factor)
        high = None if self.high is None else self.high * factor
        return Estimate(low=self.low * factor, likely=self.likely * factor, high=high)

    def over(self, other: Estimate) -> Estimate:
        """Divided by another estimate, whose likeliest figure is above zero."""
        if other.is_one_figure:
            return self.times(1 / other.low)
        return Estimate(
            low=self.low / other.high if other.high is not None else ZERO,
            likely=self.likely / other.likely,
            high=self.high / other.low if self.high is not None and other.low > 0 else None,
        )

    @property
    def is_one_figure(self) -> bool:
        """Whether the three are one and the same value, so that it need be reckoned only once."""
        return self.low is self.likely and self.low is self.high

    @property
    def is_lower_bound(self) -> bool:
        """Whether it may be any amount more."""
        return self.high is None

    @property
    def is_exact(self) -> bool:
        """Whether nothing is left open."""
        return self.low == self.likely == self.high


def _one_figure(value: Fraction) -> Estimate:
    return Estimate(low=value, likely=value, high=value)


NOTHING = Estimate(low=ZERO, likely=ZERO, high=ZERO)
UNKNOWN = Estimate(low=ZERO, likely=ZERO, high=None)


def exactly(value: Fraction | int) -> Estimate:
    """A figure with nothing left open."""
    return _one_figure(Fraction(value))


def between(low: Fraction, high: Fraction) -> Estimate:
    """A range whose middle stands for it."""
    return Estimate(low=low, likely=(low + high) / 2, high=high)


def total(estimates: Iterable[Estimate]) -> Estimate:
    """The sum; nothing for none."""
    return sum(estimates, start=NOTHING)
