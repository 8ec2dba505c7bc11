"""How far rounding moves the ratios of a formula, and how many measures a line needs: ours against nearest.

Run ``python tests/benchmarks/rounding.py``; it prints the table of DEVELOPERS.md (about a minute).
"""

from __future__ import annotations

import random
import statistics
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from cardsmith.facts.foods.roles import role_class
from cardsmith.house.style import House, load_house
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.measure.quantity import Quantity, quantity
from cardsmith.measure.units import Dimension, units
from cardsmith.recipe.load import read_recipe
from cardsmith.rewrite.printed import Term
from cardsmith.rewrite.rounding.food_amount import FoodAmount
from cardsmith.rewrite.rounding.joint import Option, choose, drift, least_drift
from cardsmith.rewrite.rounding.ladder import Candidate, us_volumes
from cardsmith.rewrite.rounding.printable import Printable, us_printables

ROOT = Path(__file__).parents[2]
SEED = 1976
FORMULAS = 500
LIMITS = tuple(Fraction(percent, 100) for percent in (1, 2, 3, 5))
# Grams a batch; the ends are those of a home kitchen (common practice, no source).
FLOURS = ("all-purpose-flour", "bread-flour", "whole-wheat-flour", "cake-flour", "whole-rye-flour")
REST = {
    "water": (0.3, 0.8),
    "whole-milk": (0.2, 0.8),
    "granulated-sugar": (0.1, 1.0),
    "light-brown-sugar": (0.1, 0.8),
    "unsalted-butter": (0.1, 0.9),
    "vegetable-oil": (0.08, 0.5),
    "honey": (0.08, 0.4),
    "buttermilk": (0.3, 0.9),
    "natural-cocoa": (0.08, 0.25),
    "cornstarch": (0.08, 0.25),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """What one way of rounding made of one amount."""

    error: Fraction
    terms: int  # cup, tablespoon, teaspoon named
    scoops: Fraction  # times a measure is filled


Formula = tuple[FoodAmount, ...]


def random_formulas(larder: Larder, number: int = FORMULAS) -> list[Formula]:
    """Bakery formulas of three to seven governing ingredients, in whole grams."""
    chance = random.Random(SEED)
    found = []
    for _ in range(number):
        flour = chance.randrange(150, 800)
        shares = chance.sample(sorted(REST), chance.randint(2, 6))
        grams = {chance.choice(FLOURS): flour}
        grams |= {key: max(round(flour * chance.uniform(*REST[key])), 1) for key in shares}
        found.append(tuple(_subject(larder, key, weight) for key, weight in grams.items()))
    return found


def _subject(larder: Larder, key: str, grams: int) -> FoodAmount:
    return FoodAmount(amount=quantity(grams, units()["gram"]), food=larder.foods[key])


def demo_formulas(larder: Larder) -> list[Formula]:
    """The governing ingredients of each part of the demo collection, as weights."""
    found = []
    for path in sorted((ROOT / "recipes").glob("*/recipe.yaml")):
        recipe, _ = read_recipe(path.parent.name, path.read_bytes(), path.name, larder)
        for part in recipe.parts if recipe else ():
            formula = tuple(
                _in_grams(larder, line.food.key, line.amount)
                for line in part.ingredients
                if line.amount and line.food and _counts(line.amount, role_class(line.food))
                if _subject(larder, line.food.key, 1).density
            )
            if len(formula) > 1:
                found.append(formula)
    return found


def _counts(amount: Quantity, role: str) -> bool:
    measured = amount.dimension in {Dimension.MASS, Dimension.VOLUME}
    return role == "governing" and measured and not amount.is_range


def _in_grams(larder: Larder, key: str, amount: Quantity) -> FoodAmount:
    subject = _subject(larder, key, 1)
    if amount.dimension is Dimension.MASS:
        return replace(subject, amount=amount)
    dense = subject.density
    assert dense is not None
    return replace(subject, amount=dense.mass(amount))


# --- ways to round --------------------------------------------------------------------------------------


def single_measures(house: House) -> tuple[Candidate, ...]:
    """The house's volumes of one measure: what a cook reaches for who converts line by line."""
    return tuple(one for one in us_volumes(house.ladders) if len(one.terms) == 1)


def nearest_single(formula: Formula, house: House) -> list[Line]:
    """Each amount by itself to the nearest single measure."""
    lines = []
    for subject in formula:
        dense = subject.density
        assert dense is not None
        exact = subject.exact / dense.grams
        best = min(single_measures(house), key=lambda one: abs(one.value - exact))
        lines.append(Line(error=best.value / exact - 1, terms=1, scoops=_scoops(best.terms)))
    return lines


def _ways(formula: Formula, house: House) -> list[list[Printable]]:
    """What spoons and cups can print of each amount."""
    every = (us_printables(one, house, house.tolerances["governing"]) for one in formula)
    return [[way for way in few if way.on_ladder] for few in every]


def joint(formula: Formula, house: House, limit: Fraction) -> list[Line] | None:
    """All amounts together inside ``limit``; None where no choice fits."""
    ways = _ways(formula, house)
    options = [[Option(error=way.error, cost=way.cost) for way in few] for few in ways]
    if not all(options):
        return None
    choice = choose(options, limit)
    return [_line(few[pick]) for few, pick in zip(ways, choice.picks, strict=True)] if choice else None


def best_effort(formula: Formula, house: House, limit: Fraction) -> list[Line] | None:
    """`joint`, else the least drift there is, as the card prints it beside its finding."""
    ways = _ways(formula, house)
    options = [[Option(error=way.error, cost=way.cost) for way in few] for few in ways]
    return joint(formula, house, max(limit, least_drift(options))) if all(options) else None


def _line(way: Printable) -> Line:
    terms = way.printed.low
    return Line(error=way.error, terms=len(terms), scoops=_scoops(terms))


def _scoops(terms: tuple[Term, ...]) -> Fraction:
    return sum((_times(term.number) for term in terms), Fraction(0))


def _times(number: Fraction) -> Fraction:
    """1½ cups is two fillings: the whole one and the half."""
    whole, part = divmod(number, 1)
    return Fraction(whole + bool(part))


# --- the table ------------------------------------------------------------------------------------------


def row(name: str, formulas: list[Formula], round_one: Callable[[Formula], list[Line] | None]) -> str:
    """One row of the table; a formula without a choice is left out of it and counted in the last column."""
    rounded = [round_one(formula) for formula in formulas]
    held = [lines for lines in rounded if lines is not None]
    drifts = [float(drift([line.error for line in lines])) for lines in held]
    lines = [line for few in held for line in few]
    cells = (
        name,
        f"{statistics.median(drifts):.1%}",
        f"{statistics.quantiles(drifts, n=20)[-1]:.1%}",
        f"{max(drifts):.1%}",
        f"{statistics.mean(line.terms for line in lines):.2f}",
        f"{statistics.mean(float(line.scoops) for line in lines):.2f}",
        f"{len(held) / len(formulas):.0%}",
    )
    return f"| {' | '.join(cells)} |"


def table(title: str, formulas: list[Formula], house: House) -> Iterator[str]:
    """The Markdown table for one set of formulas."""
    yield f"**{title}** ({len(formulas)})\n"
    heads = (
        "US column",
        "median drift",
        "19 of 20 within",
        "worst",
        "measures a line",
        "fillings a line",
        "held",
    )
    yield f"| {' | '.join(heads)} |"
    yield f"| --- |{' ---: |' * (len(heads) - 1)}"
    yield row("nearest single measure", formulas, lambda one: nearest_single(one, house))
    for limit in LIMITS:
        yield row(
            f"together, limit {float(limit):.0%}", formulas, lambda one, to=limit: joint(one, house, to)
        )
    limit = house.ratio_limit
    yield row(
        f"together, {float(limit):.0%} or the least there is",
        formulas,
        lambda one: best_effort(one, house, limit),
    )
    yield ""


def main() -> None:
    """Print both tables."""
    house, larder = load_house(ROOT), load_larder()
    for title, formulas in (
        ("Random bakery formulas", random_formulas(larder)),
        ("Demo collection, by part", demo_formulas(larder)),
    ):
        print("\n".join(table(title, formulas, house)))  # noqa: T201 - the script's purpose


if __name__ == "__main__":
    main()
