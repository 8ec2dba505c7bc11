"""What a printed percentage says of the grams."""

from __future__ import annotations

import pytest

from cardsmith.portion.teardown.programme import feasible
from tests.portion.teardown.drawn import taken


@pytest.mark.parametrize(
    ("item", "least", "most"),
    [
        ("rolled oats (14 %)", 13.5, 14.5),
        ("rolled oats (4.5 %)", 4.25, 4.75),
        ("rolled oats (14 to 16 %)", 13.5, 16.5),
        ("rolled oats (at least 60 %)", 59.5, None),
        ("rolled oats (<5 %)", None, 5),
    ],
)
def test_a_percentage_is_of_the_finished_food_and_rounded(
    item: str, least: float | None, most: float | None
) -> None:
    text = f"product: A\nlaw: EU\ningredients: [honey, {item}, olive oil]\nloss: 10 to 20 %\n"
    found = feasible(taken(text.replace("honey, rolled oats (at", "rolled oats (at")))
    bounds = next(bounds for one, bounds in found.ranges if one.text == "rolled oats")
    if least is not None:
        assert bounds.least == pytest.approx(least)
    if most is not None:
        assert bounds.most == pytest.approx(most)
