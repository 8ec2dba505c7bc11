"""What a cook makes of the list is no stranger in it, and what nobody could make of it is one."""

from __future__ import annotations

import pytest

from cardsmith.measure.larder import load_larder
from cardsmith.recipe.mentions.made_foods import is_made

LARDER = load_larder()


def food(name: str):  # type: ignore[no-untyped-def]
    match = LARDER.find(name)
    assert match is not None, name
    return match.food


@pytest.mark.parametrize(
    ("made", "listed", "told"),
    [
        ("chicken stock", ["water", "chicken thighs"], True),
        ("chicken stock", ["water", "sugar"], False),
        ("mayonnaise", ["egg yolk", "sunflower oil"], True),
        ("mayonnaise", ["mustard", "sunflower oil"], False),
        ("bacon", ["pork belly", "pink curing salt"], True),
        ("bacon", ["pork belly", "fine salt"], False),
        ("sauerkraut", ["white cabbage", "fine salt"], True),
        ("raspberry jam", ["plums", "granulated sugar"], True),  # a jam; the title check asks for raspberries
        ("unsalted butter", ["all-purpose flour", "heavy cream"], False),
        ("corn syrup", ["water", "granulated sugar"], False),
    ],
)
def test_what_the_list_can_become(made: str, listed: list[str], told: bool) -> None:
    assert is_made(food(made), [food(one) for one in listed]) is told
