"""The rounding of a label, both ways: how an amount is declared, and what a figure may mean.

Sources: 21 CFR 101.9(c), the steps as in FDA's Food Labeling Guide, Appendix H, and the European
Commission's guidance on rounding (2012), row by row in ``nutrition_label.csv``. Of two forms that a rule
allows, the first row is how we declare; a figure is taken back to all that any row lets it mean.
"""

from __future__ import annotations

import math
from fractions import Fraction
from functools import cache

from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.language.quantities import read_quantity
from cardsmith.measure.quantity import Bound
from cardsmith.reference import table

SERVING_STEP = Fraction(1)  # grams, above 5 g: 21 CFR 101.9(b)(7)
# What is no more of a food may stand behind the others in any order. By US law (21 CFR 101.4(a)(2)) of what
# is mixed, since its order is that of mixing, behind a line that names the share; by EU law of the finished
# food (Regulation (EU) 1169/2011, Annex VII, A 6), without a line.
SMALL = Fraction(2, 100)
# What added water may be of the finished food and not be listed: Regulation (EU) 1169/2011, Annex VII, A 1.
WATER_ALLOWANCE = Fraction(5, 100)


@frozen
class Range:
    """All that a figure may stand for; both ends count as possible."""

    low: Fraction
    high: Fraction


@frozen
class _Step:
    low: Fraction
    high: Fraction | None
    low_included: bool
    high_included: bool
    unit: str
    declares: str  # nearest, 0, less than 1 g
    step: Fraction

    @property
    def below(self) -> Fraction | None:
        """The number of ``less than 1 g``; None where a figure is declared."""
        words = self.declares.removeprefix("less than ").split()
        return Fraction(words[0]) if self.declares.startswith("less than ") else None

    def holds(self, amount: Fraction) -> bool:
        above = amount > self.low or (self.low_included and amount == self.low)
        if self.high is None:
            return above
        return above and (amount < self.high or (self.high_included and amount == self.high))


@cache
def _steps(nutrient: str) -> tuple[_Step, ...]:
    steps = tuple(
        _Step(
            low=Fraction(row["from"]),
            high=Fraction(row["to"]) if row["to"] else None,
            low_included=row["from_included"] == "yes",
            high_included=row["to_included"] == "yes",
            unit=row["unit"],
            declares=row["declares"],
            step=Fraction(row["step"] or 1),
        )
        for row in table("nutrition_label")
        if row["nutrient"] == nutrient
    )
    if not steps:
        raise ValueError(f"nutrition_label.csv knows no {nutrient}")
    return steps


def declared(nutrient: str, amount: Fraction) -> str:
    """What a label declares for an amount in a serving: ``3.5 g``, ``less than 1 g``, ``180``.

    Raises:
        ValueError: the amount is less than nothing, or the nutrient is not in the table.
    """
    step = next((step for step in _steps(nutrient) if step.holds(amount)), None)
    if step is None:
        raise ValueError(f"{amount} of {nutrient} can't be declared")
    if step.below is not None:
        return step.declares
    number = Fraction(0)
    if step.declares == "nearest":
        number = math.floor(amount / step.step + Fraction(1, 2)) * step.step
    text = f"{float(number):g}"
    return text if step.unit == "kcal" else f"{text} {step.unit}"


def taken_back(nutrient: str, text: str) -> Range | None:
    """What a declared figure may stand for; None where no label prints it so.

    Where two rules can print one figure (50 kcal, from either side), the range spans both.
    """
    low_high = [
        behind for step in _steps(nutrient) if (behind := _behind(step, nutrient, text.strip())) is not None
    ]
    if not low_high:
        return None
    return Range(low=min(low for low, _ in low_high), high=max(high for _, high in low_high))


def _behind(step: _Step, nutrient: str, text: str) -> tuple[Fraction, Fraction] | None:
    figure, _ = read_quantity(text, Where(file=""))
    if figure is None or figure.is_range or figure.bound not in {Bound.EXACTLY, Bound.AT_MOST}:
        return None
    number, unit = figure.unit.from_base(figure.low), figure.unit.symbol or step.unit
    if figure.bound is Bound.AT_MOST:
        said = step.below is not None and (number, unit) == (step.below, step.unit)
        return (step.low, step.high) if said and step.high is not None else None
    if unit != step.unit:
        return None
    if step.declares == "0":
        return (step.low, step.high) if number == 0 and step.high is not None else None
    if step.declares != "nearest" or number % step.step:
        return None
    low, high = number - step.step / 2, number + step.step / 2
    low = max(low, step.low)
    high = high if step.high is None else min(high, step.high)
    return (low, high) if low <= high else None


def serving_range(grams: Fraction) -> Range:
    """What a declared serving in grams may weigh: to the gram above 5, to half a gram from 2, else 0.1 g."""
    step = SERVING_STEP if grams > 5 else Fraction(1, 2) if grams >= 2 else Fraction(1, 10)
    return Range(low=grams - step / 2, high=grams + step / 2)


def share_range(low: Fraction, high: Fraction) -> Range:
    """What a percentage in a list of ingredients may stand for; in per cent, both ends as printed.

    It is rounded to its last place, or to the half below 5 % (UK guidance on labelled quantities; memory).
    """
    return Range(low=max(low - _half_place(low), Fraction(0)), high=high + _half_place(high))


_PLACES = (Fraction(1), Fraction(1, 10), Fraction(1, 100))


def _half_place(share: Fraction) -> Fraction:
    place = next((step for step in _PLACES if not share % step), _PLACES[-1])
    halves = share < 5 and place < 1 and share % Fraction(1, 2) == 0
    return max(place, Fraction(1, 2) if halves else place) / 2
