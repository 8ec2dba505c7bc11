from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from cardsmith.check.formula.readings import likely_meaning, readings
from tests.check.bench import ingredient


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("2¼ tbsp baking powder", {"2¼ tsp"}),
        ("38 g fine salt", {"3.8 g", "380 g", "38 oz"}),
        ("1 cup dried thyme", {"1 Tbsp", "1 tsp"}),
        ("85 tbsp unsalted butter", {"85 g"}),
        ("2 to 3 lb potatoes", {"2 to 3 kg", "2 to 3 oz"}),
        ("10 g fresh yeast", {"10 g dry yeast", "1 g"}),
    ],
)
def test_what_else_a_line_may_mean(line: str, told: set[str]) -> None:
    found = {one.told.lower() for one in readings(ingredient(line))}
    assert {one.lower() for one in told} <= found


@pytest.mark.parametrize("line", ["½ cup plus 1 tbsp honey", "a pinch of fine salt", "3 large eggs"])
def test_what_has_no_other_meaning(line: str) -> None:
    assert list(readings(ingredient(line))) == []


def near(grams: Fraction, usual: Fraction) -> Fraction | None:
    return max(grams / usual, usual / grams)


@pytest.mark.parametrize(
    ("line", "usual", "meant"),
    [
        (
            "3 tbsp fine salt",
            18,  # SR 28, food 02047: 6 g to a teaspoon
            "another spoon",
        ),
        ("38 g fine salt", 4, "a decimal point"),
        ("4 oz baking soda", 4, "another unit"),
        ("200 g all-purpose flour", 600, ""),
    ],
)
def test_nearest_reading_wins(line: str, usual: int, meant: str) -> None:
    found = likely_meaning(ingredient(line), lambda grams: near(grams, Fraction(usual)))
    assert (found.slip if found else "") == meant


@pytest.mark.parametrize("line", ["1 tsp fine salt", "2 tbsp granulated sugar", "1 cup dried thyme"])
def test_a_spoon_is_no_gram(line: str) -> None:
    assert not any(one.told.endswith((" g", " mL")) for one in readings(ingredient(line)))


@given(some.integers(1, 400))
def test_a_reading_is_never_what_was_written(amount: int) -> None:
    line = ingredient(f"{amount} g fine salt")
    assert all(one.grams > 0 and one.grams != amount for one in readings(line))
