"""A teardown as text for a terminal, and as plain values for a program."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from cardsmith.bench.formula.balance import usual_loss
from cardsmith.bench.wording import figure, share
from cardsmith.portion.teardown.labels import PRODUCT, Teardown
from cardsmith.portion.teardown.programme import Bounds, Feasible
from cardsmith.reference import OURS, Tables

HIDDEN = "water, on no label"


def in_words(taken: Teardown, feasible: Feasible, kind: str = "", tables: Tables = OURS) -> str:
    """The teardown as text; ranges rounded outwards, so that nothing feasible is left out.

    ``kind``, of the recipe it is for, says what such a thing usually loses.
    """
    lines = [taken.product, *_measured(taken)]
    if feasible.clash:
        lines += ["", "No formula fits. These can't all be true:", *(f"  {name}" for name in feasible.clash)]
        lines.append("Look for a slip in typing, or allow for other raw materials: allowance: 5 %")
        return "\n".join(lines)
    rows = [
        (HIDDEN if food.is_water and not taken.lists_water else food.text, bounds, first)
        for (food, bounds), first in zip(feasible.ranges, feasible.formula, strict=True)
    ]
    head = f"grams per {PRODUCT} g of product"
    width = max(len(head), *(len(name) for name, _, _ in rows))
    lines += ["", f"{head:<{width}}  least   most  first formula"]
    lines += [f"{name:<{width}}  {_ends(bounds)}  {first:>5.1f}" for name, bounds, first in rows]
    lines += ["", *_water(feasible), "Guesses, all of them, inside what the labels allow."]
    lines += [f"Note: {note}." for note in (*_open(taken, feasible, kind, tables), *feasible.notes)]
    return "\n".join(lines)


def _measured(taken: Teardown) -> Iterator[str]:
    yield ""
    if taken.pieces:
        mean = sum(taken.pieces, Fraction(0)) / len(taken.pieces)
        ends = f"{figure(min(taken.pieces))} to {figure(max(taken.pieces))} g"
        yield f"A piece weighs {figure(mean)} g ({ends}, {len(taken.pieces)} weighed)."
    yield from (f"Size: {size}" for size in taken.sizes)


def _down(value: float) -> float:
    return math.floor(value * 10 + 1e-6) / 10


def _up(value: float) -> float:
    return math.ceil(value * 10 - 1e-6) / 10


def _ends(bounds: Bounds) -> str:
    most = "any" if bounds.most is None else f"{_up(bounds.most):.1f}"
    return f"{_down(bounds.least):>5.1f}  {most:>5}"


def _span(bounds: Bounds) -> str:
    if bounds.most is None:
        return f"{_down(bounds.least):.1f} g or more"
    return f"{_down(bounds.least):.1f} to {_up(bounds.most):.1f} g"


def _water(feasible: Feasible) -> Iterator[str]:
    if feasible.lost is not None:
        yield f"Water that leaves: {_span(feasible.lost)}."
    if feasible.moisture is not None:
        yield f"Water left in {PRODUCT} g of it: {_span(feasible.moisture)}."


def _open(taken: Teardown, feasible: Feasible, kind: str, tables: Tables) -> Iterator[str]:
    """What the labels leave open about water, and what would settle it."""
    if taken.loss is None and feasible.lost is not None and feasible.lost.most is None:
        usual = usual_loss(kind, tables) if kind else None
        ends = (figure(usual[0] * 100), share(usual[1])) if usual else ("20", "30 %")
        given = (
            f" ({' to '.join(ends)} is usual for {kind.replace('-', ' ')}; common practice)" if usual else ""
        )
        yield (
            "no label tells how much water left (up to nine tenths is allowed for), so neither how wet the "
            f"dough was nor what 2 % of it is: say what you assume, such as loss: {' to '.join(ends)}{given}"
        )


def record(taken: Teardown, feasible: Feasible) -> dict[str, Any]:
    """The teardown as values that JSON can hold: grams per 100 g of product, null for no upper end."""
    return {
        "product": taken.product,
        "ingredients": [
            {"item": food.text, "least": bounds.least, "most": bounds.most, "first_formula": first}
            | ({"on_a_label": taken.lists_water} if food.is_water else {})
            for (food, bounds), first in zip(feasible.ranges, feasible.formula, strict=True)
        ],
        "water_that_leaves": _values(feasible.lost),
        "moisture": _values(feasible.moisture),
        "clash": list(feasible.clash),
        "notes": list(feasible.notes),
    }


def _values(bounds: Bounds | None) -> dict[str, float | None] | None:
    return None if bounds is None else {"least": bounds.least, "most": bounds.most}
