"""What is printed of an amount, as numbers and units; `wording` alone makes words of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.language.spans import Share
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension, System, Unit
from cardsmith.measure.weighing import Density

DEGREES = frozenset({Dimension.TEMPERATURE, Dimension.TEMPERATURE_CHANGE})


@frozen
class Term:
    """So many of one unit: 1½ cups. A ``word`` stands in place of the unit's own, "yolks" for a count."""

    number: Fraction
    unit: Unit
    word: str = ""

    @property
    def value(self) -> Fraction:
        """In base units of the unit's dimension."""
        return self.unit.to_base(self.number)


Terms = tuple[Term, ...]


@frozen
class Printed:
    """One amount in one column: the terms of its low and its high end, equal unless a range is printed.

    ``across`` holds the further edges of a size (9 by 13 inches), ``beside`` what stands in brackets (the
    weight of pieces, the size of one can) with its own ``share``, ``settings`` an oven's others (fan, gas).
    """

    low: Terms
    high: Terms
    bound: Bound = Bound.EXACTLY
    share: Share | None = None  # of what stands in brackets beside a count
    across: tuple[Printed, ...] = ()
    beside: tuple[Printed, ...] = ()
    settings: tuple[Printed, ...] = ()
    fan: bool = False  # an oven's setting for moving air
    fan_word: str = "fan"  # by which it goes in the market
    between: bool = False  # whether "and" joins both ends, behind a "between"
    words: str = ""  # printed in place of the terms: a vague amount stands as its author wrote it

    @property
    def dimension(self) -> Dimension:
        """What is measured."""
        return self.high[0].unit.dimension

    @property
    def least(self) -> Fraction:
        """The low end in base units."""
        return _sum(self.low)

    @property
    def most(self) -> Fraction:
        """The high end in base units."""
        return _sum(self.high)

    @property
    def is_range(self) -> bool:
        """Whether two ends are printed."""
        return self.low != self.high

    @property
    def is_container(self) -> bool:
        """Whether the size of one stands before the noun: 2 (14-ounce) cans."""
        named = self.low[0].word or self.low[0].unit.system is System.CONTAINER
        return bool(named) and any(printed.share is Share.EACH for printed in self.beside)

    def quantity(self) -> Quantity:
        """What the terms say, without what stands beside them."""
        low = self.least
        return Quantity(
            low=low,
            high=self.most if self.is_range else low,
            unit=self.low[0].unit,
            written=self.words,
            bound=self.bound,
            fan=self.fan,
            high_unit=self.high[0].unit if self.high[0].unit is not self.low[0].unit else None,
        )

    def quantities(self) -> tuple[Quantity, ...]:
        """Every statement: each edge, then what stands beside it, as printed (of one where it says each)."""
        return tuple(printed.quantity() for printed in (self, *self.across, *self.beside, *self.settings))

    def whole(self) -> Iterator[Quantity]:
        """Every statement of all of it: the size of one times how many there are."""
        count = self.quantity()
        yield count
        for printed in self.beside:
            said = printed.quantity()
            each = printed.share is Share.EACH
            yield replace(said, low=said.low * count.low, high=said.high * count.high) if each else said


def single(*terms: Term, bound: Bound = Bound.EXACTLY) -> Printed:
    """One amount without a range."""
    return Printed(low=terms, high=terms, bound=bound)


def _sum(terms: Terms) -> Fraction:
    return terms[0].value if len(terms) == 1 else sum((term.value for term in terms), Fraction(0))


@frozen
class Dual:
    """One measure in both systems, and where it came from."""

    author: str  # as written: "200 g"
    exact: tuple[Quantity, ...]  # what the author measured; of a size with several edges, each
    us: Printed
    metric: Printed
    us_error: Fraction | None = None  # printed over exact, less one, of the end furthest off; of a
    metric_error: Fraction | None = None  # temperature °C more than exact; None where nothing compares
    count: Quantity | None = None  # the author's beside the amount, of pieces or containers
    density: Density | None = None  # between the dimensions of author and columns, or of a count
    basis: str = ""  # what that rests on: "120 g per cup, spooned (USDA SR 28, food 20081)"

    @property
    def dimension(self) -> Dimension:
        """What the author measured."""
        return self.exact[0].dimension

    def of(self, system: str) -> Printed:
        """The column of ``system``: us or metric."""
        return self.us if system == "us" else self.metric

    def error(self, system: str) -> Fraction | None:
        """The error of that column."""
        return self.us_error if system == "us" else self.metric_error

    def as_used(self, system: str) -> Fraction:
        """The error of what a cook of that column takes: none where it counts what the author counted."""
        counted = self.count is not None or self.dimension is Dimension.COUNT
        if counted and self.of(system).dimension is Dimension.COUNT:
            return Fraction(0)
        return self.error(system) or Fraction(0)


def dual_of(
    author: str,
    exact: tuple[Quantity, ...],
    us: Printed,
    metric: Printed,
    *,
    count: Quantity | None = None,
    density: Density | None = None,
    basis: str = "",
) -> Dual:
    """A measure in both columns, with the errors of its printed terms; ``count`` is what stood beside it."""
    return Dual(
        author=author,
        exact=exact,
        us=us,
        metric=metric,
        us_error=error(exact, us, count, density),
        metric_error=error(exact, metric, count, density),
        count=count,
        density=density,
        basis=basis,
    )


def error(
    exact: tuple[Quantity, ...],
    printed: Printed,
    count: Quantity | None = None,
    density: Density | None = None,
) -> Fraction | None:
    """How far printed terms are off what the author said: of all edges, ends and statements the furthest.

    A statement is held against the author's in its own dimension, a count against the ``count`` beside the
    amount; through ``density`` where there is none. None where no statement can be compared.
    """
    if exact[0].is_vague:
        return None
    if len(exact) > 1:
        edges = [printed.quantity(), *(other.quantity() for other in printed.across)]
        gaps = [_gap(wanted, got) for wanted, got in zip(exact, edges, strict=True)]
    else:
        gaps = [
            _gap(wanted, got)
            for said in printed.whole()
            for wanted, got in [_comparable((*exact, *filter(None, (count,))), said, density)]
            if wanted and got
        ]
    return max((gap for gap in gaps if gap is not None), key=abs, default=None)


def _comparable(
    wanted: tuple[Quantity, ...], said: Quantity, density: Density | None
) -> tuple[Quantity | None, Quantity | None]:
    """The author's statement in the dimension of ``said``, or one that ``density`` brings it to."""
    same = next((quantity for quantity in wanted if quantity.dimension is said.dimension), None)
    if same:
        return same, said
    for quantity in wanted if density else ():
        if density and quantity.dimension is Dimension.MASS and said.dimension is density.per:
            return quantity, density.mass(said)
        if density and said.dimension is Dimension.MASS and quantity.dimension is density.per:
            return density.mass(quantity), said
    return None, None


def _gap(wanted: Quantity, got: Quantity) -> Fraction | None:
    """Of both ends the gap that is wider; a share, but degrees of a temperature."""
    if wanted.dimension is not got.dimension:
        return None
    pairs = [(wanted.low, got.low), (wanted.high, got.high)]
    if wanted.dimension in DEGREES:
        return max((said - meant for meant, said in pairs), key=abs)
    return max((off(said, meant) for meant, said in pairs if meant), key=abs, default=None)


def off(printed: Fraction, exact: Fraction) -> Fraction:
    """Printed over exact, less one; in whole numbers, since every candidate of every amount is asked."""
    over, under = printed.numerator * exact.denominator, exact.numerator * printed.denominator
    return Fraction(over - under, under)
