"""Joint rounding: all amounts of a part chosen together, so that no ratio between them drifts.

Each amount has options with an error (printed over exact, less one) and a cost. The governing amounts
must share a window: every ratio between two of them stays within the limit exactly when the largest
error over the smallest, (1 + highest) / (1 + lowest) - 1, does. The window may sit off zero: a batch 1 %
larger all round is a better card than one whose ratios moved. Sweeping the window's lower edge over the
options' errors visits every window that can matter, so the optimum is exact.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.rewrite.printed import off


@frozen
class Option:
    """One way to print an amount."""

    error: Fraction  # printed over exact, less one
    cost: Fraction


@frozen
class Choice:
    """The option chosen for each amount, by its place among that amount's options."""

    picks: tuple[int, ...]
    cost: Fraction
    drift: Fraction  # the largest change of a ratio between two amounts


Amounts = Sequence[Sequence[Option]]


def drift(errors: Sequence[Fraction]) -> Fraction:
    """How far rounding moves the most-moved ratio between two amounts with these errors."""
    return off(1 + max(errors), 1 + min(errors)) if errors else Fraction(0)


def choose(amounts: Amounts, limit: Fraction) -> Choice | None:
    """The cheapest choice with every ratio within ``limit``; None where there is none.

    Among equal costs the one with the smallest sum of errors wins.
    """
    best: tuple[int, int, tuple[int, ...]] | None = None
    whole, by_cost = _in_whole_numbers(amounts)
    for lowest in sorted({error for few in by_cost for _, _, _, error in few}):
        # error / whole <= (1 + lowest / whole) * (1 + limit) - 1, without a division
        highest = (whole + lowest) * (limit.numerator + limit.denominator)
        chosen = [
            next(
                (
                    option
                    for option in few
                    if lowest <= option[3] and (whole + option[3]) * limit.denominator <= highest
                ),
                None,
            )
            for few in by_cost
        ]
        if None not in chosen:
            picked = [option for option in chosen if option is not None]
            choice = (
                sum(option[0] for option in picked),
                sum(option[1] for option in picked),
                tuple(option[2] for option in picked),
            )
            best = choice if best is None else min(best, choice)
    if best is None:
        return Choice(picks=(), cost=Fraction(0), drift=Fraction(0)) if not amounts else None
    options = [few[pick] for few, pick in zip(amounts, best[2], strict=True)]
    return Choice(
        picks=best[2],
        cost=sum((option.cost for option in options), Fraction(0)),
        drift=drift([option.error for option in options]),
    )


def _in_whole_numbers(amounts: Amounts) -> tuple[int, list[list[tuple[int, int, int, int]]]]:
    """Each amount's options, the cheapest first, as cost, error without its sign, place, and error.

    Costs and errors are brought to common denominators, since whole numbers compare many times faster than
    fractions; the errors' denominator is the first of the result.
    """
    whole = math.lcm(*(option.error.denominator for options in amounts for option in options))
    price = math.lcm(*(option.cost.denominator for options in amounts for option in options))
    return whole, [
        sorted(
            (
                option.cost.numerator * (price // option.cost.denominator),
                abs(error),
                place,
                error,
            )
            for place, option in enumerate(options)
            for error in (option.error.numerator * (whole // option.error.denominator),)
        )
        for options in amounts
    ]


def least_drift(amounts: Amounts) -> Fraction:
    """The smallest limit at which a choice exists: how far off the best of all choices is."""
    edges = sorted({option.error for options in amounts for option in options})
    best: Fraction | None = None
    for lowest in edges:
        above = [
            min((option.error for option in options if option.error >= lowest), default=None)
            for options in amounts
        ]
        errors = [error for error in above if error is not None]
        if len(errors) == len(amounts):
            best = drift(errors) if best is None else min(best, drift(errors))
    return best or Fraction(0)
