"""Joint rounding: all amounts of a part chosen together, so that no ratio between them drifts.

Each amount has options with an error (printed over exact, less one) and a cost. The governing amounts
must share a window: every ratio between two of them stays within the limit exactly when the largest
error over the smallest, (1 + highest) / (1 + lowest) - 1, does. The window may sit off zero: a batch 1 %
larger all round is a better card than one whose ratios moved. Sweeping the window's lower edge over the
options' errors visits every window that can matter, so the optimum is exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One way to print an amount."""

    error: Fraction  # printed over exact, less one
    cost: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The option chosen for each amount, by its place among that amount's options."""

    picks: tuple[int, ...]
    cost: Fraction
    drift: Fraction  # the largest change of a ratio between two amounts


Amounts = Sequence[Sequence[Option]]


def drift(errors: Sequence[Fraction]) -> Fraction:
    """How far rounding moves the most-moved ratio between two amounts with these errors."""
    return (1 + max(errors)) / (1 + min(errors)) - 1 if errors else Fraction(0)


def choose(amounts: Amounts, limit: Fraction) -> Choice | None:
    """The cheapest choice with every ratio within ``limit``; None where there is none.

    Among equal costs the one with the smallest sum of errors wins.
    """
    best: tuple[Fraction, Fraction, tuple[int, ...]] | None = None
    edges = sorted({option.error for options in amounts for option in options})
    for lowest in edges:
        highest = (1 + lowest) * (1 + limit) - 1
        picked = [_cheapest_within(options, lowest, highest) for options in amounts]
        if any(pick is None for pick in picked):
            continue
        picks = tuple(pick for pick in picked if pick is not None)
        chosen = [options[pick] for options, pick in zip(amounts, picks, strict=True)]
        cost = sum((option.cost for option in chosen), Fraction(0))
        error = sum((abs(option.error) for option in chosen), Fraction(0))
        if best is None or (cost, error, picks) < best:
            best = (cost, error, picks)
    if best is None:
        return Choice(picks=(), cost=Fraction(0), drift=Fraction(0)) if not amounts else None
    errors = [options[pick].error for options, pick in zip(amounts, best[2], strict=True)]
    return Choice(picks=best[2], cost=best[0], drift=drift(errors))


def _cheapest_within(options: Sequence[Option], lowest: Fraction, highest: Fraction) -> int | None:
    inside = [place for place, option in enumerate(options) if lowest <= option.error <= highest]
    return min(
        inside, key=lambda place: (options[place].cost, abs(options[place].error), place), default=None
    )


def least_drift(amounts: Amounts) -> Fraction:
    """The smallest limit at which a choice exists: how far off the best of all choices is."""
    edges = sorted({option.error for options in amounts for option in options})
    best: Fraction | None = None
    for lowest in edges:
        above = [
            min((one.error for one in options if one.error >= lowest), default=None) for options in amounts
        ]
        errors = [error for error in above if error is not None]
        if len(errors) == len(amounts):
            best = drift(errors) if best is None else min(best, drift(errors))
    return best or Fraction(0)
