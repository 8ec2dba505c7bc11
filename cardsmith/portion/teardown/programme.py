"""The linear programme of a teardown solved: the least and the most of each food, a formula, or a clash."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product
from typing import Any

from cardsmith.bench.numerics import scipy
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed
from cardsmith.portion.teardown.labels import (
    LOST,
    MOST_LOST,
    PRODUCT,
    Constraint,
    LabelFood,
    Linear,
    Statements,
    Teardown,
    content,
    moisture,
    orders,
    statements,
)

MARGIN = Fraction(25)  # grams of water beyond the least, for a first formula (common practice, no source)
SOLVED, IMPOSSIBLE, BOUNDLESS = 0, 2, 3  # scipy.optimize.OptimizeResult.status


@frozen
class Bounds:
    """Grams per 100 g of product; no ``most`` where the labels allow any amount."""

    least: float
    most: float | None


@frozen
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
    ways = list(_ways(taken))
    if not ways:
        return Feasible(clash=_clash(taken), notes=notes)
    ranges = [(food, _bounds(taken, ways, _food(at))) for at, food in enumerate(taken.foods)]
    least = _bounds(taken, ways, moisture(taken, most=False))
    most = _bounds(taken, ways, moisture(taken, most=True))
    return Feasible(
        ranges=tuple((food, _open(taken, bounds) if food.is_water else bounds) for food, bounds in ranges),
        lost=_open(taken, _bounds(taken, ways, _food(LOST))),
        moisture=Bounds(least=least.least, most=most.most),
        formula=_inside(taken, ways[0]),
        notes=notes,
    )


def _food(at: int) -> Linear:
    return Linear(of={at: Fraction(1)})


def _open(taken: Teardown, bounds: Bounds) -> Bounds:
    """Bounds without the upper end that only `MOST_LOST` gave them."""
    is_bounded = taken.loss is not None or bounds.most is None or bounds.most < PRODUCT / (1 - MOST_LOST) / 2
    return bounds if is_bounded else Bounds(least=bounds.least, most=None)


def _inside(taken: Teardown, rows: Statements) -> tuple[float, ...]:
    """A formula of one way: the mean of corners of its convex set lies inside it.

    Where no loss is told, little more water than it takes is thought to have left.
    """
    if taken.loss is None:
        least = Fraction(_solve(taken, rows, _food(LOST), 1).fun)
        dry = Linear(of={LOST: Fraction(1)}, constant=-least - MARGIN)
        rows = (*rows, Constraint(name="little water", amount=dry))
    corners = [_solve(taken, rows, _food(at), sign) for at in range(len(taken.foods)) for sign in (1, -1)]
    solved = [corner.x for corner in corners if corner.status == SOLVED]
    return tuple(
        float(sum(corner_x[at] for corner_x in solved) / len(solved)) for at in range(len(taken.foods))
    )


def _ways(taken: Teardown, names: frozenset[str] | None = None) -> Iterator[Statements]:
    """All statements, once for each way in which the orders of the lists may have come about.

    Only ways without a contradiction; with ``names``, of the statements so named alone.
    """

    def kept(rows: Statements) -> Statements:
        return rows if names is None else tuple(row for row in rows if not row.name or row.name in names)

    common = kept(statements(taken))
    each = []
    for label in taken.labels:
        ways = dict.fromkeys(map(kept, orders(taken, label)))
        each.append([way for way in ways if _possible(taken, (*common, *way))])
    for chosen in product(*each):
        rows = (*common, *(row for way in chosen for row in way))
        if len(each) == 1 or _possible(taken, rows):
            yield rows


def _possible(taken: Teardown, rows: Sequence[Constraint]) -> bool:
    return bool(_solve(taken, rows, Linear(of={}), 1).status == SOLVED)


def _bounds(taken: Teardown, ways: Sequence[Statements], aim: Linear) -> Bounds:
    """The least and the most of ``aim`` in any way."""
    lows = [float(_solve(taken, rows, aim, 1).fun) for rows in ways]
    ends = [_solve(taken, rows, aim, -1) for rows in ways]
    most = max(-float(end.fun) for end in ends) if all(end.status == SOLVED for end in ends) else None
    return Bounds(least=max(min(lows), 0.0), most=most)


def _solve(taken: Teardown, rows: Sequence[Constraint], aim: Linear, sign: int) -> Any:
    """The amounts at which ``aim`` is least (sign 1) or most (−1)."""
    count = len(taken.foods) + 1
    solution = scipy("optimize").linprog(
        [sign * gram for gram in _vector(aim, count)],
        A_ub=[_vector(row.amount, count) for row in rows] or None,
        b_ub=[-float(row.amount.constant) for row in rows] or None,
        A_eq=[[1.0] * len(taken.foods) + [-1.0]],
        b_eq=[float(PRODUCT)],
        bounds=(0, None),
        method="highs",
    )
    if solution.status not in {SOLVED, IMPOSSIBLE, BOUNDLESS}:
        raise AssertionError(f"the linear programme ended without an answer: {solution.message}")
    return solution


def _vector(amount: Linear, count: int) -> list[float]:
    vector = [0.0] * count
    for at, gram in amount.of.items():
        vector[at] = float(gram)
    return vector


def _clash(taken: Teardown) -> tuple[str, ...]:
    """The names of a smallest contradictory set of statements: without any one of them the rest agree."""
    rows = [*statements(taken), *(row for label in taken.labels for row in orders(taken, label)[0])]
    names = dict.fromkeys(row.name for row in rows if row.name)
    for name in tuple(names):
        rest = frozenset(names) - {name}
        if next(_ways(taken, rest), None) is None:
            del names[name]
    return tuple(names)


def _notes(taken: Teardown) -> Iterator[str]:
    figures = dict.fromkeys(figure.nutrient for label in taken.labels for figure in label.figures)
    unknown: dict[tuple[str, ...], list[str]] = {}
    for nutrient in figures:
        foods = tuple(food.text for food in taken.foods if content(food, nutrient)[1] is None)
        unknown.setdefault(foods, []).append(nutrient.removeprefix("EU "))
    for foods, nutrients in unknown.items():
        if foods:
            which = listed(list(dict.fromkeys(nutrients)))
            yield f"no table gives the {which} of {listed(foods)}: of these no lower end is used"
    listing = [label for label in taken.labels if label.is_list]
    for label in listing:
        named = {*label.listed, *label.small}
        lacking = [food.text for at, food in enumerate(taken.foods) if at not in named and not food.is_water]
        if lacking:
            yield f"the {label.law} label does not list {listed(lacking)}: perhaps by another name"
    if not taken.allowance:
        yield "the maker's foods are taken to be the table's; allowance: 5 % would let them differ"
