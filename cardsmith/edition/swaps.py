"""What an author writes in an edition for a food that has no plain swap, held against what it stands for.

A name alone (``light brown sugar: soft light brown sugar``) changes the name; an amount (``heavy cream: 250 g
double cream let down with 50 g milk``) is a line, or two, in place of the one there. Either brings the same
fat, water and salt, within what a cook would notice, or a finding says by how much not.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from cardsmith.edition.markets import markets
from cardsmith.finding import Finding, Severity
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Larder
from cardsmith.recipe.fields.lines import read_lines
from cardsmith.recipe.model import EditionAnswer, Ingredient
from cardsmith.recipe.weighed import weigh

# How far what a swap brings may stand off, as a share of what the line weighs (common practice, no source).
LIMITS: Mapping[str, Fraction] = {
    "fat": Fraction(1, 20),
    "water": Fraction(1, 20),
    "salt": Fraction(1, 400),
}


@frozen
class Swapped:
    """The lines in place of one, and what is to be said of them."""

    lines: tuple[Ingredient, ...]
    findings: tuple[Finding, ...] = ()


def swapped(line: Ingredient, answer: EditionAnswer, larder: Larder, key: str) -> Swapped:
    """``line`` as its author wants it in an edition."""
    read, findings = read_lines(answer.instead, answer.where, larder)
    if any(one.severity is Severity.ERROR for one in findings) or not read:
        return Swapped(lines=(line,), findings=findings)
    first, *more = read
    if first.amount is None:
        new = replace(line, food=first.food or line.food)
        return Swapped(lines=(new,), findings=tuple(_differs(line, (new,), answer, key)))
    kept = replace(first, key=line.key, divided=line.divided, optional=line.optional, for_use=line.for_use)
    lines = (kept, *more)
    return Swapped(lines=lines, findings=tuple(_differs(line, lines, answer, key)))


def _differs(
    line: Ingredient, lines: Iterable[Ingredient], answer: EditionAnswer, key: str
) -> Iterator[Finding]:
    before, after = brings((line,)), brings(lines)
    if not before or not after:
        return
    off = {
        role: after[role] - before[role]
        for role, limit in LIMITS.items()
        if abs(after[role] - before[role]) > limit * before["whole"]
    }
    if not off:
        return
    told = ", ".join(
        f"{float(after[role]):.1f} g {role} where the author's has {float(before[role]):.1f}" for role in off
    )
    yield Finding(
        name="edition-swap-differs",
        severity=Severity.WARNING,
        where=answer.where,
        what=f"in the {markets()[key].name} “{answer.instead}” brings {told}",
        instead="amounts that bring the same, or say under accepted why it works",
        width=max(1, len(answer.instead)),
    )


def brings(lines: Iterable[Ingredient]) -> Mapping[str, Fraction]:
    """The grams of each role of `LIMITS` that lines bring, and of the whole; empty where one is unknown."""
    found = dict.fromkeys((*LIMITS, "whole"), Fraction(0))
    for line in lines:
        mass = weigh(line, line.amount) if line.amount and line.food else None
        if mass is None or line.food is None:
            return {}
        found["whole"] += mass.grams
        for role in LIMITS:
            found[role] += mass.grams * line.food.share(role)
    return found
