"""A printed recipe held against the trial it rests on: amounts, times, temperatures.

Every make of the trial's formula counts as evidence, not only the first.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from cardsmith.bench.formula.changes import grams, same_food
from cardsmith.bench.log import MINUTE, RecordedHeat, Witness, clause_deeds
from cardsmith.bench.model import SAME_SETTING, Trial
from cardsmith.frozen import frozen
from cardsmith.language.spans import Measured, Purpose
from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Ingredient, Step

SAME, SAME_ACROSS = Fraction(1, 200), Fraction(3, 100)  # one measure; a weight against a cup of the larder
OTHER_BATCH = Fraction(1, 50)


@frozen
class FoodTotal:
    """The total of one food in a list. ``size`` is exact in base units; None where it can't be summed."""

    line: Ingredient  # the first that has it
    size: Fraction | None
    dimension: Dimension | None
    grams: Fraction | None

    @property
    def text(self) -> str:
        """As written, of the first line."""
        return self.line.amount.written if self.line.amount else self.line.text


def totals(lines: Iterable[Ingredient]) -> tuple[FoodTotal, ...]:
    """The total of each food in a list, without what is only for the pan or to taste."""
    groups: list[list[Ingredient]] = []
    for line in lines:
        if line.for_use or line.to_taste or line.amount is None:
            continue
        known = next((group for group in groups if same_food(group[0], line)), None)
        if known is None:
            groups.append([line])
        else:
            known.append(line)
    return tuple(_total(group) for group in groups)


def _total(group: list[Ingredient]) -> FoodTotal:
    amounts = [line.amount for line in group if line.amount is not None]
    weights = [grams(line) for line in group]
    comparable = len({amount.dimension for amount in amounts}) == 1
    return FoodTotal(
        line=group[0],
        size=sum((amount.middle for amount in amounts), Fraction(0)) if comparable else None,
        dimension=amounts[0].dimension if comparable else None,
        grams=sum((weight or Fraction(0) for weight in weights), Fraction(0)) if all(weights) else None,
    )


@frozen
class Compared:
    """The list compared with the trial's: the batch as a multiple of it, and amounts that don't match."""

    factor: Fraction
    unlike: tuple[tuple[FoodTotal, FoodTotal], ...]  # printed, tested
    untested: tuple[FoodTotal, ...]
    missing: tuple[FoodTotal, ...]


def compared(printed: Iterable[Ingredient], trial: Trial) -> Compared:
    """The printed list against the trial's formula, at the batch size that fits most of its lines."""
    from statistics import median  # noqa: PLC0415 - it loads much, and most recipes name no trial

    mine, tested = totals(printed), totals(trial.ingredients)
    pairs = [(own, two) for own in mine for two in tested if same_food(own.line, two.line)]
    ratios = {id(own): _ratio(own, two) for own, two in pairs}
    known = [ratio[0] for ratio in ratios.values() if ratio]
    factor = Fraction(median(known)) if known else Fraction(1)
    if abs(factor - 1) <= OTHER_BATCH:
        factor = Fraction(1)
    return Compared(
        factor=factor,
        unlike=tuple(
            (own, two)
            for own, two in pairs
            if (ratio := ratios[id(own)]) and abs(ratio[0] / factor - 1) > ratio[1]
        ),
        untested=tuple(total for total in mine if all(total is not paired for paired, _ in pairs)),
        missing=tuple(two for two in tested if all(two is not paired for _, paired in pairs)),
    )


def _ratio(total: FoodTotal, two: FoodTotal) -> tuple[Fraction, Fraction] | None:
    """Printed by tested, and how far it may be from the batch's; None where nothing can be compared."""
    if total.size is not None and two.size and total.dimension is two.dimension:
        return total.size / two.size, SAME
    if total.grams is not None and two.grams:
        return total.grams / two.grams, SAME_ACROSS
    return None


@frozen
class Evidence:
    """Whether the makes confirm one printed time; ``seen`` is what they recorded instead, in seconds."""

    borne_out: bool
    seen: tuple[Fraction, ...]


@frozen
class HeatEvidence:
    """Whether the makes confirm one printed temperature; ``seen`` is what they recorded instead."""

    borne_out: bool
    seen: tuple[RecordedHeat, ...]


def judge_duration(step: Step, span: Measured, witnesses: tuple[Witness, ...]) -> Evidence:
    """One printed time against the log, matched by what the nearest clause before it says is done."""
    for deed in clause_deeds(step.text[: max(step.text.find(span.text), 0)]):
        known = [witness for witness in witnesses if deed in witness.deeds]
        if known:
            low, high = span.quantity.low, span.quantity.high
            slack = max(Fraction(MINUTE), high / 10) if low == high else Fraction(0)
            seen = {witness.value for witness in known if witness.whole} or {
                witness.value for witness in known
            }
            return Evidence(
                borne_out=any(low - slack <= witness.value <= high + slack for witness in known),
                seen=tuple(sorted(seen)),
            )
    return Evidence(borne_out=False, seen=())


def judge_temperature(span: Measured, read: tuple[RecordedHeat, ...]) -> HeatEvidence:
    """One printed temperature against everything that was set or read; safety limits are a floor.

    An oven's is held against what the food met there, by the dial and the oven's offset.
    """
    low, high = span.quantity.low - SAME_SETTING, span.quantity.high + SAME_SETTING
    if span.purpose is Purpose.OVEN and any(heat.dial is not None for heat in read):
        read = tuple(heat for heat in read if heat.dial is not None)
    met = [heat.met for heat in read]
    borne_out = any(low <= value <= high for value in met)
    if span.purpose is Purpose.CORE:
        borne_out = any(low <= value for value in met if value < 110)
    return HeatEvidence(borne_out=borne_out, seen=read)
