"""Limits of heat and cold as authorities print them on both scales: 165 °F is 74 °C, in Britain 75 °C."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from cardsmith.measure.units import System
from cardsmith.reference import table


@cache
def published(edition: str = "") -> Mapping[System, Mapping[Fraction, Fraction]]:
    """The other scale's figure, by the scale one has (°F or °C); an edition's own °C comes first.

    An edition's are stricter than their °F, so that none of them leads back to a milder one.
    """
    pairs = [_pair(row) for row in table("safety_pairs")]
    own = [_pair(row) for row in table("edition_heats") if row["edition"] == edition]
    return {System.US: dict((*pairs, *own)), System.METRIC: {c: f for f, c in pairs}}


def _pair(row: Mapping[str, str]) -> tuple[Fraction, Fraction]:
    return Fraction(row["fahrenheit"]), Fraction(row["celsius"])
