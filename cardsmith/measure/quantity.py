"""Exact quantities with the author's words beside them. Nothing here rounds."""

from __future__ import annotations

import enum
from dataclasses import replace
from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.measure.units import Dimension, System, Unit


@enum.unique
class Bound(enum.StrEnum):
    """How a number is meant: as it stands, or as a limit or a habit of the hand."""

    EXACTLY = "exactly"
    ABOUT = "about"
    AT_LEAST = "at least"
    AT_MOST = "at most"
    SCANT = "scant"
    GENEROUS = "generous"
    ROUNDED = "rounded"
    HEAPING = "heaping"

    @property
    def is_unlevel(self) -> bool:
        """Whether a spoon or a cup is filled by habit of the hand: more, or less, than level."""
        return self in _UNLEVEL


_UNLEVEL = frozenset({Bound.SCANT, Bound.GENEROUS, Bound.ROUNDED, Bound.HEAPING})


class UnlikeError(ValueError):
    """Two quantities of different dimensions can't be added, compared or divided."""


@frozen
class Quantity:
    """An amount as the author measured it; ``low == high`` unless a range was written.

    ``low`` and ``high`` are exact, in base units (g, ml, mm, s, °C, one). ``unit`` is the author's, of
    the first term where several were added up. A vague measure (a knob) has a unit whose system is
    VAGUE; a temperature without a scale has the unit ``degree``.
    """

    low: Fraction
    high: Fraction
    unit: Unit
    written: str  # the author's text: "½ cup plus 1 tablespoon"
    bound: Bound = Bound.EXACTLY
    fan: bool = False  # an oven's setting for moving air
    high_unit: Unit | None = None  # where the upper end was written in another unit: 500 g to 1 kg
    terms: tuple[Quantity, ...] = ()  # what a sum was added up from; what was taken off is below nothing

    @property
    def dimension(self) -> Dimension:
        """What is measured."""
        return self.unit.dimension

    @property
    def is_range(self) -> bool:
        """Whether two ends were written."""
        return self.low is not self.high and self.low != self.high

    @property
    def middle(self) -> Fraction:
        """The amount that stands for a range in sums and ratios, in base units."""
        return (self.low + self.high) / 2 if self.is_range else self.low

    @property
    def is_vague(self) -> bool:
        """Whether the unit has no agreed size."""
        return self.unit.system is System.VAGUE

    def times(self, factor: Fraction) -> Quantity:
        """The quantity scaled, exactly; the author's text is kept as the record of where it came from."""
        terms = tuple(term.times(factor) for term in self.terms)
        return replace(self, low=self.low * factor, high=self.high * factor, terms=terms)

    def plus(self, other: Quantity) -> Quantity:
        """Both together, end by end, in this one's unit.

        Raises:
            UnlikeError: the other measures something else, or both are points on a scale.
        """
        self._same_as(other)
        if self.dimension is Dimension.TEMPERATURE:
            raise UnlikeError(f"{self.written!r} and {other.written!r} are points, which don't add up")
        return replace(self, low=self.low + other.low, high=self.high + other.high, terms=())

    def minus(self, other: Quantity) -> Quantity:
        """What is left of each end; raises as `plus` does."""
        return self.plus(other.times(Fraction(-1)))

    def over(self, other: Quantity) -> Fraction:
        """How many times the middle of the other goes into the middle of this one; raises as `plus` does."""
        self._same_as(other)
        if self.dimension is Dimension.TEMPERATURE:
            raise UnlikeError(f"{self.written!r} is a point, and no multiple of another")
        return self.middle / other.middle

    def ends(self) -> tuple[Quantity, Quantity]:
        """The low and the high end, each as one amount."""
        high = replace(self, low=self.high, unit=self.high_unit or self.unit, high_unit=None)
        return replace(self, high=self.low, high_unit=None), high

    def _same_as(self, other: Quantity) -> None:
        if self.dimension is not other.dimension:
            raise UnlikeError(
                f"{self.written!r} is a {self.dimension}, {other.written!r} a {other.dimension}"
            )


def quantity(
    low: Fraction | int, unit: Unit, *, high: Fraction | int | None = None, written: str = ""
) -> Quantity:
    """A quantity from numbers in ``unit``: ``quantity(2, units()["cup"])``."""
    top = low if high is None else high
    return Quantity(
        low=unit.to_base(Fraction(low)),
        high=unit.to_base(Fraction(top)),
        unit=unit,
        written=written or f"{low} {unit.symbol}",
    )
