"""The linear programme of a teardown solved: the least and the most of each food, a formula, or a clash."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import Any

from cardsmith.bench.numerics import scipy
from cardsmith.bench.words import listed
from cardsmith.portion.teardown import (
    LOST,
    PRODUCT,
    LabelFood,
    Linear,
    Statement,
    Statements,
    Teardown,
    content,
    moisture,
    orders,
    statements,
)

SOLVED, IMPOSSIBLE, BOUNDLESS = 0, 2, 3  # scipy.optimize.OptimizeResult.status


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """Grams per 100 g of product; no ``most`` where the labels allow any amount."""

    least: float
    most: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Feasible:
    """What the labels allow, and one formula inside.

    Where nothing is feasible, ``clash`` names a smallest set of contradictory statements.
    """

    ranges: tuple[tuple[LabelFood, Bounds], ...] = ()
    lost: Bounds | None = None  # water that leaves
    moisture: Bounds | None = None  # water in the finished food
    formula: tuple[float, ...] = ()
    clash: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def feasible(taken: Teardown) -> Feasible:
    """The range of each food, a formula inside, or the clash."""
    notes = tuple(_notes(taken))
    ways = _ways(taken)
    if not ways:
        return Feasible(clash=_clash(taken), notes=notes)
    corners: list[list[float]] = []
    ranges = []
    for at, one in enumerate(taken.foods):
        bounds, found = _bounds(taken, ways, Linear(of={at: Fraction(1)}))
        ranges.append((one, bounds))
        corners += found
    lost, _ = _bounds(taken, ways, Linear(of={LOST: Fraction(1)}))
    least, _ = _bounds(taken, ways, moisture(taken, most=False))
    most, _ = _bounds(taken, ways, moisture(taken, most=True))
    # The solutions of one way form a convex set: the mean of some of its corners lies inside it.
    middle = tuple(sum(corner[at] for corner in corners) / len(corners) for at in range(len(ranges)))
    return Feasible(
        ranges=tuple(ranges),
        lost=lost,
        moisture=Bounds(least=least.least, most=most.most),
        formula=middle,
        notes=notes,
    )


def _ways(taken: Teardown) -> list[Statements]:
    """All statements, once for each way in which the orders of the lists may have come about."""
    common = statements(taken)
    each = [
        [way for way in orders(taken, label) if _possible(taken, (*common, *way))] for label in taken.labels
    ]
    joined = [(*common, *(row for way in chosen for row in way)) for chosen in product(*each)]
    return [rows for rows in joined if _possible(taken, rows)] if len(each) > 1 else joined


def _possible(taken: Teardown, rows: Sequence[Statement]) -> bool:
    return bool(_solve(taken, rows, Linear(of={}), 1).status == SOLVED)


def _bounds(taken: Teardown, ways: Sequence[Statements], aim: Linear) -> tuple[Bounds, list[list[float]]]:
    """The least and the most of ``aim`` in any way, and the corners of the first way where these lie."""
    corners: list[list[float]] = []
    lows: list[float] = []
    highs: list[float | None] = []
    for number, rows in enumerate(ways):
        low, high = _solve(taken, rows, aim, 1), _solve(taken, rows, aim, -1)
        lows.append(float(low.fun))
        highs.append(-float(high.fun) if high.status == SOLVED else None)
        if number == 0:
            corners += [[float(gram) for gram in end.x] for end in (low, high) if end.status == SOLVED]
    known = [high for high in highs if high is not None]
    most = max(known) if len(known) == len(highs) else None
    return Bounds(least=max(min(lows), 0.0), most=most), corners


def _solve(taken: Teardown, rows: Sequence[Statement], aim: Linear, sign: int) -> Any:
    """The amounts at which ``aim`` is least (sign 1) or most (−1)."""
    count = len(taken.foods) + 1
    found = scipy("optimize").linprog(
        [sign * gram for gram in _vector(aim, count)],
        A_ub=[_vector(row.amount, count) for row in rows] or None,
        b_ub=[-float(row.amount.constant) for row in rows] or None,
        A_eq=[[1.0] * len(taken.foods) + [-1.0]],
        b_eq=[float(PRODUCT)],
        bounds=(0, None),
        method="highs",
    )
    if found.status not in {SOLVED, IMPOSSIBLE, BOUNDLESS}:
        raise AssertionError(f"the linear programme ended without an answer: {found.message}")
    return found


def _vector(amount: Linear, count: int) -> list[float]:
    vector = [0.0] * count
    for at, gram in amount.of.items():
        vector[at] = float(gram)
    return vector


def _clash(taken: Teardown) -> tuple[str, ...]:
    """The names of a smallest contradictory set of statements: without any one of them the rest agree."""
    common = statements(taken)
    ways = [
        (*common, *(row for way in chosen for row in way))
        for chosen in product(*(orders(taken, label) for label in taken.labels))
    ]
    names = list(dict.fromkeys(row.name for rows in ways for row in rows))
    for name in tuple(names):
        rest = {one for one in names if one != name}
        if not any(_possible(taken, rows) for rows in _only(ways, rest)):
            names = [one for one in names if one != name]
    return tuple(names)


def _only(ways: Iterable[Statements], names: set[str]) -> Iterator[Statements]:
    """Each way with what is named alone; ways that come to the same once."""
    seen = set()
    for rows in ways:
        kept = tuple(row for row in rows if row.name in names)
        key = tuple(map(id, kept))
        if key not in seen:
            seen.add(key)
            yield kept


def _notes(taken: Teardown) -> Iterator[str]:
    figures = dict.fromkeys(one.nutrient for label in taken.labels for one in label.figures)
    for nutrient in figures:
        unknown = [one.text for one in taken.foods if content(one, nutrient)[1] is None]
        if unknown:
            plain = nutrient.removeprefix("EU ")
            yield f"no table gives the {plain} of {listed(unknown)}: its lower end is not used"
    listing = [label for label in taken.labels if label.is_list]
    for label in listing:
        named = {*label.listed, *label.small}
        lacking = [one.text for at, one in enumerate(taken.foods) if at not in named and not one.is_water]
        if lacking:
            yield f"the {label.law} label does not list {listed(lacking)}: the same foods by other names?"
    if not taken.allowance:
        yield "the maker's foods are taken to be the table's; allowance: 5 % would let them differ"
