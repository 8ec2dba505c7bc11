"""Pans as they are sold in both markets, and the geometry of any pan."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import cache

from cardsmith.frozen import frozen
from cardsmith.reference import OURS, Tables

INCH = Fraction(127, 5)  # mm, exactly
# An exact stand-in for pi, within 3e-7: areas are compared, never printed to more than three figures.
PI = Fraction(355, 113)


@frozen
class Pan:
    """A pan; ``edges`` are its diameter, or its length and width, in mm; ``depth`` in mm where known."""

    shape: str  # round, square, rectangle, loaf
    edges: tuple[Fraction, ...]
    depth: Fraction | None = None

    @property
    def area(self) -> Fraction:
        """The area of the bottom in mm²."""
        if self.shape == "round":
            return PI * self.edges[0] ** 2 / 4
        return self.edges[0] * self.edges[-1]

    @property
    def volume(self) -> Fraction | None:
        """What it holds to the brim, in ml; None where its depth is unknown."""
        return self.area * self.depth / 1000 if self.depth else None


@frozen
class Sold:
    """One pan as each market marks it."""

    us: Pan
    metric: Pan


@cache
def pans(tables: Tables = OURS) -> tuple[Sold, ...]:
    """Every pan of the table; the loader refuses markings that differ by more than the markets do."""
    sold = []
    for row in tables.rows("pans"):
        us = _pan(row["shape"], [row["inches"], row["inches_across"]], row["inches_deep"], INCH)
        metric = _pan(
            row["shape"],
            [row["centimetres"], row["centimetres_across"]],
            row["centimetres_deep"],
            Fraction(10),
        )
        for inch, centimetre in zip(us.edges, metric.edges, strict=True):
            if not math.isclose(inch, centimetre, rel_tol=0.04, abs_tol=4):
                raise ValueError(
                    f"pans.csv: {float(inch):g} mm and {float(centimetre):g} mm are not one edge"
                )
        sold.append(Sold(us=us, metric=metric))
    return tuple(sold)


def _pan(shape: str, edges: list[str], depth: str, unit: Fraction) -> Pan:
    return Pan(
        shape=shape,
        edges=tuple(Fraction(edge) * unit for edge in edges if edge),
        depth=Fraction(depth) * unit,
    )


@cache
def edges(tables: Tables = OURS) -> dict[str, dict[Fraction, Fraction]]:
    """Edges of pans in mm as one market marks them, to the other's: ``edges()["us"]`` goes to metric."""
    pairs = {
        pair
        for sold in pans(tables)
        for pair in zip((*sold.us.edges, sold.us.depth), (*sold.metric.edges, sold.metric.depth), strict=True)
    }
    to_metric: dict[Fraction, Fraction] = {}
    to_us: dict[Fraction, Fraction] = {}
    for us, metric in sorted((us, metric) for us, metric in pairs if us and metric):
        other, back = to_metric.setdefault(us, metric), to_us.setdefault(metric, us)
        if (other, back) != (metric, us):
            ends = f"{float(us / INCH):g} in and {float(metric / 10):g} cm"
            beside = f"{float(back / INCH):g} in and {float(other / 10):g} cm"
            raise ValueError(f"pans.csv: an edge is {ends}, another {beside}")
    return {"us": to_metric, "metric": to_us}
