"""A line that brings a further food with an amount of its own becomes a line for each."""

from __future__ import annotations

import pytest

from cardsmith.finding import Severity, Where
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.fields.lines import read_lines

APART = [
    ("1 egg, beaten with 1 tbsp milk", [("1", "egg"), ("1 tbsp", "milk")]),
    ("2 tsp cornflour mixed to a paste with 1 tbsp water", [("2 tsp", "cornflour"), ("1 tbsp", "water")]),
    ("25 g dried porcini, soaked in 300 ml water", [("25 g", "dried porcini"), ("300 ml", "water")]),
    ("10 g powdered gelatin, bloomed in 50 g water", [("10 g", "powdered gelatin"), ("50 g", "water")]),
    ("1 cup dried chickpeas soaked in 3 cups water", [("1 cup", "dried chickpeas"), ("3 cups", "water")]),
    ("1 onion, stuck with 4 cloves", [("1", "onion"), ("4 cloves", "cloves")]),
    ("1 egg and 1 tbsp milk for the egg wash", [("1", "egg"), ("1 tbsp", "milk")]),
    ("1 onion and 2 carrots, chopped", [("1", "onion"), ("2", "carrots")]),
    ("2 eggs plus 1 yolk", [("2", "eggs"), ("1", "yolk")]),
    ("1 tbsp chopped dill, plus 3 sprigs", [("1 tbsp", "chopped dill"), ("3 sprigs", "fresh dill")]),
    ("50 g butter, plus 1 tablespoon flour for the pan", [("50 g", "butter"), ("1 tablespoon", "flour")]),
]  # fmt: skip
ASKED = [
    "100 g sugar, plus 2 tbsp",  # one amount, in two
    "1 tbsp ground ginger, 1 tsp cinnamon",  # two lines typed as one
    "1 kg potatoes in 2 litres water",  # nothing says what was done
    "salt and 1 tsp pepper",
    "1 cup milk and 1 cup cream, or 2 cups half-and-half",  # instead of which?
]


@pytest.mark.parametrize(("text", "wanted"), APART)
def test_each_has_a_line_with_its_amount(text: str, wanted: list[tuple[str, str]]) -> None:
    lines, findings = read_lines(text, Where(file=""), load_larder())
    assert findings == ()
    assert [(one.amount.written if one.amount else "", one.item) for one in lines] == wanted
    assert all(one.food is not None for one in lines)


@pytest.mark.parametrize("text", ASKED)
def test_what_cannot_be_told_apart_is_asked(text: str) -> None:
    _, findings = read_lines(text, Where(file=""), load_larder())
    assert [one.severity for one in findings] == [Severity.ERROR]


def test_what_goes_in_is_named_where_its_amount_stood() -> None:
    lines, _ = read_lines("1 egg, beaten with 1 tbsp milk and 1 tsp water", Where(file=""), load_larder())
    assert [one.prep for one in lines] == ["beaten with the milk and the water", "", ""]


def test_what_stands_behind_the_second_is_of_both() -> None:
    lines, _ = read_lines("1 onion and 2 carrots, chopped, to serve", Where(file=""), load_larder())
    assert [(one.prep, one.for_use) for one in lines] == [("chopped", "to serve")] * 2


def test_an_amount_behind_two_foods_is_not_written_twice() -> None:
    line = "½ cup butter and 1 tbsp oil, melted, plus 1 tsp for the pan"
    lines, _ = read_lines(line, Where(file=""), load_larder())
    assert [len(one.extras) for one in lines] == [0, 1]
    assert [one.own_prep for one in lines] == ["melted", "melted"]
