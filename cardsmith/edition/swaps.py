"""What an author writes in an edition for a food that has no plain swap, held against what it stands for.

A name alone (``light brown sugar: soft light brown sugar``) changes the name; an amount (``heavy cream: 250 g
double cream let down with 50 g milk``) is a line, or two, in place of the one there. Either brings the same
fat, water and salt, gelatine that sets as much, yeast that raises as much, within what a cook would notice,
or a finding says by how much not.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache

from cardsmith.edition.asks import asked
from cardsmith.edition.markets import Market
from cardsmith.edition.sold import pack_grams
from cardsmith.finding import Finding, Severity
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Food, Larder
from cardsmith.measure.units import Dimension
from cardsmith.recipe.fields.lines import read_lines
from cardsmith.recipe.model import EditionAnswer, Ingredient
from cardsmith.recipe.weighed import weigh
from cardsmith.reference import table

DIFFERS = "edition-swap-differs"
# How far what a swap brings may stand off, as a share of what the line weighs (common practice, no source).
LIMITS: Mapping[str, Fraction] = {
    "fat": Fraction(1, 20),
    "water": Fraction(1, 20),
    "salt": Fraction(1, 400),
}
STRENGTH = Fraction(7, 100)  # of what sets or raises, as far as a house may round it (tolerance_ceilings.csv)


@frozen
class Swapped:
    """The lines in place of one, and what is to be said of them."""

    lines: tuple[Ingredient, ...]
    findings: tuple[Finding, ...] = ()


def swapped(line: Ingredient, answer: EditionAnswer, larder: Larder, market: Market) -> Swapped:
    """``line`` as its author wants it in an edition."""
    read, findings = read_lines(answer.instead, answer.where, larder)
    if any(finding.severity is Severity.ERROR for finding in findings) or not read:
        return Swapped(lines=(line,), findings=findings)
    first, *more = read
    if first.amount is None:
        lines: tuple[Ingredient, ...] = (replace(line, food=first.food or line.food),)
    else:
        kept = replace(
            first,
            key=line.key,
            divided=line.divided,
            optional=line.optional,
            for_use=line.for_use,
            where=line.where,  # by which its portion knows it
        )
        lines = (kept, *more)
    off = _strength_off if _strength(line.food) else _shares_off
    difference = ", ".join(off(line, lines))
    if not difference:
        return Swapped(lines=lines)
    differs = asked(
        answer.where,
        f"in the {market.name} “{answer.instead}” brings {difference}",
        "amounts that bring the same, or say under accepted why it works",
        answer.instead,
        name=DIFFERS,
    )
    return Swapped(lines=lines, findings=(differs,))


def _shares_off(line: Ingredient, lines: Iterable[Ingredient]) -> Iterator[str]:
    """What of fat, water and salt stands too far off."""
    before, after = brings((line,)), brings(lines)
    if before and after:
        for role, limit in LIMITS.items():
            if abs(after[role] - before[role]) > limit * before["whole"]:
                yield f"{float(after[role]):.1f} g {role} where the author's has {float(before[role]):.1f}"


def _strength_off(line: Ingredient, lines: Iterable[Ingredient]) -> Iterator[str]:
    """Gelatine and yeast of another strength, as so much of the author's own."""
    if (of := _strength(line.food)) is None or (before := _strong(line, of[0])) in (None, 0):
        return
    each = [_strong(other, of[0]) for other in lines]
    if None in each or before is None:
        return
    off = sum((strength for strength in each if strength is not None), Fraction(0)) / before - 1
    if abs(off) > STRENGTH:
        yield f"{of[0]} {round(abs(off) * 100)} % {'stronger' if off > 0 else 'weaker'} than the author's"


@cache
def _strengths() -> Mapping[str, tuple[str, Fraction]]:
    return {row["food"]: (row["of"], Fraction(row["per_gram"])) for row in table("setting_strengths")}


def _strength(food: Food | None) -> tuple[str, Fraction] | None:
    return _strengths().get(food.key) if food else None


def _strong(line: Ingredient, of: str) -> Fraction | None:
    """How much a line sets or raises; None where nobody knows what it weighs."""
    strength = _strength(line.food)
    if strength is None or strength[0] != of:
        return Fraction(0)
    grams = whole(line)
    return grams * strength[1] if grams is not None else None


def whole(line: Ingredient) -> Fraction | None:
    """The grams of a line, of packs too whose size the larder knows; None where nobody does."""
    if line.amount is None or line.food is None:
        return None
    if mass := weigh(line, line.amount):
        return mass.grams
    counted = line.amount.dimension is Dimension.COUNT
    pack_weight = pack_grams(line.food, line.amount.unit.name) if counted else None
    return line.amount.middle * pack_weight if pack_weight else None


def brings(lines: Iterable[Ingredient]) -> Mapping[str, Fraction]:
    """The grams of each role of `LIMITS` that lines bring, and of the whole; empty where one is unknown."""
    brought = dict.fromkeys((*LIMITS, "whole"), Fraction(0))
    for line in lines:
        mass = weigh(line, line.amount) if line.amount and line.food else None
        if mass is None or line.food is None:
            return {}
        brought["whole"] += mass.grams
        for role in LIMITS:
            brought[role] += mass.grams * line.food.share(role)
    return brought
