"""What a long search once broke, kept as cases."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.finding import Where
from cardsmith.flow import prepare
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.fields.steps import read_step

ROOT = Path(__file__).parents[2]
LARDER, HOUSE, WHERE = load_larder(), load_house(ROOT), Where(file="x", line=1, column=1)
RECIPE = "title: x\n{field}: {text}\ningredients: [200 g flour]\nsteps: [Mix.]\n"


@pytest.mark.parametrize(
    "text", ["Add 0 g sugar.", "Add 0 cups of oil.", "0 to 5 g", "0 oz (0 g)", "[0 g](#a)"]
)
@pytest.mark.parametrize("field", ["headnote", "storage"])
def test_nothing_of_something_has_no_share_to_print(field: str, text: str) -> None:
    prepared = prepare("x", RECIPE.format(field=field, text=f"'{text}'").encode(), "x", LARDER, HOUSE)
    assert prepared.recipe is not None


@pytest.mark.parametrize("text", ["Add 0 g sugar.", "Add 0 cups of oil.", "Add 0 to 5 g sugar."])
def test_nothing_in_a_step_is_an_error(text: str) -> None:
    _, findings = read_step(text, WHERE)
    assert [(one.name, one.severity.value) for one in findings] == [("unreadable-amount", "error")]


def test_nothing_at_the_end_of_a_line_is_an_error_too() -> None:
    _, findings = read_line("sugar, 0 g", WHERE, LARDER)
    assert [(one.name, one.severity.value, one.where.column) for one in findings] == [
        ("unreadable-amount", "error", 8)
    ]


def test_what_is_wrong_with_an_amount_at_the_end_is_told_too() -> None:
    _, findings = read_line("butter, 1,5 lb", WHERE, LARDER)
    assert "decimal-comma" in {one.name for one in findings}


def test_cold_and_no_time_are_measures() -> None:
    _, findings = read_step("Chill to 0 °C.", WHERE)
    assert findings == ()
