"""What keeps two trials apart, what is one formula at another size, and what a factor's value is."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.bench.model import Factor, FactorKind, Trials
from cardsmith.bench.next.factors import HEAT, TIME, is_only_heat, setting, size_of
from tests.bench.trial_samples import trials

FIRST = """\
trials:
  - trial: 1
    date: 2026-03-02
    cook: L. Fen
    oven: {name: oven A, set: 160 °C, offset: +12 °C}
    ingredients: [200 g rye flour, 120 g water, 30 g olive oil, 4 g fine salt, caraway seeds]
    process: ["09:10 bake at 160 °C", "09:36 out"]
"""


def two(second: str, more: str = "") -> Trials:
    return trials(FIRST + f"  - trial: 2\n    date: 2026-03-03\n    {second}\n" + more)


def water(found: Trials) -> Factor:
    line = next(line for line in found.trials[0].ingredients if line.item == "water")
    return Factor(name="water", kind=FactorKind.FOOD, line=line)


SAME = """cook: L. Fen
    oven: {name: oven A, set: 160 °C, offset: +12 °C}
    process: ["09:10 bake at 160 °C", "09:36 out"]"""
HALF = "ingredients: [100 g rye flour, 50 g water, 15 g olive oil, 2 g fine salt, caraway seeds]\n    "


@pytest.mark.parametrize(
    ("second", "alike"),
    [
        ("from: 1\n    change: [100 g water]\n    " + SAME, True),
        (
            "ingredients: [100 g rye flour, 50 g water, 15 g olive oil, 2 g fine salt, caraway seeds]\n    "
            + SAME,
            True,
        ),
        ("from: 1\n    change: [5 g fine salt]\n    " + SAME, False),
        ("from: 1\n    change: [add 10 g honey]\n    " + SAME, False),
        ("from: 1\n    change: [without caraway seeds]\n    " + SAME, False),
        ("from: 1\n    method: [Rest for 1 hour.]\n    " + SAME, False),
        ("from: 1\n    method: [Bake at 160 °C for 26 minutes.]\n    " + SAME, True),
        ("from: 1\n    " + SAME.replace("L. Fen", "B. Marl"), False),
        ("from: 1\n    " + SAME.replace("oven A", "oven B"), False),
        ("from: 1\n    " + SAME.replace("+12", "+10"), False),
        ("from: 1\n    " + SAME.replace("set: 160", "set: 150"), False),
        ("from: 1\n    " + SAME.replace("09:36", "09:38"), False),
        ("from: 1\n    " + SAME.replace(", offset: +12 °C", ""), False),  # nobody knows whether it differed
        ("from: 1\n    cooked_from: us\n    " + SAME, False),
    ],
)
def test_trials_are_alike_only_where_nothing_but_the_factors_differs(second: str, alike: bool) -> None:
    found = two(second)
    one, other = (setting(found, trial, [water(found)], found.trials[0]) for trial in found.trials)
    assert (one.alike == other.alike) is alike


@pytest.mark.parametrize("old", ["set: 160", "09:36"])
def test_heat_and_time_keep_none_apart_where_they_are_factors(old: str) -> None:
    found = two("from: 1\n    " + SAME.replace(old, {"set: 160": "set: 150", "09:36": "09:40"}[old]))
    one, other = (setting(found, trial, [HEAT, TIME], found.trials[0]) for trial in found.trials)
    assert one.alike == other.alike
    assert one.values == (172, 26)
    assert other.values == ((162, 26) if old == "set: 160" else (172, 30))


@pytest.mark.parametrize(
    ("formula", "size"),
    [
        ("[100 g rye flour, 70 g water, 15 g olive oil, 2 g fine salt]", 2),
        ("[100 g rye flour, 70 g water, 15 g olive oil, 3 g fine salt]", 2),  # the salt alone was changed
        ("[200 g rye flour, 100 g water, 30 g olive oil, 4 g fine salt, 50 g sesame seeds]", 1),
        ("[70 g water]", 1),
    ],
)
def test_a_formula_at_another_size_is_told_by_most_of_its_mass(formula: str, size: int) -> None:
    found = two(f"ingredients: {formula}")
    assert size_of(found.trials[1], found.trials[0], [water(found)]) == Fraction(size)


@pytest.mark.parametrize(
    ("text", "only"),
    [
        ("Bake at 150 °C for 30 minutes.", True),
        ("Bake for 30 minutes longer", True),
        ("Bake at 150 °C for 30 minutes, turning the pans halfway.", False),
        ("Rest the dough for 30 minutes.", False),
        ("Bake longer.", False),
    ],
)
def test_a_method_that_says_only_heat_and_time(text: str, only: bool) -> None:
    assert is_only_heat(text) is only
