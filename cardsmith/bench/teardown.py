"""A bought product taken apart: what its label allows of each ingredient, and a first formula inside that.

A linear programme over grams of each ingredient in 100 g of product: they weigh 100 g less the water that
left, stand in the label's order, and give the declared nutrients, each taken back to what its figure may
stand for. What the label does not settle stays a range.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from typing import Any

from cardsmith.bench.composition import Composition
from cardsmith.bench.label import Range
from cardsmith.bench.numerics import scipy
from cardsmith.bench.words import figure, listed
from cardsmith.finding import Where
from cardsmith.measure.larder import Food

ENERGY = {
    "protein": Fraction(4),
    "total carbohydrate": Fraction(4),
    "total fat": Fraction(9),
}  # 101.9(c)(1)(i)(B)
TWO_PERCENT = Fraction(1, 50)  # 21 CFR 101.4(a)(2)
PRODUCT = 100  # grams


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelFood:
    """One ingredient of a label."""

    where: Where
    text: str
    food: Food
    composition: Composition
    trace: bool = False  # among those of 2 % or less

    @property
    def is_water(self) -> bool:
        """Whether it is plain water: most of it may be gone, so its place in the order means little."""
        return self.food.share("water") == 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Teardown:
    """A product's label and what was measured. Nutrients per serving, as ranges; pieces in grams."""

    product: str
    foods: tuple[LabelFood, ...]
    serving: Range
    panel: Mapping[str, Range] = field(hash=False)
    declared: Mapping[str, str] = field(hash=False)
    moisture: Range | None = None  # shares of one
    allowance: Fraction = Fraction(0)
    pieces: tuple[Fraction, ...] = ()
    sizes: tuple[str, ...] = ()
    bought: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Constraint:
    """``sum(coefficients × grams) <= limit``; the name is shown when it clashes."""

    name: str
    coefficients: tuple[float, ...]
    limit: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Feasible:
    """What the label allows: grams per 100 g of product, least and most, and one formula inside.

    Where nothing is feasible, ``clash`` names a smallest set of contradictory statements.
    """

    ranges: tuple[tuple[LabelFood, float, float], ...] = ()
    formula: tuple[float, ...] = ()
    clash: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def constraints(taken: Teardown) -> tuple[Constraint, ...]:
    """Every statement of the label and the scale as rows of the programme; the last column is water lost."""
    return tuple(one for rows in (_mass(taken), _order(taken), _traces(taken), _panel(taken)) for one in rows)


def _row(name: str, coefficients: Sequence[Fraction | int], limit: Fraction | int) -> Constraint:
    return Constraint(name=name, coefficients=tuple(map(float, coefficients)), limit=float(limit))


def _mass(taken: Teardown) -> Iterator[Constraint]:
    water = [one.composition.per_100.get("water", Fraction(100)) / 100 for one in taken.foods]
    yield _row("no more water leaves than there is", [*(-share for share in water), 1], 0)
    if taken.moisture is not None:
        known = all("water" in one.composition.per_100 for one in taken.foods)
        low, high = taken.moisture.low * PRODUCT, taken.moisture.high * PRODUCT
        yield _row("the measured moisture", [*(-share for share in water), 1], -low)
        if known:
            yield _row("the measured moisture", [*water, -1], high)


def _order(taken: Teardown) -> Iterator[Constraint]:
    placed = [at for at, one in enumerate(taken.foods) if not one.trace and not one.is_water]
    for first, second in pairwise(placed):
        row = [Fraction(0)] * (len(taken.foods) + 1)
        row[first], row[second] = Fraction(-1), Fraction(1)
        name = f"the order: {taken.foods[first].text} before {taken.foods[second].text}"
        yield _row(name, row, 0)


def _traces(taken: Teardown) -> Iterator[Constraint]:
    """Two per cent of the product or of the mixture: a label may mean either, and the mixture weighs more."""
    for at, one in enumerate(taken.foods):
        if one.trace:
            row = [-TWO_PERCENT] * len(taken.foods) + [Fraction(0)]
            row[at] += 1
            yield _row(f"2 % or less of {one.text}", row, 0)


def _panel(taken: Teardown) -> Iterator[Constraint]:
    """Each nutrient between the ends of its figure, in a serving that may itself be rounded."""
    for nutrient, held in taken.panel.items():
        pairs = [_content(one.composition, nutrient) for one in taken.foods]
        slack = taken.allowance
        name = f"{nutrient} {taken.declared[nutrient]}"
        least = [(low or Fraction(0)) / 100 * (1 - slack) for low, _ in pairs]
        yield _row(name, [*least, 0], held.high * PRODUCT / taken.serving.low)
        if all(high is not None for _, high in pairs):
            most = [(high or Fraction(0)) / 100 * (1 + slack) for _, high in pairs]
            yield _row(name, [*(-one for one in most), 0], -held.low * PRODUCT / taken.serving.high)


def _content(known: Composition, nutrient: str) -> tuple[Fraction | None, Fraction | None]:
    """Least and most of a nutrient in 100 g; None for the most where the table has no value.

    Energy may be worked out by 4, 4 and 9 kcal or by each food's own factors (21 CFR 101.9(c)(1)(i)): both.
    """
    value = known.per_100.get(nutrient)
    if nutrient != "calories":
        return value, value
    if value is None or any(part not in known.per_100 for part in ENERGY):
        return None, None
    general = sum((known.per_100[part] * each for part, each in ENERGY.items()), Fraction(0))
    return min(value, general), max(value, general)


def feasible(taken: Teardown) -> Feasible:
    """The range of each ingredient, a formula inside, or the clash."""
    rows = constraints(taken)
    notes = tuple(_notes(taken))
    if _solve(taken, rows, None, 1) is None:
        return Feasible(clash=_clash(taken, rows), notes=notes)
    corners: list[Any] = []
    ranges = []
    for at, one in enumerate(taken.foods):
        least, most = _solve(taken, rows, at, 1), _solve(taken, rows, at, -1)
        if least is None or most is None:
            raise AssertionError("a programme that was feasible is so whatever is asked of it")
        corners += [least, most]
        ranges.append((one, max(float(least[at]), 0.0), float(most[at])))
    # The programme's solutions form a convex set: the mean of some of its corners lies inside it.
    middle = tuple(sum(float(corner[at]) for corner in corners) / len(corners) for at in range(len(ranges)))
    return Feasible(ranges=tuple(ranges), formula=middle, notes=notes)


def _solve(taken: Teardown, rows: Sequence[Constraint], at: int | None, sign: int) -> Any:
    """The amounts at which ingredient ``at`` is least (sign 1) or most (−1); None where nothing fits."""
    count = len(taken.foods) + 1
    aim = [0.0] * count
    if at is not None:
        aim[at] = float(sign)
    found = scipy("optimize").linprog(
        aim,
        A_ub=[row.coefficients for row in rows] or None,
        b_ub=[row.limit for row in rows] or None,
        A_eq=[[1.0] * len(taken.foods) + [-1.0]],
        b_eq=[float(PRODUCT)],
        bounds=[(0, 10 * PRODUCT)] * count,
        method="highs",
    )
    if found.status not in {0, 2}:
        raise AssertionError(f"the linear programme ended without an answer: {found.message}")
    return found.x if found.status == 0 else None


def _clash(taken: Teardown, rows: Sequence[Constraint]) -> tuple[str, ...]:
    """The names of a smallest contradictory set of statements: without any one of them the rest agree."""
    names = list(dict.fromkeys(row.name for row in rows))
    for name in tuple(names):
        rest = [one for one in names if one != name]
        if _solve(taken, [row for row in rows if row.name in rest], None, 1) is None:
            names = rest
    return tuple(names)


def _notes(taken: Teardown) -> Iterator[str]:
    for nutrient in taken.panel:
        unknown = [one.text for one in taken.foods if _content(one.composition, nutrient)[1] is None]
        if unknown:
            yield f"no table gives the {nutrient} of {listed(unknown)}: its lower end is not used"
    if not any(one.is_water for one in taken.foods):
        yield "water that baked out leaves no trace on a label: how wet the dough was is yours to find"
    if not taken.allowance:
        yield "the maker's flour and oil are taken to be the table's; allowance: 5 % would let them differ"


def told(taken: Teardown, found: Feasible) -> str:
    """The teardown as text; ranges rounded outwards, so that nothing feasible is left out."""
    lines = [taken.product, ""]
    if taken.pieces:
        mean = sum(taken.pieces, Fraction(0)) / len(taken.pieces)
        ends = f"{figure(min(taken.pieces))} to {figure(max(taken.pieces))} g"
        lines.append(f"A piece weighs {figure(mean)} g ({ends}, {len(taken.pieces)} weighed).")
    lines += [f"Size: {size}" for size in taken.sizes]
    if found.clash:
        lines += ["", "No formula fits. These can't all be true:", *(f"  {name}" for name in found.clash)]
        lines.append("Look for a slip in typing, or allow for other raw materials: allowance: 5 %")
        return "\n".join(lines)
    width = max(len(one.text) for one, _, _ in found.ranges)
    lines += ["", f"{'grams per 100 g of product':<{width}}  least   most  first formula"]
    for (one, low, high), first in zip(found.ranges, found.formula, strict=True):
        least, most = math.floor(low * 10 + 1e-6) / 10, math.ceil(high * 10 - 1e-6) / 10
        lines.append(f"{one.text:<{width}}  {least:>5.1f}  {most:>5.1f}  {first:>5.1f}")
    lines += [
        "",
        "Guesses, all of them, inside what the label allows.",
        *(f"Note: {one}." for one in found.notes),
    ]
    return "\n".join(lines)


def record(taken: Teardown, found: Feasible) -> dict[str, Any]:
    """The teardown as values that JSON can hold; grams per 100 g of product."""
    return {
        "product": taken.product,
        "ingredients": [
            {"item": one.text, "least": low, "most": high, "first_formula": first}
            for (one, low, high), first in zip(found.ranges, found.formula, strict=True)
        ],
        "clash": list(found.clash),
        "notes": list(found.notes),
    }
