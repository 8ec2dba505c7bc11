"""How closely a card's columns agree, worked out from the printed words of every line, read again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import combinations

from cardsmith.facts.foods.roles import role_class
from cardsmith.frozen import frozen
from cardsmith.house.style import SYSTEMS, House
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import Dimension
from cardsmith.readback.findings import percent
from cardsmith.readback.lines import Again, Ends, lists_again
from cardsmith.rewrite.card.model import Card
from cardsmith.rewrite.printed import off
from cardsmith.rewrite.rounding.joint import drift
from cardsmith.words import Figure, Said


@frozen
class Gap:
    """How far a line's columns stand from the author's amount: each of their statements, by its ends."""

    us: tuple[Ends, ...]
    metric: tuple[Ends, ...]
    part: int
    governs: bool

    @property
    def apart(self) -> Fraction:
        """US over metric, the same end of any statement of each."""
        pairs = ((us[end], metric[end]) for us in self.us for metric in self.metric for end in (0, 1))
        return max((abs(off(1 + us, 1 + metric)) for us, metric in pairs), default=Fraction(0))


def agreement(card: Card, larder: Larder) -> str:
    """``US and metric agree within 2.4 % on every line; no ratio moves by more than 2.1 %.``"""
    gaps = list(_gaps(card, larder))
    if not gaps:
        return ""
    lines = Figure(percent(max(gap.apart for gap in gaps)))
    moved = max(_moved(gaps, system) for system in SYSTEMS)
    if not moved:
        return Said("US and metric agree within {share} on every line.", share=lines)
    return Said(
        "US and metric agree within {share} on every line; no ratio of the formula, salt and leaven "
        "included, moves by more than {ratio}.",
        share=lines,
        ratio=Figure(percent(moved)),
    )


def cups_agreement(card: Card, larder: Larder, house: House) -> str:
    """``Cups and weights agree within 2.4 % on every line.``: of an edition whose cups have a weight beside.

    Empty where no line has both.
    """
    gaps = [
        abs(off(1 + cup[end], 1 + beside[end]))
        for rows in lists_again(card.parts, larder, house.household)
        for _, columns in rows
        for cup, beside in _both(columns["metric"])
        for end in (0, 1)
    ]
    if not gaps:
        return ""
    return Said("Cups and weights agree within {share} on every line.", share=Figure(percent(max(gaps))))


def _both(again: Again) -> Iterator[tuple[Ends, Ends]]:
    """The errors of a cup and of the weight beside it."""
    statements, errors = again.read.statements, again.errors
    if len(errors) > 1 and statements[0].quantity.dimension is Dimension.VOLUME:
        first, second = errors[:2]
        if first and second:
            yield first, second


def _moved(gaps: Iterable[Gap], system: str) -> Fraction:
    """How far the worst ratio of two lines of one part is off in a column."""
    pairs = (
        (first[end], second[end])
        for gap, other in combinations([gap for gap in gaps if gap.governs], 2)
        if gap.part == other.part
        for first in getattr(gap, system)
        for second in getattr(other, system)
        for end in (0, 1)
    )
    return max((drift(pair) for pair in pairs if pair[0] != pair[1]), default=Fraction(0))


def _gaps(card: Card, larder: Larder) -> Iterator[Gap]:
    """Every line of which the author gave an amount."""
    for place, rows in enumerate(lists_again(card.parts, larder, "")):
        for line, columns in rows:
            us, metric = (tuple(filter(None, columns[system].errors)) for system in SYSTEMS)
            aside = line.for_use or line.optional or line.to_taste
            formula = role_class(line.food) not in {"other", "seasoning"}
            yield Gap(us=us, metric=metric, part=place, governs=formula and not aside)
