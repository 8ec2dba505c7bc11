"""Portions that cannot be, and near misses."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.check.records.portions import portion_bounds
from cardsmith.finding import Severity
from cardsmith.recipe.model import Recipe, Text, Yield
from cardsmith.reference import table
from tests.check.bench import HERE, found, recipe

CAKE = ("250 g all-purpose flour", "200 g unsalted butter", "200 g granulated sugar", "150 g egg")
SOUP = ("500 g carrots", "1 kg water", "30 g unsalted butter", "12 g fine salt")


def serves(number: int) -> Yield:
    many = Fraction(number)
    told = Text(text=str(number), where=HERE)
    return Yield(where=HERE, serves=told, serves_low=many, serves_high=many)


STIR = "Stir everything together."


def of(*lines: str, kind: str, people: int, title: str = "A dish", step: str = STIR) -> Recipe:
    return recipe(list(lines), [step], kind=kind, yields=serves(people), title=title)


# By SR 28 the cake holds 910 + 1434 + 774 + 215 = 3,333 kcal, the soup some 400 kcal and 12 g of salt.
FIRING = [
    ("portion-energy-implausible", of(*CAKE, kind="butter-cake", people=2), "1666 kcal"),
    ("portion-energy-implausible", of(*CAKE, kind="butter-cake", people=40), "holds 83 kcal"),
    ("portion-energy-implausible", of(*SOUP, kind="soup", people=20), "kcal"),
    ("portion-salt-implausible", of(*SOUP[:3], "120 g fine salt", kind="soup", people=6), "g of salt"),
    ("portion-salt-implausible", of(*CAKE, "40 g fine salt", kind="butter-cake", people=8), "4.92 g of salt"),
    (
        "title-food-trace",
        of(*CAKE, "5 g walnuts", kind="butter-cake", people=8, title="Walnut cake"),
        "walnut",
    ),
    ("title-food-trace", of(*SOUP, "10 g red lentils", kind="soup", people=4, title="Lentil soup"), "0.6"),
]

SILENT = [
    ("portion-energy-implausible", of(*CAKE, kind="butter-cake", people=8)),
    ("portion-energy-implausible", of(*SOUP, kind="soup", people=4)),
    # nobody knows what the root holds, so there may be any amount more
    ("portion-energy-implausible", of(*SOUP, "20 g glimmerroot", kind="soup", people=20)),
    ("portion-energy-implausible", of(*CAKE, kind="", people=2)),
    ("portion-salt-implausible", of(*SOUP, kind="soup", people=4)),
    (
        "portion-salt-implausible",
        of("1 kg chicken thighs", "2 kg water", "120 g fine salt", kind="poultry", people=4,
           step="Lay the thighs in the brine overnight, then drain and roast them."),
    ),
    ("portion-salt-implausible", of("1 kg chicken thighs", "12 g fine salt", kind="poultry", people=4)),
    ("title-food-trace", of(*CAKE, "60 g walnuts", kind="butter-cake", people=8, title="Walnut cake")),
    ("title-food-trace", of(*CAKE, "2 g ground mace", kind="butter-cake", people=8, title="Mace cake")),
    ("title-food-trace", of(*CAKE, "4 g baking soda", kind="butter-cake", people=8, title="Soda cake")),
    ("title-food-trace", of(*CAKE, "4 g instant yeast", kind="butter-cake", people=8, title="Yeast cake")),
    ("title-food-trace", of(*SOUP, "red lentils, to taste", kind="soup", people=4, title="Lentil soup")),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "one", "told"), FIRING, ids=lambda value: getattr(value, "title", str(value))
)
def test_a_portion_that_cannot_be_is_questioned(name: str, one: Recipe, told: str) -> None:
    findings = found(name, one)
    assert len(findings) == 1
    assert told in findings[0].what
    assert findings[0].severity is Severity.WARNING


@pytest.mark.parametrize(("name", "one"), SILENT, ids=lambda value: getattr(value, "title", str(value)))
def test_a_portion_that_may_be_is_not(name: str, one: Recipe) -> None:
    assert found(name, one) == ()


def test_bounds_are_known_for_every_kind() -> None:
    assert {row["kind"] for row in table("kinds")} <= set(portion_bounds())


MASSES = [
    (of("1.2 kg unsalted butter", "1 kg carrots", kind="", people=4), Severity.ERROR),
    (of("400 g unsalted butter", "1 kg carrots", kind="", people=4), Severity.WARNING),
    (of("2.4 kg beef chuck", "1 kg carrots", kind="braise", people=4), Severity.WARNING),
    (of("2 kg granulated sugar", "1 kg milk", kind="", people=8), Severity.ERROR),
]

MEANT = [
    of("240 g unsalted butter", "1 kg carrots", kind="", people=4),
    of("240 g unsalted butter", "1 kg duck legs", kind="", people=2, step="Confit the legs in the butter."),
    of("2 litres vegetable oil", "1 kg potatoes", kind="", people=4,
       step="Heat the oil to 180 °C and deep-fry the potatoes for 5 minutes."),
    of("320 g all-purpose flour", "210 g water", kind="", people=2),
]  # fmt: skip


@pytest.mark.parametrize(("one", "severity"), MASSES, ids=lambda value: getattr(value, "title", str(value)))
def test_more_than_anybody_is_served_is_questioned(one: Recipe, severity: Severity) -> None:
    (told,) = found("portion-mass-implausible", one)
    assert told.severity is severity


@pytest.mark.parametrize("one", MEANT, ids=lambda one: one.ingredients[0].text)
def test_what_somebody_is_served_is_not(one: Recipe) -> None:
    assert found("portion-mass-implausible", one) == ()


@pytest.mark.parametrize(
    ("makes", "count", "item", "asked"),
    [("24 bars", 24, "bars", False), ("8 bars", 8, "bars", True), ("3 jars", 3, "jars", False)],
)
def test_pieces_hold_less_than_what_is_served(makes: str, count: int, item: str, asked: bool) -> None:
    told = Yield(
        where=HERE,
        makes=Text(text=makes, where=HERE),
        makes_count=Fraction(count),
        makes_item=item,
    )
    one = recipe(["600 g granulated sugar", "600 g rolled oats"], [STIR], yields=told, title="Bars")
    assert bool(found("portion-mass-implausible", one)) is asked
